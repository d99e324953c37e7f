"""A reading comes in: judged, believed or asked about, then used."""

from dataclasses import replace
from datetime import datetime, timedelta

from scheduling.advance.barring import barred
from scheduling.advance.burning import advise, show_status
from scheduling.advance.lighting import coming, how_to_lay, next_aim
from scheduling.advance.promising import promise
from scheduling.advance.turn import Turn
from scheduling.alarm import AlarmName
from scheduling.breakin.climate import usual
from scheduling.firing.aim import Action
from scheduling.firing.response import response_of
from scheduling.firing.session import crown_c
from scheduling.firing.unit import ASKED_FROM, misread, slipped, turned
from scheduling.journal import Advised, Measured, Settled, Undone
from scheduling.meaning import Doubtful, MorningNoted, ReadingKept, UnitSetRight
from scheduling.outcome import TENDERS
from scheduling.oven.reading import (
    Ask,
    Known,
    Sample,
    Suspicion,
    Verdict,
    judge,
    shell_effusivity,
)
from scheduling.record import Phase, wall
from scheduling.record.calendar import place_of
from scheduling.record.crown import known_of
from scheduling.record.facts import Facts
from scheduling.record.need import phase_of
from scheduling.record.outlook import look_ahead
from scheduling.remark import Reading

TOLD_TOGETHER = timedelta(minutes=5)
"""Two messages so near to each other tell of one look at the dome (own choice)."""

SAME_NUMBER_K = 1.0
"""A number turned into the other unit and back is rounded."""

USUAL_EFFUSIVITY = 1500.0
"""Of a dense shell, until the oven is described (from memory)."""


def measured(turn: Turn, reading: Reading) -> Verdict:
    """Judge a reading and write it down, believed or doubtful."""
    at = read_at(turn, reading)
    sample = Sample(
        at,
        reading.top_c,
        reading.sides_c,
        reading.hearth_c,
        reading.unit_named,
        reading.taken_in or "C",
    )
    entry = Measured(
        at=at,
        by=turn.by,
        top_c=reading.top_c,
        sides_c=reading.sides_c,
        hearth_c=reading.hearth_c,
        approximate=reading.approximate,
        unit_certain=reading.unit_named,
        taken_in=reading.taken_in,
    )
    session = turn.record.session
    doubted = None if session is None else session.doubted
    so_far = known(turn.record, turn.now, at)
    verdict = judge(sample, replace(so_far, unit_doubted=_unit_doubted(turn.record, entry)))
    doubt = {"doubt": verdict.suspicion, "at_least": verdict.at_least}
    turn.write(entry.model_copy(update=doubt))
    if verdict.believed and reading.unit_named:
        _set_right(turn, entry, doubted)
    return verdict


def _unit_doubted(record: Facts, entry: Measured) -> bool:
    """Whether the numbers of the fire fit the other unit better."""
    session = record.session
    if session is None or entry.unit_certain or session.aim is None:
        return False
    return slipped(session, known_of(record, session.lit_at), entry).chance > ASKED_FROM


def _set_right(turn: Turn, named: Measured, doubted: Measured | None) -> None:
    """Once somebody has answered that the number which was asked about was in the other unit:
    numbers of this fire before it that were so too. Nothing else turns a number, least of all one
    that was doubted for another reason."""
    session = turn.record.session
    if session is None or doubted is None or doubted.doubt is not Suspicion.OTHER_UNIT:
        return
    meant_c = turned(doubted).top_c
    if named.top_c is None or meant_c is None or abs(named.top_c - meant_c) > SAME_NUMBER_K:
        return
    wrong = misread(session, known_of(turn.record, session.lit_at), named)
    if not wrong:
        return
    seqs = tuple(one.seq for one in turn.record.live if any(one.entry is two for two in wrong))
    turn.write(Undone(at=turn.now, by=turn.by, seqs=seqs, why="unit"))
    right = {"unit_certain": True, "key": None}
    turn.write(*(turned(one).model_copy(update=right) for one in wrong))
    turn.say(UnitSetRight(readings=len(wrong)))


def read_at(turn: Turn, reading: Reading) -> datetime:
    """When a number was read: as it says itself, else when it was sent; never after now."""
    return min(reading.at or turn.at, turn.now)


def known(record: Facts, now: datetime, at: datetime) -> Known:
    """What is known when a reading of ``at`` comes in.

    A crown is judged by crowns: what was read of sides or floor since makes none possible.
    """
    makeup = record.makeup
    crowns = [one for one in record.readings if one.top_c is not None and one.at <= at]
    before = next((one for one in reversed(crowns) if one.believed), None)
    doubted = next(
        (
            one
            for one in reversed(crowns)
            if not one.believed and (before is None or one.at > before.at)
        ),
        None,
    )
    session = record.session
    return Known(
        now=now,
        burning=session is not None and session.died_at is None,
        air_c=air_c(record, at),
        effusivity=USUAL_EFFUSIVITY if makeup is None else shell_effusivity(makeup),
        instrument=None if makeup is None else makeup.instrument,
        before=None if before is None else _sample(before),
        doubted=None if doubted is None else _sample(doubted),
        expected_c=wall.expected_c(record, at),
        most_c=_most_c(record, at),
    )


