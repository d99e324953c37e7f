"""How a letter is worded that its reader may have already: read twice it must do no harm.

A danger is said again word for word: nobody may stop to think whether it is meant. At a fire a
second copy could be taken for a second order, so it says that it is the same one. The rest only
says why it may be there twice.
"""

from typing import Final

from scheduling.outcome import Urgency
from scheduling.ports import Parcel

FIRST: Final[dict[Urgency, str]] = {
    Urgency.DANGER: "",
    Urgency.FIRE: "<i>If you have had this already, it is the same word and not a new one: "
    "do nothing twice, put no wood on twice.</i>\n\n",
    Urgency.ANSWER: "<i>I could not see whether this reached you, so it may be here twice.</i>\n\n",
    Urgency.CALM: "<i>I could not see whether this reached you, so it may be here twice.</i>\n\n",
}


def again(parcel: Parcel, urgency: Urgency) -> Parcel:
    """``parcel`` with a first line for a reader who may have had it."""
    return parcel.model_copy(update={"text": FIRST[urgency] + parcel.text})
