"""What a person said, remark by remark; the fire is advised on once, at the end."""

from datetime import datetime, timedelta

from scheduling.advance import (
    after,
    cases,
    days,
    hazards,
    lighting,
    misreading,
    reading,
    signs,
    unsettled,
)
from scheduling.advance.burning import advise, measures
from scheduling.advance.confirming import confirm_open
from scheduling.advance.questions import not_understood, question
from scheduling.advance.setup import ask_next
from scheduling.advance.turn import Turn
from scheduling.advance.undo import undo
from scheduling.alarm import AlarmName
from scheduling.firing.aim import Action
from scheduling.firing.session import Session
from scheduling.firing.wood import is_far_more, piece_kg
from scheduling.hazard import HAZARDS, Hazard
from scheduling.journal import Advised, CrackSeen, Noted, WoodPutOn
from scheduling.meaning import Advice, Doubtful, Greeted, NotClear, SkyNow, StokeNoted
from scheduling.meaning import Noted as NotedTold
from scheduling.outcome import TENDERS, Urgency
from scheduling.record import Phase
from scheduling.record.hazards import keeps_away
from scheduling.record.need import phase_of
from scheduling.remark import (
    AllWell,
    Available,
    Crack,
    CrackSize,
    DoorOff,
    DoorOn,
    Doubt,
    FireBan,
    FireOut,
    HazardSaid,
    Later,
    Leaving,
    Lit,
    Looked,
    Misheard,
    NotLit,
    Question,
    Reading,
    Remark,
    Sign,
    Sky,
    SomethingWrong,
    Stoked,
    Topic,
    Unavailable,
    WeatherSaid,
)

ORDER = (
    "misheard", "looked", "all_well", "something_wrong", "hazard", "crack", "fire_ban", "lit",
    "not_lit", "stoked", "weather", "steam", "damp", "smoke", "too_big", "soot_clear",
    "soot_black", "wood_out", "only_embers", "no_thermometer", "leaving", "back", "reading",
    "fire_out", "door_on", "door_off", "unavailable", "available", "yes", "no", "later",
    "stop_nudges", "question", "greeting", "thanks", "undo",
)  # fmt: skip
"""Danger before facts, facts before the reading that is advised on, questions last."""

FACTS = frozenset(ORDER[ORDER.index("crack") : ORDER.index("leaving")]) | {
    "reading", "fire_out", "door_on", "door_off",
}  # fmt: skip
"""What is kept of a message that tells of a hazard; of the hazard alone is spoken."""

OF_HAZARDS = (Looked, Misheard, AllWell, SomethingWrong)
"""What is answered while a hazard keeps people away."""

SEEN_AND_ASKED = (Topic.SMOKE, Topic.STEAM)
"""Topics that are named as the sign is."""

CRACKED = {Hazard.CRACK, Hazard.CRACK_UNSAID}

SMALL_WORDS = ("greeting", "thanks", "yes", "no")

ADVISED_WITHIN = timedelta(minutes=25)


def speak(
    turn: Turn, remarks: tuple[Remark, ...], doubt: Doubt | None, photo: str | None, text: str
) -> None:
    """Take a whole message."""
    if photo is not None and not any(isinstance(one, Crack) for one in remarks):
        _photo(turn, photo, text)
    told = sorted(remarks, key=lambda one: ORDER.index(one.kind))
    named = tuple(dict.fromkeys(one.hazard for one in told if isinstance(one, HazardSaid)))
    if named:
        _endangered(turn, named, told, photo, text)
        return
    if keeps_away(turn.record.hazards) and not any(isinstance(one, OF_HAZARDS) for one in told):
        with turn.quietly():
            _facts(turn, told, photo)
        hazards.still_stands(turn)
        return
    if not _fire_stands(turn):
        turn.unheard = ""
    if not remarks and photo is None and _is_for_the_builder(turn, doubt):
        # Who hears it answers it: a question back from here would only be in the way.
        _quiet_fire(turn)
        return
    if turn.unheard and turn.record.session is None:
        # Nothing is lit, nor told how to, before they have answered.
        with turn.quietly():
            _facts(turn, told, photo)
        unsettled.unheard(turn)
        return
    pending = _taken(turn, told, remarks, photo)
    if photo is not None and doubt is not None and not _may_be_a_number(doubt):
        doubt = None  # the picture is what they had to say
    if photo is not None and phase_of(turn.record, turn.now) is Phase.SET_UP:
        ask_next(turn)
    if turn.unheard:
        _not_heard(turn, pending=pending)
    elif doubt is not None:
        lit = turn.record.session is not None
        turn.say(NotClear(doubt=_dated(turn, doubt), lit=lit))
        _quiet_fire(turn)
    elif pending:
        advise(turn)
        _ask_what_holds_it(turn)
    elif not remarks and photo is None:
        turn.write(Noted(at=turn.at, by=turn.by, text=text[:500]))
        not_understood(turn)
        _quiet_fire(turn)