def _most_c(record: Facts, at: datetime) -> float | None:
    """The hottest that the crown can be by the wood that was put on since it was last read."""
    session = record.session
    crowns = () if session is None else tuple(o for o in session.believed if o.top_c is not None)
    if session is None or not crowns or at <= crowns[-1].at:
        return None
    last, top_c = crowns[-1], crown_c(crowns[-1])
    if top_c is None:
        return None
    answer = response_of(session, last.at, known_of(record, session.lit_at))
    minutes = (at - last.at) / timedelta(minutes=1)
    fed_kg = sum(one.kg or 0.0 for one in session.stokes if last.at < one.at <= at)
    return answer.peak_c(fed_kg, minutes)


def air_c(record: Facts, at: datetime) -> float:
    """The air at the oven: by the forecast of that hour, else what is usual."""
    forecast = record.forecast
    if forecast is not None:
        hours = forecast.between(at - timedelta(hours=1), at + timedelta(hours=1))
        known = [hour.air_c for hour in hours if hour.air_c is not None]
        if known:
            return known[-1]
    return usual(*place_of(record), record.today(at)).mean_c


def _sample(one: Measured) -> Sample:
    return Sample(
        one.at, one.top_c, one.sides_c, one.hearth_c, one.unit_certain, one.taken_in or "C"
    )


def answered(turn: Turn, reading: Reading) -> bool:
    """Take a reading. True if a burning fire still waits for its advice."""
    late = turn.record.session is not None and turn.record.session.silent is not None
    reading = _with_its_top(turn, reading)
    verdict = measured(turn, reading)
    if not verdict.believed:
        doubtful(turn, verdict, read_at(turn, reading))
        return False
    if turn.record.session is not None:
        if late:
            advise(turn, late=True)
            return False
        return True
    top_c = reading.top_c
    shown = turn.record.last_believed
    if shown is not None and top_c is None:
        top_c = crown_c(shown)
    _unlit(turn, top_c)
    return False


def _with_its_top(turn: Turn, reading: Reading) -> Reading:
    """Sides told right after the top belong to it, and to its time."""
    session = turn.record.session
    last = None if session is None else session.last
    if last is None or last.top_c is None or last.sides_c:
        return reading
    apart = read_at(turn, reading) - last.at
    if reading.top_c is not None or not reading.sides_c or apart > TOLD_TOGETHER:
        return reading
    return reading.model_copy(update={"top_c": last.top_c, "at": last.at})


def doubtful(turn: Turn, verdict: Verdict, at: datetime) -> None:
    """Ask about what was read at ``at``. Nothing is ever added on it."""
    session = turn.record.session
    turn.say(
        Doubtful(
            suspicion=verdict.suspicion,
            ask=verdict.ask or Ask.READ_AGAIN,
            spot=verdict.spot,
            shown_c=verdict.shown_c,
            at=at,
            likely_c=verdict.likely_c,
            possible_c=verdict.possible_c,
            at_least=verdict.at_least,
            lit=session is not None,
            minutes=3.0 if session is not None else None,
        )
    )
    if session is None:
        return
    action = Action.LET_FALL if verdict.at_least else Action.READ_AGAIN
    turn.write(Advised(at=turn.now, action=action, minutes=3.0))
    turn.drop(AlarmName.REPEAT, AlarmName.SILENCE, AlarmName.UNATTENDED)
    next_at = turn.in_minutes(AlarmName.NUDGE, 10.0)
    show_status(turn, action, next_at)


def _unlit(turn: Turn, top_c: float | None) -> None:
    """A reading with no fire: the start of a firing, the morning after one, or just kept."""
    record = turn.record
    question = record.question
    phase = phase_of(record, turn.now)
    asked = question.what if question is not None else ""
    if asked in ("morning", "light") or (
        phase is Phase.FIRING_DAY and _soon(turn) and barred(turn, turn.now) is None
    ):
        if question is not None:
            turn.write(Settled(at=turn.now, what=question.what))
        aim = next_aim(turn)
        if aim is not None and barred(turn, turn.now) is None:
            how_to_lay(turn, aim, top_c)
            return
    if asked == "morning_after" and top_c is not None:
        turn.write(Settled(at=turn.now, what="morning_after"))
        _morning_after(turn, top_c)
        return
    turn.say(ReadingKept(top_c=top_c))


def _soon(turn: Turn) -> bool:
    firing = coming(turn)
    return firing is not None and turn.now >= firing.start - timedelta(hours=3)


def _morning_after(turn: Turn, top_c: float) -> None:
    before = turn.record.promise[0].plateau_c if turn.record.promise else None
    outlook = promise(turn, "reading", look_ahead(turn.record, turn.now))
    following = outlook.next
    after = following.aim.plateau_c if following is not None else None
    changed = before is not None and after is not None and abs(after - before) >= 5.0
    turn.say(
        MorningNoted(
            top_c=top_c,
            next_aim=None if following is None else following.aim,
            next_day=None if following is None else following.day,
            before_c=before if changed else None,
            change="steam" if changed else "as_planned",
        ),
        TENDERS,
    )
