"""What a lid is held against: every height that a meaning promises, and a dome to play on."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from pydantic import BaseModel

PROMISES = frozenset(
    ("plateau_c", "low_c", "high_c", "aim_c", "expect_c", "limit_c", "changed_from_c", "before_c",
     "aim_before_c", "aim_after_c")
)  # fmt: skip
"""Fields that say how hot it is to get; what was read, and the order itself, may be anything."""


def promised_c(said: object, name: str = "") -> Iterator[float]:
    """Every height in a meaning, or in anything else that people see, that is to be reached."""
    if isinstance(said, BaseModel):
        for field_name in type(said).model_fields:
            yield from promised_c(getattr(said, field_name), field_name)
    elif isinstance(said, tuple | list):
        for one in said:
            yield from promised_c(one, name)
    elif isinstance(said, float | int) and name in PROMISES:
        yield float(said)


@dataclass
class Dome:
    """A crown as a leaking store fed by burning wood, stepped by the minute; no code of the
    product's. ``gain_k_kg`` and ``loss_per_h`` are its own."""

    at: datetime
    gain_k_kg: float
    loss_per_h: float
    top_c: float = 15.0
    burns_h: float = 0.6
    burning_kg: float = 0.0
    peak_c: float = field(default=15.0)

    def put_on(self, kg: float) -> None:
        self.burning_kg += kg

    def until(self, then: datetime) -> float:
        """The crown at that moment."""
        while self.at < then:
            step_h = min(timedelta(minutes=1), then - self.at) / timedelta(hours=1)
            burnt_kg = self.burning_kg * (1.0 - math.exp(-step_h / self.burns_h))
            self.burning_kg -= burnt_kg
            self.top_c += self.gain_k_kg * burnt_kg
            self.top_c -= self.loss_per_h * step_h * (self.top_c - 15.0)
            self.at = min(then, self.at + timedelta(minutes=1))
            self.peak_c = max(self.peak_c, self.top_c)
        return self.top_c