def _endangered(
    turn: Turn, named: tuple[Hazard, ...], told: list[Remark], photo: str | None, text: str
) -> None:
    """Hazards first, and alone: of the rest the facts are kept, and nothing is said of them.

    What is no matter of the fire (days, a pause) is answered too where nobody's life is at stake.
    """
    turn.unheard = ""
    hazards.noted(turn, named, text)
    with turn.quietly():
        _facts(turn, told, photo)
    opened = any(isinstance(one, Crack) and one.size is CrackSize.OPEN for one in told)
    hazards.answered(turn, (*named, Hazard.CRACK) if opened else named, text)
    if not any(HAZARDS[one].people for one in named):
        for remark in told:
            if isinstance(remark, Unavailable | Available):
                days.slipping(turn, [remark])


def _facts(turn: Turn, told: list[Remark], photo: str | None) -> None:
    for remark in told:
        if remark.kind in FACTS:
            _take(turn, remark, photo)


def _taken(turn: Turn, told: list[Remark], remarks: tuple[Remark, ...], photo: str | None) -> bool:
    """Every remark of a message. True if a burning fire waits for advice after them."""
    pending = relit = False
    told = [one for one in told if not _is_said_by_another(turn, one, remarks)]
    slipping = [one for one in told if days.slips(turn, one)]
    for remark in told:
        if remark in slipping:
            if remark is slipping[0]:
                days.slipping(turn, slipping)
            continue
        waits = _take(turn, remark, photo)
        if isinstance(remark, Lit):
            relit = waits
        else:
            pending = pending or waits
    session = turn.record.session
    if session is None:
        return False
    return pending or (relit and _burns_unanswered(turn, session))


def _fire_stands(turn: Turn) -> bool:
    """Whether a fire is laid, lit or in embers, so that words not understood may be of it."""
    question = turn.record.question
    laid = question is not None and question.what in ("morning", "light", "is_lit")
    return turn.record.session is not None or laid


def _not_heard(turn: Turn, *, pending: bool) -> None:
    """Words that nobody claimed: what the number asks for is done but for wood, and they are
    asked about."""
    if pending:
        advise(turn)
    unsettled.unheard(turn)


def _ask_what_holds_it(turn: Turn) -> None:
    """Where only an open question keeps wood off, whoever sent a number sees it again."""
    session = turn.record.session
    if session is not None and session.advised[-1:] and session.advised[-1].why == "unheard":
        unsettled.asked_again(turn)


def _is_said_by_another(turn: Turn, remark: Remark, remarks: tuple[Remark, ...]) -> bool:
    """Whether another remark of the message says this and more: a question about what is seen at
    the fire, where what to do answers it; rain, where the oven got wet through; small words."""
    match remark:
        case Question():
            asked = remark.topic in SEEN_AND_ASKED and turn.record.session is not None
            return asked and any(one.kind == remark.topic.value for one in remarks)
        case Sign(kind="yes" | "no"):
            return turn.record.question is None and len(remarks) > 1
        case Sign(kind="greeting" | "thanks"):
            return any(one.kind not in SMALL_WORDS for one in remarks)
        case WeatherSaid(what=Sky.RAIN):
            return remark.model_copy(update={"what": Sky.SOAKED}) in remarks
        case _:
            return False


