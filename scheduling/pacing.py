"""How fast we may talk, and when we try again: values that decide, without a clock of their own."""

from dataclasses import dataclass
from datetime import timedelta


@dataclass(frozen=True, slots=True)
class Pacing:
    """At most so many messages: to all in a second, to a chat in a second, to a group in a minute.

    Source of the figures: core.telegram.org/bots/faq, "My bot is hitting limits".
    """

    all_per_second: int = 30
    chat_per_second: int = 1
    group_per_minute: int = 20

    def room(self, just_tried: int) -> int:
        """How many more may be tried now, when ``just_tried`` were in the last second."""
        return max(0, self.all_per_second - just_tried)


@dataclass(frozen=True, slots=True)
class Backoff:
    """Waits ``first * factor ** (attempts - 1)``, never longer than ``longest``.

    After ``give_up_after`` from the moment a message could first be sent, it is given up.
    """

    first: timedelta = timedelta(seconds=2)
    factor: float = 2.0
    longest: timedelta = timedelta(minutes=1)
    give_up_after: timedelta = timedelta(hours=24)

    def wait(self, attempts: int) -> timedelta:
        """How long to wait after the attempt of that number, counted from 1."""
        growth = self.factor ** min(max(attempts, 1) - 1, 60)
        return min(self.longest, timedelta(seconds=self.first.total_seconds() * growth))
