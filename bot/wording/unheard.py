"""What is said of a message that was kept but could not be worked on."""

from typing import Final

from bot.wording import buttons
from bot.wording.measures import Measures
from bot.wording.speech import Sentences, parcel, says
from scheduling.meaning import UnheardTold
from scheduling.ports import Parcel

UNHEARD: Final = (
    "I kept your message, but could not work on it: a fault of mine. Please say it once more, in "
    "other words. If a fire burns, put nothing on it until I have answered; in any danger leave it "
    "and call your emergency number."
)
"""Needs nothing to be known, and nothing to be rendered."""


def unheard_told(said: UnheardTold, _: Measures) -> Parcel:
    """A message that could not be worked on: what to do instead, and no wood meanwhile."""
    if not said.lit:
        return parcel(UNHEARD)
    danger = [[buttons.sign("Popping, or bits fall", "popping"), buttons.unwell()]]
    if said.reads:
        return parcel(
            "I kept your message, but could not work on it: a fault of mine. Put nothing on the "
            "fire until I know more.",
            "Send me the number at the top, digits alone. If you wrote of something wrong, tap it, "
            "or say it in other words.",
            buttons=danger,
        )
    return parcel(
        "I kept your message, but could not work on it: a fault of mine. Put nothing on the fire "
        "until I know more.",
        "If you wrote of something wrong, tap it, or say it in other words. If all is well, tap "
        "that.",
        buttons=[*danger, [buttons.sign("All is well, I’m here", "back")]],
    )


SENTENCES: Sentences = dict((says(UnheardTold, unheard_told),))
