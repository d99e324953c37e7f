"""The first meeting: one question after the other, resumable, every answer open to correction."""

from contextlib import suppress
from datetime import timedelta

from scheduling.advance import showing
from scheduling.advance.burning import advise
from scheduling.advance.promising import promise
from scheduling.advance.set_up_questions import as_told, left_to_ask, question_of, settings_of
from scheduling.advance.turn import Turn
from scheduling.advance.ways import take_over
from scheduling.alarm import AlarmName
from scheduling.choice import About, SetUpAnswer
from scheduling.emergency import emergency_number
from scheduling.firing.answers import REPLACED, Refused, checked, described
from scheduling.happening import Begun
from scheduling.journal import (
    Answered,
    Asked,
    Described,
    Joined,
    Modelled,
    Opened,
    Promised,
    Settled,
)
from scheduling.meaning import (
    CureCountdown,
    FireIndoors,
    InstrumentShort,
    MortarInDoubt,
    NoInstrument,
    OwnerSaysOtherwise,
    PhoneAsked,
    PlanTold,
    SecondPersonAsked,
    SettingsShown,
    SetUpNoted,
    SetUpRefused,
    StandsIndoors,
    Welcome,
)
from scheduling.outcome import BUILDER, TENDERS, Urgency
from scheduling.oven.maturity import Cure, Standing
from scheduling.record import Record
from scheduling.record.outlook import READABLE_MARGIN_K, Outlook
from scheduling.record.standing import Concern

LEFT_OPEN = timedelta(hours=20)
FINAL_C = 400.0


def begin(turn: Turn, begun: Begun) -> None:
    """An oven enters the book: welcome, and the first question that is not answered yet."""
    if turn.record.entries:
        ask_next(turn)
        return
    turn.write(
        Opened(at=turn.now, by=begun.person, name=begun.name, builder=begun.builder),
        Joined(at=turn.now, by=begun.person, person=begun.person),
    )
    if begun.constructed is not None:
        turn.write(begun.constructed)
    if begun.limits is not None:
        turn.write(begun.limits)
    if begun.ways is not None:
        take_over(turn, begun.ways)
    if begun.model:
        turn.write(Modelled(at=turn.now, by=begun.given_by, title=begun.model))
    for about, value in begun.given:
        _note_given(turn, About(about), value, begun.given_by)
    turn.say(
        Welcome(
            name=begun.name,
            builder=begun.builder is not None,
            by=begun.builder_name,
            given=settings_of(turn.record),
            to_ask=len(left_to_ask(turn.record)),
            own=turn.record.own_words.greeting if turn.record.own_words is not None else "",
        )
    )
    go_on(turn)


def _note_given(turn: Turn, about: About, value: str, by: str) -> None:
    """What was filled in before the owner came. What can be right no more (a construction that the
    builder has given up) is asked like the rest."""
    with suppress(Refused):
        good = checked(about, value, turn.record.today(turn.now), turn.record.own_constructions)
        turn.write(Answered(at=turn.now, by=by or turn.by, about=about, value=good))


def answer(turn: Turn, said: SetUpAnswer) -> None:
    """An answer: refused with what would be plausible, or noted and the next question asked."""
    correcting = turn.record.makeup is not None
    before = turn.record
    if turn.record.answers.get(said.about) == said.value and not correcting:
        ask_next(turn)
        return
    if not note(turn, said.about, said.value):
        _ask(turn, said.about)
        return
    _tell_builder(turn, before, said.about)
    if turn.record.indoors and said.about is About.STANDS:
        tell_it_stands_indoors(turn)
    if said.about is About.SECOND and turn.record.answers[About.SECOND] == "invite":
        turn.say(SecondPersonAsked())
    if correcting:
        value = as_told(turn.record, said.about, turn.record.answers[said.about])
        turn.say(SetUpNoted(about=said.about, value=value))
        describe(turn, first=False)
    else:
        go_on(turn)


def _tell_builder(turn: Turn, before: Record, about: About) -> None:
    """Their builder had filled in something else: whoever is right, both should know."""
    given = before.answers.get(about)
    theirs = before.answered_by.get(about, "") not in (*before.tenders, "", turn.by)
    told = turn.record.answers[about]
    if given is None or given == told or not theirs or before.builder is None:
        return
    turn.say(
        OwnerSaysOtherwise(
            oven=turn.record.name,
            about=about,
            given=as_told(before, about, given),
            told=as_told(turn.record, about, told),
        ),
        BUILDER,
        Urgency.CALM,
    )


def remind(turn: Turn) -> None:
    """A set-up was left half done: the open question once more, once."""
    if turn.record.makeup is None:
        _ask_first(turn, reminder=True)


def ask_next(turn: Turn) -> None:
    """The next open question, or the settings once there is none."""
    if turn.record.makeup is None:
        _ask_first(turn)
    else:
        turn.say(SettingsShown(answers=settings_of(turn.record)))


def correct(turn: Turn, about: About) -> None:
    """Ask one question again, with the answer so far; of two the one that asks today."""
    _ask(turn, REPLACED.get(about, about))


def ask_where_it_stands(turn: Turn) -> None:
    """Of an oven that was described before anybody asked. It opens no question: what is open now
    goes on."""
    makeup = turn.record.makeup
    if makeup is not None and makeup.stands is None:
        turn.say(question_of(turn.record, About.STANDS), TENDERS, Urgency.CALM)


def tell_indoors(turn: Turn) -> None:
    """No fire is led where it stands: why, what to do, and where it stands now is waited for."""
    turn.write(Asked(at=turn.now, what=f"set_up:{About.STANDS}", expect="nothing"))
    turn.say(StandsIndoors(builder_told=turn.record.builder is not None))


