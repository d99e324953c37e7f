"""The phase of an oven and its most pressing need, at a moment."""

from datetime import datetime, timedelta

from scheduling.firing.session import Session
from scheduling.journal import Alerted, Asked, Promised, Unheard
from scheduling.oven.maturity import Standing
from scheduling.record.facts import Facts
from scheduling.record.hazards import bars_lighting
from scheduling.record.outlook import bounds_of, cure_of
from scheduling.record.standing import (
    NEEDS,
    Concern,
    Need,
    Needed,
    Phase,
    is_danger,
)

FAR_TOO_HOT_K = 40.0
"""Above the band by this much, the builder is told."""

BURNT_OUT = timedelta(hours=12)
"""A charge of wood is ash by then, whoever has not said so (own choice)."""

UNANSWERED = timedelta(hours=12)
UNHEARD_COUNTS = timedelta(hours=24)
SLIPPING_D = 5
"""Days by which the end has moved since it was first told."""

FINAL_C = 400.0


def phase_of(record: Facts, now: datetime) -> Phase:
    """Where in its break-in the oven is."""
    if record.session is not None:
        return Phase.EMBERS if record.session.ending else Phase.LIT
    return _unlit_phase(record, now)


def listed_phase(record: Facts, now: datetime) -> Phase:
    """The same for a list: a fire that nobody has called out, and that cannot burn any more, is
    out."""
    session = record.session
    if session is not None and not may_burn(session, now):
        return _unlit_phase(record, now)
    return phase_of(record, now)


def _unlit_phase(record: Facts, now: datetime) -> Phase:
    if record.is_left:
        return Phase.LEFT
    if record.makeup is None:
        return Phase.SET_UP
    if record.indoors or record.held is not None or bars_lighting(record.hazards):
        return Phase.HELD
    if record.finished:
        return Phase.DONE
    cured = cure_of(record, now)
    if cured is not None and cured.standing is not Standing.READY:
        return Phase.CURING
    if any(one.day == record.today(now) for one in record.promise):
        return Phase.FIRING_DAY if record.last_day_fired() != record.today(now) else Phase.WAITING
    return Phase.WAITING


def may_burn(session: Session, now: datetime) -> bool:
    """Whether a fire that nobody has called out may still burn: nothing does that was neither fed
    nor heard of for so long."""
    stoked = [one.at for one in session.stokes]
    return now - max(session.lit_at, session.heard_at, *stoked) < BURNT_OUT


def needs_of(record: Facts, now: datetime) -> tuple[Needed, ...]:
    """Everything that somebody should look at, the most pressing first."""
    if record.is_left:
        return ()
    found = [Needed(one.what, one.since) for one in record.hazards]
    session = record.session
    if session is not None:
        if session.silent is not None:
            found.append(Needed(Concern.SILENT, session.heard_at))
        if session.last is not None and too_hot(record):
            found.append(Needed(Concern.TOO_HOT, session.last.at))
    if record.indoors_since is not None:
        found.append(Needed(Concern.INDOORS, record.indoors_since))
    found += [Needed(Concern.UNDELIVERED, one.at) for one in record.unreached]
    if (unheard := unheard_since(record, now)) is not None:
        found.append(Needed(Concern.UNHEARD, unheard))
    if record.makeup is not None and not record.finished:
        cured = cure_of(record, now)
        if cured is not None and cured.standing is Standing.FROZEN:
            found.append(Needed(Concern.MORTAR, record.facts[0].at))
        bounds = bounds_of(record)
        if bounds.readable_c is not None and bounds.readable_c < FINAL_C - 25.0:
            found.append(Needed(Concern.INSTRUMENT, record.facts[0].at))
    question = record.question
    if question is not None and holds_up(question) and now - question.at > UNANSWERED:
        found.append(Needed(Concern.WAITING, question.at))
    if question is not None and question.what.startswith("forecast"):
        found.append(Needed(Concern.FORECAST, question.at))
    slipped = _slipped_since(record)
    if slipped is not None:
        found.append(Needed(Concern.SLIPPING, slipped))
    return tuple(sorted(found, key=lambda one: (NEEDS.index(one.what), one.since)))


def holds_up(question: Asked) -> bool:
    """Whether nothing goes on before it is answered: the evening's only asks for a last word."""
    return bool(question.proposal) and not question.what.startswith(("eve:", "soot"))


def at_once(need: Need, *, lit: bool) -> bool:
    """Whether the builder's side is told at once; the rest waits for the morning's digest."""
    return need is Concern.INDOORS or is_danger(need, lit=lit)


def too_hot(record: Facts) -> bool:
    """The fire that burns is far above its band by the last believed reading."""
    session = record.session
    if session is None or session.top_c is None:
        return False
    high_c = session.aim.high_c if session.aim is not None else 100.0
    return session.top_c > high_c + FAR_TOO_HOT_K


def unheard_since(record: Facts, now: datetime) -> datetime | None:
    """Since when message after message could not be worked on; None where it was one at most."""
    lately = [
        one.at for one in record.all_of(Unheard) if not one.words and now - one.at <= UNHEARD_COUNTS
    ]
    return lately[0] if len(lately) > 1 else None


def alerted(record: Facts, need: Need, since: datetime) -> bool:
    """Whether the builder's side has been told of this one."""
    return any(one.needs == need.value and one.at >= since for one in record.all_of(Alerted))


def _slipped_since(record: Facts) -> datetime | None:
    told = [one for one in record.all_of(Promised) if one.firings]
    if len(told) < 2 or record.finished:
        return None
    slip = (told[-1].firings[-1].day - told[0].firings[-1].day).days
    return told[-1].at if slip >= SLIPPING_D else None
