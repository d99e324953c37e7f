"""The first meeting: one question after the other, resumable, every answer open to correction."""

from datetime import timedelta

from scheduling.advance import showing
from scheduling.advance.burning import advise
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.advance.ways import take_over
from scheduling.alarm import AlarmName
from scheduling.choice import About, SetUpAnswer
from scheduling.emergency import emergency_number
from scheduling.firing.answers import ASKED, REPLACED, Refused, checked, described
from scheduling.happening import Begun
from scheduling.journal import Answered, Asked, Described, Joined, Opened, Promised, Settled
from scheduling.meaning import (
    CureCountdown,
    FireIndoors,
    InstrumentShort,
    MortarInDoubt,
    NoInstrument,
    Option,
    PhoneAsked,
    PlanTold,
    SecondPersonAsked,
    SettingsShown,
    SetUpNoted,
    SetUpQuestion,
    SetUpRefused,
    StandsIndoors,
    Welcome,
)
from scheduling.outcome import TENDERS, Urgency
from scheduling.oven.maturity import Cure, Standing
from scheduling.oven.preset import shipped
from scheduling.record.outlook import READABLE_MARGIN_K, Outlook
from scheduling.record.standing import Concern

LEFT_OPEN = timedelta(hours=20)
FINAL_C = 400.0

_VALUES: dict[About, tuple[str, ...]] = {
    About.UNITS: ("C", "F"),
    About.SIZE: ("700", "800", "900", "1000", "unknown"),
    About.STANDS: ("sky", "sky+sheet", "sky+beside", "slats", "roof", "roof+beside", "indoors"),
    About.COVER: ("open", "sheet", "roof"),
    About.OPENINGS: (
        "plain+flue",
        "plain+no_flue",
        "insulated+flue",
        "insulated+no_flue",
        "none+flue",
        "none+no_flue",
    ),
    About.DOOR: ("none", "plain", "insulated"),
    About.SHELTER: ("exposed", "part", "sheltered"),
    About.INSTRUMENT: ("330", "400", "550", "800", "none", "unknown"),
    About.DAYS: ("0123456", "56", "01234"),
    About.HOURS: ("7-22", "9-18", "8-14", "12-20"),
    About.SECOND: ("none", "invite"),
}


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
    for about, value in begun.given:
        _note(turn, About(about), value)
    turn.say(
        Welcome(
            name=begun.name,
            builder=begun.builder is not None,
            by=begun.builder_name,
            to_ask=len(_open(turn)),
            own=turn.record.own_words.greeting if turn.record.own_words is not None else "",
        )
    )
    _go_on(turn)


def answer(turn: Turn, said: SetUpAnswer) -> None:
    """An answer: refused with what would be plausible, or noted and the next question asked."""
    correcting = turn.record.makeup is not None
    if turn.record.answers.get(said.about) == said.value and not correcting:
        ask_next(turn)
        return
    if not _note(turn, said.about, said.value):
        _ask(turn, said.about)
        return
    if turn.record.indoors and said.about is About.STANDS:
        _tell_indoors(turn)
    if said.about is About.SECOND and turn.record.answers[About.SECOND] == "invite":
        turn.say(SecondPersonAsked())
    if correcting:
        turn.say(SetUpNoted(about=said.about, value=turn.record.answers[said.about]))
        _describe(turn, first=False)
    else:
        _go_on(turn)


def remind(turn: Turn) -> None:
    """A set-up was left half done: the open question once more, once."""
    if turn.record.makeup is None:
        _ask_first(turn, reminder=True)


def ask_next(turn: Turn) -> None:
    """The next open question, or the settings once there is none."""
    if turn.record.makeup is None:
        _ask_first(turn)
    else:
        turn.say(SettingsShown(answers=_settings(turn)))


def _settings(turn: Turn) -> tuple[tuple[About, str], ...]:
    """All answers that count; of a question that took another's place the newer one, which is
    also offered where only the older was ever asked."""
    answers = turn.record.answers
    shown: dict[About, str] = {}
    for about, value in answers.items():
        newer = REPLACED.get(about)
        if newer is None or newer not in answers:
            shown[about] = value
    return tuple(shown.items())


def correct(turn: Turn, about: About) -> None:
    """Ask one question again, with the answer so far; of two the one that asks today."""
    _ask(turn, REPLACED.get(about, about))


def ask_where_it_stands(turn: Turn) -> None:
    """Of an oven that was described before anybody asked. It opens no question: what is open now
    goes on."""
    makeup = turn.record.makeup
    if makeup is not None and makeup.stands is None:
        turn.say(_question(turn, About.STANDS), TENDERS, Urgency.CALM)


def tell_indoors(turn: Turn) -> None:
    """No fire is led where it stands: why, what to do, and where it stands now is waited for."""
    turn.write(Asked(at=turn.now, what=f"set_up:{About.STANDS}", expect="nothing"))
    turn.say(StandsIndoors(builder_told=turn.record.builder is not None))


def _tell_indoors(turn: Turn) -> None:
    """It came out that it stands indoors: the builder hears of it, and a fire that burns has to
    be left at once."""
    record = turn.record
    told = turn.alert(Concern.INDOORS, record.indoors_since or turn.now)
    if record.session is None:
        turn.say(StandsIndoors(builder_told=told), TENDERS)
        return
    turn.danger(FireIndoors(emergency=emergency_number(record.zone), builder_told=told))
    advise(turn, quietly=True)


def _note(turn: Turn, about: About, value: str) -> bool:
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


def _open(turn: Turn) -> list[About]:
    return [about for about in ASKED if about not in turn.record.answers]


def _go_on(turn: Turn) -> None:
    if _open(turn):
        _ask_first(turn)
    else:
        _describe(turn, first=True)


def _ask_first(turn: Turn, reminder: bool = False) -> None:
    left = _open(turn)
    if left:
        _ask(turn, left[0], reminder)
        if not reminder:
            turn.set(AlarmName.SET_UP, turn.now + LEFT_OPEN)


def _ask(turn: Turn, about: About, reminder: bool = False) -> None:
    turn.write(Asked(at=turn.now, what=f"set_up:{about}", expect="nothing"))
    turn.say(_question(turn, about, reminder))


def _question(turn: Turn, about: About, reminder: bool = False) -> SetUpQuestion:
    own = turn.record.own_constructions
    options = tuple(Option(value=value) for value in _VALUES.get(about, ()))
    if about is About.CONSTRUCTION:
        mine = tuple(
            Option(value=key, title=one.name, told=one.told or None) for key, one in own.items()
        )
        options = mine + tuple(
            Option(value=key, title=preset.title, told=preset.told)
            for key, preset in shipped().presets.items()
        )
    left = len(_open(turn))
    return SetUpQuestion(
        about=about,
        options=options,
        step=min(len(ASKED), len(ASKED) - left + 1),
        steps=len(ASKED),
        known=turn.record.answers.get(about),
        reminder=reminder,
    )


def _describe(turn: Turn, first: bool) -> None:
    """The oven is known: plan, cure, days."""
    record = turn.record
    if first and _open(turn):
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
