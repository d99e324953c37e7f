"""Why no fire may be lit, and why nothing may go on one that burns."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from scheduling.advance.turn import Turn
from scheduling.breakin.availability import Closed
from scheduling.firing.aim import plateau_under
from scheduling.hazard import HAZARDS, Hazard, Stops
from scheduling.journal import Seen, WeatherTold
from scheduling.oven.maturity import Standing
from scheduling.record.crown import start_c
from scheduling.record.facts import Facts
from scheduling.record.hazards import bars_lighting, reach
from scheduling.record.outlook import cure_of
from scheduling.remark import Sky

WEATHER_LASTS = timedelta(hours=3)

AT_ONCE = timedelta(minutes=1)
"""A number told with the word of leaving was read before it."""

A_MOMENT_MINUTES = 15.0
"""Whoever is away no longer than this leaves the fire as it is (own choice)."""

STILL_GOING = timedelta(minutes=20)
"""Who leaves for longer has to let it burn down first, and may read it once more meanwhile."""


def barred(turn: Turn, at: datetime) -> str | None:
    """Why no fire may be lit at that moment; None if it may."""
    record = turn.record
    if record.indoors:
        return "indoors"
    if record.makeup is None:
        return "set_up"
    if record.held is not None:
        return "held"
    if bars_lighting(record.hazards):
        return "trouble"
    cured = cure_of(record, at)
    if cured is None or cured.standing is Standing.FROZEN:
        return "mortar"
    if cured.standing is not Standing.READY:
        return "cure"
    if (closed := _closed(record, record.today(at))) is not None:
        return closed
    if weather_now(turn) in (Sky.GALE,):
        return "weather"
    if record.session is None and _at_its_lid(turn, at):
        return "warm"
    return None


def _closed(record: Facts, day: date) -> str | None:
    """Why nothing may burn on that day: a restriction, or the builder's word, that forbids it or
    wants none before another day."""
    free = record.availability.on(day)
    if free is Closed.RESTRICTED:
        return "restricted"
    early = record.not_before is not None and day < record.not_before
    return "forbidden" if early or free is Closed.FORBIDDEN else None


def _at_its_lid(turn: Turn, at: datetime) -> bool:
    """Whether the dome stands so near to the builder's lid that no fire keeps below it."""
    most_c = plateau_under(turn.record.lid_c)
    return most_c is not None and start_c(turn.record, at) >= most_c


@dataclass(frozen=True, slots=True)
class Bar:
    """What keeps the fire at hand from being one that may burn, for whoever asks about it."""

    why: str
    hazard: Hazard | None = None
    ready_on: date | None = None


def barred_by(turn: Turn) -> Bar:
    """Why the fire that burns must not; ``lit_early`` where only its lighting speaks against it."""
    record = turn.record
    open_ = [one.what for one in record.hazards if HAZARDS[one.what].asked]
    why = "trouble" if open_ else barred(turn, turn.now) or "lit_early"
    cured = cure_of(record, turn.now) if why == "cure" else None
    return Bar(
        why,
        open_[0] if why == "trouble" and open_ else None,
        None if cured is None else cured.ready_on,
    )


def forbidden(turn: Turn) -> str | None:
    """Why no wood may go on, whatever is read."""
    record = turn.record
    if record.indoors:
        return "indoors"
    if record.held is not None:
        return "held"
    reached = reach(record.hazards)
    if reached is not None and reached >= Stops.FIRE:
        return "trouble"
    if reached is Stops.WOOD:
        return "hazard"
    if turn.unheard:
        return "unheard"
    if record.makeup is None:
        return "cure"
    cured = cure_of(record, turn.now)
    if cured is None or cured.standing is not Standing.READY:
        return "cure"
    if (closed := _closed(record, record.today(turn.now))) is not None:
        return closed
    if weather_now(turn) is not None:
        return "weather"
    session = record.session
    if session is not None and (_wood_out(turn) or is_away(turn)):
        return "wood_out" if _wood_out(turn) else "away"
    return None


def weather_now(turn: Turn) -> Sky | None:
    """A gale, or rain on an uncovered oven, said of this hour."""
    said: Sky | None = None
    for one in turn.record.all_of(WeatherTold):
        if turn.now - one.at > WEATHER_LASTS or not one.now:
            continue
        if one.what in (Sky.GALE, Sky.SOAKED) or (one.what is Sky.RAIN and not _roofed(turn)):
            said = one.what
        elif one.what is Sky.DRY:
            said = None
    return said


def _roofed(turn: Turn) -> bool:
    makeup = turn.record.makeup
    return makeup is not None and makeup.cover.value == "roof"


def _wood_out(turn: Turn) -> bool:
    session = turn.record.session
    if session is None:
        return False
    out = [one.at for one in session.seen if getattr(one, "what", "") == "wood_out"]
    return bool(out) and not any(stoke.at > out[-1] for stoke in session.stokes)


def is_away(turn: Turn) -> bool:
    """Somebody said that they leave the fire, and has neither said that they are back nor read
    the dome since."""
    session = turn.record.session
    if session is None:
        return False
    seen = [one for one in session.seen if isinstance(one, Seen)]
    said = [one for one in seen if one.what in ("leaving", "back")]
    if not said or said[-1].what == "back":
        return False
    minutes = said[-1].minutes
    going = AT_ONCE if minutes is not None and minutes <= A_MOMENT_MINUTES else STILL_GOING
    return not any(one.at > said[-1].at + going for one in session.readings)
