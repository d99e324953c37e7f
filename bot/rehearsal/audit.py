"""Looks over the bot's shoulder during a rehearsal: was wood ever asked for on a bad number?"""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

STALE_AFTER = timedelta(minutes=75)
"""The longest stoking interval of the builder, and a quarter of an hour for an answer."""

DOUBTFUL_K = 60.0
"""A number this far above or below the true dome was a flame, a slip or a wrong unit."""


@dataclass(frozen=True, slots=True)
class Fault:
    """Wood asked for when it should not have been."""

    at: datetime
    why: str
    text: str


@dataclass(slots=True)
class Audit:
    """What the owner said last, and every order that leant on it wrongly.

    A number far *below* the truth is the dangerous one, since it asks for more fire; one far
    above it is counted too.
    """

    lit_at: datetime | None = None
    read_at: datetime | None = None
    off_k: float = 0.0
    wood_orders: int = 0
    false_alarms: int = 0
    alarms: int = 0
    faults: list[Fault] = field(default_factory=list)

    def fire_lit(self, at: datetime) -> None:
        """The owner said that the fire is lit: the first wood needs no reading yet."""
        self.lit_at = at

    def number_said(self, at: datetime, said_c: float, true_c: float) -> None:
        """A number was sent while the dome was truly ``true_c``."""
        self.read_at, self.off_k = at, said_c - true_c

    def wood_asked(self, at: datetime, text: str, reads: bool) -> None:
        """The bot asked for wood on a burning fire. Owners without a thermometer have no
        number that could be bad."""
        self.wood_orders += 1
        if not reads:
            return
        since = max((one for one in (self.read_at, self.lit_at) if one), default=None)
        if since is None or at - since > STALE_AFTER:
            self.faults.append(Fault(at, "stale", text))
        elif self.off_k < -DOUBTFUL_K and self.read_at is not None:
            self.faults.append(Fault(at, "doubtful", text))

    def stop_said(self, true_share: float, damage_seen: bool) -> None:
        """The bot called a stop. False if the wall was far from harm and nobody saw any."""
        self.alarms += 1
        if true_share < 0.4 and not damage_seen:
            self.false_alarms += 1
