"""Whom an order is for, where that is not one client: all, those of a town, a day or a state."""

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from bot.understanding.patterns import words

State = Literal["needs", "firing", "planned", "held", "curing"]


@dataclass(frozen=True, slots=True)
class Group:
    """Clients who are meant together: of a ``place``, in a ``state``, whose next fire is due from
    ``first`` to ``last``; of all where nothing of it is said."""

    place: str = ""
    state: State | None = None
    first: date | None = None
    last: date | None = None


_ALL = re.compile(
    r"(?:\b(?:for|of|at|to|from)\s+)?\b(?:"
    r"(?:all|each|every|any(?!\s+(?:more|longer)\b))\b(?:\s+(?:of|my|the|our|them|those|these|other))*"
    r"(?:\s+(?:clients?|ovens?|owners?|customers?))?"
    r"|every ?body|every ?one|any ?body|any ?one|everything|nobody|no ?one)\b(?!\s*(?:clear|well|"
    r"good|right|ok|okay|fine)\b)"
)

_THAT_BURN = re.compile(
    _ALL.pattern + r"\s+(?:(?:who|that|which)\s*(?:'s|is|are)?\s+)?(?:now\s+)?"
    r"(?:burning|firing|lit)\b(?: now)?"
)

_BURNS_NOBODY = re.compile(
    r"^(?:nobody|no ?one)\s+(?:is to |may |should |must |can |will )?"
    r"(?:fires?|burns?|lights?|lit)\b(?: (?:a|the|any|their) (?:fires?|ovens?))?"
)

_STATES: dict[str, State] = {
    "burning": "firing",
    "firing": "firing",
    "lit": "firing",
    "curing": "curing",
    "planned": "planned",
    "waiting": "planned",
    "held": "held",
    "on hold": "held",
}

_STATE = re.compile(r"\b(?:on hold|" + "|".join(one for one in _STATES if " " not in one) + r")\b")
_PLACE = re.compile(r"\b(?:in|around|near|at)\s+(?P<place>.+)$")

FILLING = words(
    "please now again today's it them him her that this the their his its my our your of for on at "
    "to from till until before between than and or a an is are with who whose which who's due fire "
    "fires firing firings oven ovens client clients owner owners degrees degree deg c f celsius "
    "fahrenheit centigrade next more yet then only just so too as well there be lit s"
)
"""Words that may stand in an order and change nothing of it."""


def for_all(text: str) -> tuple[str, Group | None]:
    """The order without the words that make it one for all; None where there are none of them."""
    told = _BURNS_NOBODY.sub("no fire", text)
    if told != text:
        return told, Group()
    burning = _THAT_BURN.sub(" ", text)
    if burning != text:
        return " ".join(burning.split()), Group(state="firing")
    without = _ALL.sub(" ", text)
    return (" ".join(without.split()), Group()) if without != text else (text, None)


def narrowed(group: Group | None, rest: str) -> tuple[Group | None, str]:
    """The group by what else is said of it, and what of ``rest`` says nothing of it."""
    if group is not None and rest == "hold":
        rest = "on hold"
    found = _STATE.search(rest)
    if found is not None:
        rest = " ".join((rest[: found.start()] + rest[found.end() :]).split())
        group = replace(group or Group(), state=_STATES[found.group()])
    place = _PLACE.search(rest)
    if place is not None:
        group = replace(group or Group(), place=place["place"])
        rest = rest[: place.start()].strip()
    elif group is not None and rest and found is None:
        group, rest = replace(group, place=rest), ""
    return group, rest
