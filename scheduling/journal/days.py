"""Entries about days: weather, who is free, what was promised and asked."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.breakin.weather import Forecast
from scheduling.firing.aim import Aim
from scheduling.journal.base import Written
from scheduling.remark import Sky


class WeatherTold(Written):
    """Weather of a day in somebody's words; ``now`` if said of that very moment."""

    kind: Literal["weather_told"] = "weather_told"
    what: Sky
    day: date
    now: bool = False
    wind_ms: float | None = None


class Foretold(Written):
    """A forecast for the oven's place."""

    kind: Literal["foretold"] = "foretold"
    forecast: Forecast


class DaysSaid(Written):
    """Days, both inclusive, that are free (``free``, from and to these hours) or not."""

    kind: Literal["days_said"] = "days_said"
    first: date
    last: date
    free: bool
    from_hour: float = 0.0
    to_hour: float = 24.0
    firing: bool = False
    """Somebody asked for a firing on just this day."""


class RestrictionSaid(Written):
    """A local fire restriction holds from ``first`` to ``last``; or is over (``over``)."""

    kind: Literal["restriction_said"] = "restriction_said"
    first: date
    last: date
    over: bool = False


class PromisedFiring(Aim):
    """A firing as the owner was told it: its aim, and the day."""

    day: date
    start: AwareDatetime


class Promised(Written):
    """What the owner was told of the days to come; replaces what was promised before."""

    kind: Literal["promised"] = "promised"
    firings: tuple[PromisedFiring, ...]
    why: str = ""
    """``slipped`` counts as a day that the owner let go by; ``barred`` as nobody's."""


class Asked(Written):
    """A question was put to whoever tends the fire; the next one takes its place.

    ``proposal`` names what a yes would do; ``change`` are the entries it would append, as JSON
    of entries (kept as text, since an entry cannot contain its own union).
    """

    kind: Literal["asked"] = "asked"
    what: str
    expect: Literal["nothing", "reading", "yes-no", "lit", "stoked", "day", "door"]
    proposal: str | None = None
    change: tuple[str, ...] = ()


class Settled(Written):
    """The open question was answered, or has passed."""

    kind: Literal["settled"] = "settled"
    what: str
    yes: bool | None = None


class Finished(Written):
    """The break-in is done."""

    kind: Literal["finished"] = "finished"


class Reopened(Written):
    """A finished oven has to be fired gently again: idle, soaked or repaired."""

    kind: Literal["reopened"] = "reopened"
    why: Literal["idle", "soaked", "repaired", "ordered"]