def _may_be_a_number(doubt: Doubt) -> bool:
    return bool(doubt.choices) or any(one.isdigit() for one in doubt.heard)


def _dated(turn: Turn, doubt: Doubt) -> Doubt:
    """Its numbers with when they were sent: pressed later, they are no newer for that."""
    choices = tuple(
        one.model_copy(update={"at": reading.read_at(turn, one)})
        if isinstance(one, Reading)
        else one
        for one in doubt.choices
    )
    return doubt.model_copy(update={"choices": choices})


def _burns_unanswered(turn: Turn, session: Session) -> bool:
    """A fire lit again, or its time corrected, with nothing told beside it that was answered."""
    return session.died_at is None and not turn.said([Advice, Doubtful, StokeNoted])


def _is_for_the_builder(turn: Turn, doubt: Doubt | None) -> bool:
    """Words of a talk in which nothing is told of the oven."""
    return cases.in_talk(turn) and (doubt is None or doubt.why == "unclear")


def _quiet_fire(turn: Turn) -> None:
    """Somebody is there, if not clear: the silence begins anew, and no advice changes."""
    session = turn.record.session
    if session is not None and not session.ending and session.aim is not None:
        turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
        turn.in_minutes(AlarmName.NUDGE, 10.0)


def _photo(turn: Turn, photo: str, text: str) -> None:
    """A photo: of the crack that was just told of, or kept."""
    last = turn.record.last_of(CrackSeen)
    open_ = {one.what for one in turn.record.hazards}
    if last is not None and last.size is not CrackSize.HAIRLINE and not open_ & CRACKED:
        last = None  # it was looked at: a picture opens nothing again
    if last is not None and last.photo is None and turn.now - last.at < timedelta(hours=1):
        turn.write(CrackSeen(at=turn.at, by=turn.by, size=last.size, photo=photo))
    else:
        turn.write(Noted(at=turn.at, by=turn.by, text=text[:500], photo=photo))
    turn.say(NotedTold(what="photo"))


def _take(turn: Turn, remark: Remark, photo: str | None) -> bool:
    """One remark. True if a burning fire waits for advice after it."""
    match remark:
        case Reading():
            return reading.answered(turn, remark)
        case Lit(at=None) if _wood_is_awaited(turn):
            # "Done, it's on" is of the wood.
            return _stoked(turn, Stoked())
        case Lit():
            return lighting.lit(turn, _when(turn, remark.at))
        case NotLit():
            lighting.not_lit(turn)
        case Stoked():
            return _stoked(turn, remark)
        case FireOut():
            after.fire_out(turn, _when(turn, remark.at))
        case DoorOn() | DoorOff():
            after.door(turn, isinstance(remark, DoorOn))
        case WeatherSaid():
            return _weather(turn, remark)
        case FireBan():
            banned = any(one.what is Hazard.BAN for one in turn.record.hazards)
            if remark.over and banned:
                hazards.close(turn, Hazard.BAN)
            return days.fire_ban(turn, remark)
        case Crack():
            hazards.crack(turn, remark.size or CrackSize.UNSAID, photo)
        case Looked():
            hazards.looked(turn, remark)
        case Misheard():
            misreading.misheard(turn, remark)
        case AllWell():
            unsettled.all_well(turn, remark.since)
        case SomethingWrong():
            unsettled.something_wrong(turn)
        case Leaving():
            signs.leaving(turn, remark.minutes)
        case Later():
            signs.later(turn, remark.minutes)
        case Question():
            question(turn, remark.topic)
        case Sign():
            return _sign(turn, remark)
    return False


def _when(turn: Turn, at: datetime | None) -> datetime:
    """When it happened; never after now."""
    return min(at, turn.now) if at is not None else turn.at


