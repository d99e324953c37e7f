"""How long we go on with a letter that does not arrive, and how soon it is tried again, by kind.

What surely did not leave may be tried as often as we like. Where nobody knows whether it arrived,
each further try may be a second copy: for a danger that costs nothing, for calm words it is a
nuisance, so these wait longer. The waits are our own choice.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from scheduling.outcome import Urgency


@dataclass(frozen=True, slots=True)
class Backoff:
    """Waits ``first * factor ** (tries - 1)``, never longer than ``longest``."""

    first: timedelta
    longest: timedelta
    factor: float = 2.0

    def wait(self, tries: int) -> timedelta:
        """How long to wait after the try of that number, counted from 1."""
        # By then anything is longer than the longest, and still a number.
        growth = self.factor ** min(max(tries, 1) - 1, 100)
        seconds = self.first.total_seconds() * growth
        return timedelta(seconds=min(seconds, self.longest.total_seconds()))


@dataclass(frozen=True, slots=True)
class Patience:
    """``not_sent`` and ``in_doubt`` are the waits after a failed try; ``overdue`` is when the
    builder's side is told that it does not arrive, ``give_up`` when it is tried no more; both
    counted from the first try."""

    not_sent: Backoff
    in_doubt: Backoff
    overdue: timedelta
    give_up: timedelta


def _patience(
    not_sent_s: tuple[float, float],
    in_doubt_s: tuple[float, float],
    overdue: timedelta,
    give_up: timedelta,
) -> Patience:
    first, longest = (timedelta(seconds=one) for one in not_sent_s)
    doubtful, slowest = (timedelta(seconds=one) for one in in_doubt_s)
    return Patience(
        Backoff(first, longest, factor=1.6), Backoff(doubtful, slowest), overdue, give_up
    )


PATIENCE: Final[Mapping[Urgency, Patience]] = {
    Urgency.DANGER: _patience((1, 10), (1, 120), timedelta(seconds=30), timedelta(hours=12)),
    Urgency.FIRE: _patience((1, 20), (2, 300), timedelta(minutes=2), timedelta(hours=12)),
    Urgency.ANSWER: _patience((1.5, 60), (4, 1800), timedelta(minutes=10), timedelta(hours=24)),
    Urgency.CALM: _patience((2, 300), (8, 3600), timedelta(hours=1), timedelta(hours=24)),
}
"""Danger in seconds, calm words in minutes."""
