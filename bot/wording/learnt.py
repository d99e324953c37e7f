"""Words of what finished ovens taught, on the card and on the record alike."""

from typing import Final

from bot.wording.measures import listed
from scheduling.journal import Learnt

TAUGHT: Final[dict[str, str]] = {
    "taken_up": "how well wood heats it",
    "door_on": "how fast it cools",
}
"""The quantities that can be learnt."""


def learnt_from(ovens: int) -> str:
    """From how many it was learnt: the beginning of a sentence."""
    return f"Learnt from {ovens} finished ovens of this model"


def learnt(entry: Learnt) -> str:
    """What was learnt of the wall, in a sentence; "" where it is nothing."""
    told = {one.quantity for one in entry.narrowed}
    what = listed([words for quantity, words in TAUGHT.items() if quantity in told])
    return f"{learnt_from(entry.ovens)}: {what}." if what else ""