def _stoked(turn: Turn, remark: Stoked) -> bool:
    """Wood went on."""
    record, session = turn.record, turn.record.session
    at = _when(turn, remark.at)
    aim = session.aim if session is not None else None
    kg = remark.pieces * piece_kg(aim.piece_mm) if remark.pieces and aim is not None else None
    if session is None:
        if any(one.day == record.today(turn.now) for one in record.promise):
            # Wood on a fire that nobody said was lit: it burns, then.
            lighting.lit(turn, at)
        else:
            turn.say(StokeNoted(pieces=remark.pieces, unasked=True, read=measures(turn)))
            return False
        session = turn.record.session
        if session is None or session.aim is None:
            return False
    asked = _asked(session, at)
    pieces = remark.pieces
    if asked is not None and asked.kg is not None and asked.pieces:
        # What was asked for may have been thinner than the fire's own pieces.
        pieces = pieces or asked.pieces
        kg = asked.kg * pieces / asked.pieces
    turn.write(
        WoodPutOn(
            at=at,
            by=turn.by,
            pieces=pieces,
            kg=None if kg is None else round(kg, 2),
            advised=asked is not None,
        )
    )
    too_much = asked is not None and is_far_more(pieces, asked.pieces)
    if session.ending or session.aim is None:
        turn.say(StokeNoted(pieces=pieces, unasked=True, too_much=True), TENDERS)
        return True
    minutes = 15.0
    if asked is not None and not too_much:
        # The next look is when it was said to be.
        minutes = asked.minutes or session.aim.stoke_minutes
    minutes = max(10.0, minutes - (turn.now - at) / timedelta(minutes=1))
    turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED, AlarmName.EMBERS)
    next_at = turn.in_minutes(AlarmName.NUDGE, min(minutes, 60.0))
    turn.at_fire(
        StokeNoted(
            pieces=pieces,
            unasked=asked is None,
            too_much=too_much,
            next_at=next_at,
            read=measures(turn),
        )
    )
    return False


def _wood_is_awaited(turn: Turn) -> bool:
    """Whether wood was asked for a moment ago: "done" says that it is on."""
    session = turn.record.session
    return session is not None and _asked(session, turn.at) is not None


def _asked(session: Session, at: datetime) -> Advised | None:
    """What wood put on at ``at`` was asked for by; None if by nothing, or if that was done."""
    asked = next(
        (
            one
            for one in reversed(session.advised)
            if one.action is Action.ADD and at - one.at <= ADVISED_WITHIN
        ),
        None,
    )
    if asked is None or any(stoke.at >= asked.at for stoke in session.stokes):
        return None
    return asked


def _weather(turn: Turn, remark: WeatherSaid) -> bool:
    if not days.at_the_fire(turn, remark):
        return days.soaked(turn, remark)
    days.weather_now(turn, remark)
    makeup = turn.record.makeup
    turn.say(
        SkyNow(
            what=remark.what,
            lit=True,
            wind_ms=remark.wind_ms,
            covered=makeup is not None and makeup.cover.value == "roof",
            stands=None if makeup is None else makeup.stands,
        ),
        TENDERS,
        Urgency.FIRE,
    )
    turn.in_minutes(AlarmName.NUDGE, 15.0)
    return False


def _sign(turn: Turn, remark: Sign) -> bool:
    match remark.kind:
        case "steam" | "damp" | "smoke" | "too_big" | "wood_out":
            return signs.sign(turn, remark.kind)
        case "soot_clear" | "soot_black":
            return after.soot(turn, clear=remark.kind == "soot_clear")
        case "only_embers":
            return after.only_embers(turn)
        case "no_thermometer":
            return signs.no_thermometer(turn)
        case "back":
            signs.back(turn)
        case "yes" if turn.record.question is None and _wood_is_awaited(turn):
            return _stoked(turn, Stoked())
        case "yes" | "no":
            confirm_open(turn, remark.kind == "yes")
        case "stop_nudges":
            signs.stop_nudges(turn)
        case "greeting" | "thanks":
            _greet(turn, remark.kind == "thanks")
        case "undo":
            undo(turn)
    return False


def _greet(turn: Turn, thanks: bool) -> None:
    coming = lighting.coming(turn)
    phase = phase_of(turn.record, turn.now)
    turn.say(
        Greeted(
            thanks=thanks,
            phase=phase.value,
            next_day=None if coming is None else coming.day,
        )
    )
