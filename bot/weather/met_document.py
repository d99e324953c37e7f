"""Reads the JSON of MET Norway's Locationforecast 2.0, as its documentation describes it.

Nothing in the document is trusted: a number outside what weather does is left out and counted
as a flaw, a broken hour is skipped, a whole broken document raises ``UnreadableError``. Steps of
six hours are spread over their hours: rain evenly, air and wind along a straight line.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any

from scheduling.breakin.weather import HOUR, Flaw, FlawKind, HourWeather

LONGEST_STEP_H = 6
MOST_STEPS = 400

BOUNDS: Mapping[str, tuple[float, float, FlawKind]] = {
    "air_temperature": (-90.0, 60.0, FlawKind.ABSURD_AIR),
    "wind_speed": (0.0, 90.0, FlawKind.ABSURD_WIND),
    "wind_speed_of_gust": (0.0, 115.0, FlawKind.ABSURD_WIND),
    "precipitation_amount": (0.0, 300.0, FlawKind.ABSURD_RAIN),
    "probability_of_precipitation": (0.0, 100.0, FlawKind.NOT_A_NUMBER),
    "cloud_area_fraction": (0.0, 100.0, FlawKind.NOT_A_NUMBER),
    "relative_humidity": (0.0, 105.0, FlawKind.NOT_A_NUMBER),
}
"""Plausible range of each quantity: world records with some room."""

UNITS: Mapping[str, tuple[str, ...]] = {
    "air_temperature": ("celsius",),
    "wind_speed": ("m/s",),
    "wind_speed_of_gust": ("m/s",),
    "precipitation_amount": ("mm",),
    "probability_of_precipitation": ("%",),
    "cloud_area_fraction": ("%",),
    "relative_humidity": ("%",),
}


class UnreadableError(ValueError):
    """The document is not a forecast, or holds no usable hour."""


@dataclass(frozen=True, slots=True)
class Document:
    """What could be read: when it was made, its hours, and what was wrong with it."""

    issued_at: datetime
    hours: tuple[HourWeather, ...]
    flaws: tuple[Flaw, ...]


@dataclass(slots=True)
class _Flaws:
    found: dict[FlawKind, Flaw] = field(default_factory=dict)

    def note(self, kind: FlawKind, at: datetime | None, value: float | None = None) -> None:
        known = self.found.get(kind)
        self.found[kind] = (
            Flaw(kind=kind, at=at, value=value)
            if known is None
            else known.model_copy(update={"count": known.count + 1})
        )


def read(document: Any) -> Document:
    """Read a decoded document. Raises UnreadableError."""
    try:
        properties = document["properties"]
        meta, steps = properties["meta"], properties["timeseries"]
        issued_at = _instant(meta["updated_at"])
    except (KeyError, TypeError, ValueError) as error:
        raise UnreadableError("it lacks what every forecast has") from error
    if not isinstance(steps, Sequence) or isinstance(steps, str):
        raise UnreadableError("its timeseries is no list")
    flaws = _Flaws()
    known_units = _units(meta.get("units"), flaws)
    readings: dict[datetime, _Step] = {}
    for step in steps[:MOST_STEPS]:
        one = _step(step, known_units, flaws)
        if one is not None:
            readings.setdefault(one.at, one)
    hours = _hourly([readings[at] for at in sorted(readings)], flaws)
    if not hours:
        raise UnreadableError("it holds no usable hour")
    return Document(issued_at, hours, tuple(flaws.found.values()))


def _instant(text: Any) -> datetime:
    at = datetime.fromisoformat(text)
    if at.tzinfo is None:
        raise ValueError("an instant without a zone")
    return at.astimezone(UTC)


def _units(units: Any, flaws: _Flaws) -> frozenset[str]:
    """The quantities that come in the units known here; a quantity in another is not read."""
    told = units if isinstance(units, Mapping) else {}
    strange = {name for name, fine in UNITS.items() if name in told and told[name] not in fine}
    for _ in strange:
        flaws.note(FlawKind.UNIT_UNKNOWN, None)
    return frozenset(UNITS) - strange


@dataclass(frozen=True, slots=True)
class _Step:
    at: datetime
    instant: Mapping[str, float | None]
    span_h: int
    rain_mm: float | None
    chance: float | None


def _step(step: Any, units: frozenset[str], flaws: _Flaws) -> _Step | None:
    try:
        at = _instant(step["time"])
        data = step["data"]
        details = data["instant"]["details"]
        values = {name: _number(details, name, units, at, flaws) for name in _INSTANT}
        for span, period in ((1, "next_1_hours"), (6, "next_6_hours")):
            if isinstance(data.get(period), Mapping):
                told = data[period].get("details") or {}
                rain = _number(told, "precipitation_amount", units, at, flaws)
                chance = _number(told, "probability_of_precipitation", units, at, flaws)
                return _Step(at, values, span, rain, chance)
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
        flaws.note(FlawKind.UNREADABLE_HOUR, None)
        return None
    return _Step(at, values, 0, None, None)


_INSTANT = (
    "air_temperature",
    "wind_speed",
    "wind_speed_of_gust",
    "cloud_area_fraction",
    "relative_humidity",
)


def _number(
    details: Any, name: str, units: frozenset[str], at: datetime, flaws: _Flaws
) -> float | None:
    value = details.get(name)
    if value is None or name not in units:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        flaws.note(FlawKind.NOT_A_NUMBER, at)
        return None
    low, high, kind = BOUNDS[name]
    if not low <= value <= high:
        negative = name == "precipitation_amount" and value < 0.0
        flaws.note(FlawKind.NEGATIVE_RAIN if negative else kind, at, float(value))
        return None
    return float(value)


def _hourly(steps: Sequence[_Step], flaws: _Flaws) -> tuple[HourWeather, ...]:
    hours: list[HourWeather] = []
    for step, following in pairwise(steps):
        apart = round((following.at - step.at) / HOUR)
        span = min(step.span_h, apart)
        share = step.span_h and 1.0 / step.span_h
        for index in range(span):
            weight = index / apart if apart <= LONGEST_STEP_H else 0.0
            hours.append(_hour(step, following, index, weight, share, flaws))
        if apart > span:
            for _ in range(apart - span):
                flaws.note(FlawKind.MISSING_HOURS, step.at + timedelta(hours=span))
    return tuple(hours)


def _hour(
    step: _Step, following: _Step, index: int, weight: float, share: float, flaws: _Flaws
) -> HourWeather:
    def along(name: str) -> float | None:
        first, second = step.instant[name], following.instant[name]
        if first is None or second is None:
            return first
        return first + (second - first) * weight

    at = step.at + timedelta(hours=index)
    wind, gust = along("wind_speed"), along("wind_speed_of_gust")
    if wind is not None and gust is not None and gust < wind:
        flaws.note(FlawKind.GUST_BELOW_MEAN, at, gust)
        gust = None
    cloud, humidity = along("cloud_area_fraction"), along("relative_humidity")
    return HourWeather(
        at=at,
        air_c=along("air_temperature"),
        wind_ms=wind,
        gust_ms=gust,
        rain_mm=None if step.rain_mm is None else step.rain_mm * share,
        rain_probability=None if step.chance is None else step.chance / 100.0,
        cloud=None if cloud is None else cloud / 100.0,
        humidity=None if humidity is None else min(1.0, humidity / 100.0),
    )
