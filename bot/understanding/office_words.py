"""What a builder types besides orders: lists, names, notes, talk and cases."""

import re
from dataclasses import dataclass
from typing import Literal

from bot.understanding.normalise import normalise
from scheduling.choice import (
    Boarding,
    Casing,
    Choice,
    ClientGroup,
    Command,
    CommandName,
    Jotting,
    Listing,
    Talking,
)

Group = ClientGroup


@dataclass(frozen=True, slots=True)
class Find:
    """Part of a name or a place, perhaps with how they stand; ``sure`` if it was said to be one."""

    text: str
    group: Group = "all"
    sure: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the card that lies open."""

    name: Literal["card", "plan", "picture", "journal", "orders"]


@dataclass(frozen=True, slots=True)
class Town:
    """Where the builder is: their hours follow it."""

    name: str


@dataclass(frozen=True, slots=True)
class Unit:
    """The scale that this builder reads and types."""

    letter: Literal["C", "F"]


@dataclass(frozen=True, slots=True)
class Own:
    """Back to the builder's own oven."""


@dataclass(frozen=True, slots=True)
class Help:
    """What can be typed."""


GREETING = re.compile(r"hi|hello|hey|good (?:morning|evening|afternoon)")
"""Opens the list, but in a talk it is said to the owner."""

Wish = Choice | Find | Part | Town | Unit | Own | Help

_WHOLE: tuple[tuple[str, Wish], ...] = (
    (r"(?:all(?: (?:my |the )?clients)?|(?:my |the )?(?:list|clients)|everybody|everyone|roster|"
     r"back(?: to the list)?|hi|hello|hey|good (?:morning|evening|afternoon))", Listing()),
    (r"(?:who )?needs?(?: (?:me|us|you|help|attention|somebody|looking at))?|attention|troubles?|"
     r"problems?|urgent", Listing(group="needs")),
    (r"(?:who is |who's )?(?:burning|firing|lit)(?: now)?|who burns", Listing(group="firing")),
    (r"(?:planned|coming|to come|next fires?)", Listing(group="planned")),
    (r"(?:who is |who's |who are |all )?on hold|held", Listing(group="held")),
    (r"(?:who is |who's )?curing", Listing(group="curing")),
    (r"done|finished", Listing(group="done")),
    (r"my cases?|mine", Listing(group="mine")),
    (r"(?:all (?:the )?)?fires(?: now| burning)?|board|(?:picture|map) of all(?: fires)?",
     Boarding()),
    (r"(?:i'll |i will |let me )?(?:take|have|got) (?:it|this|that|the case|this one|case)|"
     r"i(?:'m| am) on it|on it", Casing(what="take")),
    (r"(?:hand|give) (?:it |this |the case )?back", Casing(what="hand_back")),
    (r"talk(?: to (?:them|him|her|the owner))?|write to (?:them|him|her|the owner)",
     Talking(what="open")),
    (r"(?:end|stop|leave|finish|close)(?: (?:the|this))? (?:talk(?:ing)?|chat)|done talking|end|"
     r"stop talking", Talking(what="close")),
    (r"(?:the )?plan", Part("plan")),
    (r"(?:the )?picture", Part("picture")),
    (r"(?:the )?(?:journal|notes|history)", Part("journal")),
    (r"(?:the )?orders?", Part("orders")),
    (r"(?:the )?(?:record|paper|pdf)", Command(name=CommandName.RECORD)),
    (r"(?:the )?(?:record )?(?:as )?(?:a )?(?:table|csv)",
     Command(name=CommandName.RECORD, rest="csv")),
    (r"(?:the )?(?:record )?(?:as )?(?:data|json)", Command(name=CommandName.RECORD, rest="json")),
    (r"(?:the )?card|open", Part("card")),
    (r"(?:use |in )?(?:°? ?f|fahrenheit)", Unit("F")),
    (r"(?:use |in )?(?:°? ?c|celsius|centigrade)", Unit("C")),
    (r"my (?:own )?oven", Own()),
    (r"help|\?|what can i (?:type|say|do)\??", Help()),
)  # fmt: skip

_NOTE = re.compile(
    r"(?:note|jot|remember)\b(?P<to> (?:for|to) (?:them|the owner|him|her))?"
    r"\s*[:,-]*\s*(?P<text>.*)",
    re.IGNORECASE | re.DOTALL,
)
_SAY = re.compile(r"(?:say|tell (?:them|him|her|the owner))\s*[:,-]*\s+(?P<text>.+)", re.I | re.S)
_CLOSE = re.compile(
    r"(?:case closed|close (?:the |this )?case|done with (?:it|this|them))\s*[:,.-]*\s*(?P<why>.*)",
    re.IGNORECASE | re.DOTALL,
)
_FIND = re.compile(r"(?:find|open|show|search|who is|where is)\s+(?P<text>.+)", re.IGNORECASE)
_TOWN = re.compile(
    r"(?:my town|my place|my zone|i(?:['’]m| am) in|i live in)(?: is)?\s*:?\s*(?P<name>.+)", re.I
)

_STATES: dict[str, Group] = {
    "curing": "curing",
    "burning": "firing",
    "firing": "firing",
    "lit": "firing",
    "planned": "planned",
    "held": "held",
    "done": "done",
    "finished": "done",
    "needs": "needs",
}


def wish_of(text: str) -> Wish | None:
    """What the builder wants; the last resort is a name to be found, None for nothing at all."""
    typed = text.strip()
    plain = " ".join(normalise(typed).lower().strip(" .!").split())
    plain = plain.rstrip(" ?") or plain
    for pattern, wish in _WHOLE:
        if re.fullmatch(pattern, plain):
            return wish
    if found := _NOTE.fullmatch(typed):
        return Jotting(text=found["text"].strip(), shown=bool(found["to"]))
    if found := _SAY.fullmatch(typed):
        return Talking(what="say", text=found["text"].strip())
    if found := _CLOSE.fullmatch(typed):
        return Casing(what="close", why=found["why"].strip())
    if found := _TOWN.fullmatch(typed):
        return Town(found["name"].strip(" ."))
    sure = _FIND.fullmatch(typed)
    return _find(sure["text"] if sure else typed, sure=sure is not None)


def _find(text: str, *, sure: bool) -> Find | None:
    """A name or a place, with a word for how they stand before or behind it."""
    words = text.strip(" .?!\"'").split()
    if not words or len(words) > 6:
        return None
    for place in (-1, 0):
        group = _STATES.get(words[place].lower())
        if group is not None and len(words) > 1:
            rest = words[:-1] if place else words[1:]
            return Find(" ".join(rest), group, sure=True)
    return Find(" ".join(words), sure=sure)
