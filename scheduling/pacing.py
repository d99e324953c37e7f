"""How fast we may talk: a value that decides, without a clock of its own."""

from dataclasses import dataclass


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