def tell_it_stands_indoors(turn: Turn) -> None:
    """It came out that it stands indoors: the builder hears of it, and a fire that burns has to
    be left at once."""
    record = turn.record
    told = turn.alert(Concern.INDOORS, record.indoors_since or turn.now)
    if record.session is None:
        turn.say(StandsIndoors(builder_told=told), TENDERS)
        return
    turn.danger(FireIndoors(emergency=emergency_number(record.zone), builder_told=told))
    advise(turn, quietly=True)


def note(turn: Turn, about: About, value: str) -> bool:
    """Write an answer down; False, and refused, where it cannot be right."""
    record = turn.record
    try:
        good = checked(about, value, record.today(turn.now), record.own_constructions)
    except Refused as refused:
        turn.say(
            SetUpRefused(
                about=about,
                value=value,
                why=refused.why,
                low=refused.low,
                high=refused.high,
                sentences=refused.sentences,
            )
        )
        return False
    turn.write(Answered(at=turn.now, by=turn.by, about=about, value=good))
    question = turn.record.question
    if question is not None and question.what == f"set_up:{about}":
        turn.write(Settled(at=turn.now, what=question.what))
    return True


def go_on(turn: Turn) -> None:
    """The next open question; the plan once there is none."""
    if left_to_ask(turn.record):
        _ask_first(turn)
    else:
        describe(turn, first=True)


def _ask_first(turn: Turn, reminder: bool = False) -> None:
    left = left_to_ask(turn.record)
    if left:
        _ask(turn, left[0], reminder)
        if not reminder:
            turn.set(AlarmName.SET_UP, turn.now + LEFT_OPEN)


def _ask(turn: Turn, about: About, reminder: bool = False) -> None:
    turn.write(Asked(at=turn.now, what=f"set_up:{about}", expect="nothing"))
    turn.say(question_of(turn.record, about, reminder))


def describe(turn: Turn, first: bool) -> None:
    """The oven is known: plan, cure, days."""
    record = turn.record
    if first and left_to_ask(turn.record):
        return
    try:
        makeup = described(record.answers, record.name, record.own_constructions)
    except Refused as refused:
        turn.say(
            SetUpRefused(
                about=About.THICKNESS if About.THICKNESS in record.answers else About.SIZE,
                value="",
                why=refused.why,
                sentences=refused.sentences,
            )
        )
        _ask(turn, About.SIZE)
        return
    if makeup != record.makeup:
        turn.write(Described(at=turn.now, by=turn.by, makeup=makeup))
    turn.drop(AlarmName.SET_UP)
    before = record.last_of(Promised)
    outlook = promise(turn, "first" if first else "set_up")
    if turn.record.indoors:
        if first:
            tell_indoors(turn)
        return
    if first or before is None or before.firings != turn.record.promise:
        tell_plan(turn, outlook, "first" if first else "set_up")
    if first or (record.makeup is not None and makeup.instrument != record.makeup.instrument):
        _mind_instrument(turn, outlook)
    if first and outlook.cure is not None:
        tell_cure(turn, outlook.cure)
    if first and turn.record.builder is not None:
        turn.say(PhoneAsked())


def tell_plan(turn: Turn, outlook: Outlook, why: str) -> None:
    """The plan in a few lines, with a picture."""
    turn.say(plan_told(turn, outlook, why))


def plan_told(turn: Turn, outlook: Outlook, why: str) -> PlanTold:
    """The plan as it is told."""
    cured = outlook.cure
    answers = turn.record.answers
    return PlanTold(
        lines=showing.lines(outlook),
        why=why,
        ready_on=cured.ready_on if cured and cured.standing is not Standing.READY else None,
        done_by=outlook.done_by,
        preset=answers.get(About.SIZE) == "unknown" or About.THICKNESS not in answers,
    )


def tell_cure(turn: Turn, cured: Cure) -> None:
    """How the mortar stands, unless it is ready."""
    today = turn.record.today(turn.now)
    worst = min(cured.frosts, key=lambda frost: frost.low_c, default=None)
    if cured.standing is Standing.FROZEN and worst is not None:
        turn.say(MortarInDoubt(frost_c=worst.low_c, frost_on=worst.day), TENDERS)
    elif cured.standing is not Standing.READY:
        days = None if cured.ready_on is None else (cured.ready_on - today).days
        turn.say(
            CureCountdown(
                ready_on=cured.ready_on,
                days_left=days,
                strength=round(cured.strength(today), 3),
                held_by=cured.held_by,
                frost_c=None if worst is None else worst.low_c,
                frost_on=None if worst is None else worst.day,
            ),
            TENDERS,
            Urgency.CALM if not turn.by else Urgency.ANSWER,
        )


def _mind_instrument(turn: Turn, outlook: Outlook) -> None:
    """A thermometer that stops short is told now, in time to buy another."""
    makeup = turn.record.makeup
    if makeup is None or not outlook.dated:
        return
    if makeup.instrument is None:
        turn.say(NoInstrument(firings=len(outlook.dated)))
        return
    if makeup.instrument.max_c - READABLE_MARGIN_K >= FINAL_C:
        return
    limited = [one for one in outlook.dated if one.aim.limited_by == "instrument"]
    first = limited[0] if limited else outlook.dated[-1]
    turn.say(
        InstrumentShort(
            max_c=makeup.instrument.max_c,
            needed_c=FINAL_C + READABLE_MARGIN_K,
            firing=first.aim.number,
            needed_on=first.day,
        )
    )
