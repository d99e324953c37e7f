"""The weather at the oven, as the wall meets it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property

import numpy as np
import numpy.typing as npt

from scheduling.oven.infrared import KELVIN, STEFAN_BOLTZMANN
from scheduling.oven.makeup import Cover, MakeUp, Shelter

Floats = npt.NDArray[np.float64]

REACHES_DOME = {Shelter.EXPOSED: 0.7, Shelter.PART: 0.45, Shelter.SHELTERED: 0.2}
"""Wind at the dome over wind at 10 m (own choice: a dome stands a metre high, among things)."""

RAIN_REACHES = {Cover.OPEN: 1.0, Cover.SHEET: 0.1, Cover.ROOF: 0.0}
"""Share of the rain that reaches the dome (own choice: sheets flap)."""


@dataclass(frozen=True)
class Surroundings:
    """Series from ``start`` (UTC), one value every ``step``, held beyond both ends.

    ``air_c`` and ``wind_ms`` (at 10 m; the make-up's shelter brings it to the wall) are
    interpolated between values; ``rain_mm_h`` is the mean rate of the step that begins there,
    and beyond the end no rain falls.
    """

    start: datetime
    air_c: Floats
    wind_ms: Floats
    rain_mm_h: Floats
    step: timedelta = timedelta(hours=1)

    def __post_init__(self) -> None:
        if self.start.tzinfo is None:
            raise ValueError("the weather needs a start with its time zone")
        if not len(self.air_c) == len(self.wind_ms) == len(self.rain_mm_h) > 0:
            raise ValueError("the weather needs as many air, wind and rain values, at least one")
        for name in ("air_c", "wind_ms", "rain_mm_h"):
            values = np.asarray(getattr(self, name), dtype=np.float64)
            if not np.isfinite(values).all():
                raise ValueError(f"the weather has holes in {name}; fill them before")
            object.__setattr__(self, name, values)
        if (self.rain_mm_h < 0).any() or (self.wind_ms < 0).any():
            raise ValueError("neither rain nor wind can be negative")

    @classmethod
    def steady(
        cls, air_c: float, wind_ms: float = 2.0, start: datetime = datetime(2000, 1, 1, tzinfo=UTC)
    ) -> "Surroundings":
        """The same dry air all the time."""
        one = np.ones(1)
        return cls(start, air_c * one, wind_ms * one, 0.0 * one)

    @classmethod
    def daily(
        cls,
        mean_c: float,
        low_c: float,
        wind_ms: float,
        start: datetime,
        days: int,
        rain_mm_by_day: Sequence[float] = (),
    ) -> "Surroundings":
        """Days that swing from ``low_c`` at 05:00 UTC to as far above ``mean_c`` at 17:00.

        A day's rain falls evenly over it.
        """
        hours = np.arange(24 * days + 1)
        turn = 2 * np.pi * (hours + start.hour + start.minute / 60 - 17.0) / 24.0
        rain = np.zeros(hours.size)
        for day, amount in enumerate(rain_mm_by_day[:days]):
            rain[24 * day : 24 * (day + 1)] = amount / 24.0
        air = mean_c + (mean_c - low_c) * np.cos(turn)
        return cls(start, air, np.full(hours.size, wind_ms), rain)

    def _at(self, values: Floats, at: datetime) -> float:
        """Straight between two values, held beyond both ends."""
        place = (at - self.start) / self.step
        last = values.size - 1
        if place <= 0 or last == 0:
            return float(values[0])
        if place >= last:
            return float(values[last])
        index = int(place)
        return float(values[index] + (place - index) * (values[index + 1] - values[index]))

    def air_at(self, at: datetime) -> float:
        """Air temperature in °C."""
        return self._at(self.air_c, at)

    def wind_at(self, at: datetime) -> float:
        """Wind at 10 m in m/s."""
        return self._at(self.wind_ms, at)

    def rain_between(self, first: datetime, last: datetime) -> float:
        """Rain that falls from ``first`` to ``last``, in mm."""
        return self._at(self._fallen_mm, last) - self._at(self._fallen_mm, first)

    @cached_property
    def _fallen_mm(self) -> Floats:
        hours = self.step.total_seconds() / 3600.0
        return np.concatenate([[0.0], np.cumsum(self.rain_mm_h * hours)])

    def mean_air_c(self, first: datetime, last: datetime) -> float:
        """Mean air temperature from ``first`` to ``last``."""
        parts = ((last - first) * (i / 48) for i in range(49))
        return sum(self.air_at(first + part) for part in parts) / 49


def outer_film_w_m2k(wind_at_wall_ms: float, air_c: float) -> float:
    """Convection and radiation off the outer face: 4 + 4v + 0.9 · 4σT³ (ISO 6946:2017 Annex C)."""
    radiation = 0.9 * 4.0 * STEFAN_BOLTZMANN * (air_c + KELVIN) ** 3
    return 4.0 + 4.0 * wind_at_wall_ms + radiation


def wind_at_wall_ms(make_up: MakeUp, wind_ms: float) -> float:
    """Wind at the dome, of the wind at 10 m."""
    return REACHES_DOME[make_up.shelter] * wind_ms
