"""Whom an order names: "hold max", "Max: hold", "cap max and ivy 200", "hold all but max".

A name may be a word of an order as well (Max, May, Hold). So an order is read with and without
each of the names in it, and only what leaves nothing over is a reading.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations

from bot.understanding.calendar_words import MONTHS
from bot.understanding.groups import for_all
from bot.understanding.names import Name, is_whole, names_in, without
from bot.understanding.orders import Ordered, order_with_rest, reason_in
from scheduling.ports import Called

_ORDERING = re.compile(
    r"\b(?:hold|pause|stop|halt|no|not|nobody|never|release|resume|unhold|lift|end|remove|allow|permit"
    r"|open|cap|uncap|max|maximum|limit|lower|raise|keep|drop|cancel|repeat|again|once|take|undo"
    r"|revoke|look|looked|inspected|checked|clear|wait|nothing|move|shift|postpone|put|forbid|ban"
    r"|bar|close|fires?)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Addressed:
    """An order as it may be meant: for the clients of each of ``names``; where there are none for
    whoever is meant without a word, or for its group, without those ``but``."""

    ordered: Ordered
    names: tuple[frozenset[str], ...] = ()
    but: frozenset[str] = frozenset()

    count: int = 0
    """Of names that were taken as names."""

    @property
    def ovens(self) -> frozenset[str]:
        """All who are named."""
        return frozenset().union(*self.names)


@dataclass(frozen=True, slots=True)
class Heard:
    """What a text may order. ``mentioned`` are all whose names occur in it, be it in a reason;
    ``called`` those whose name is the whole text."""

    whole: tuple[Addressed, ...] = ()
    """Readings in which nothing is left open."""
    open: Addressed | None = None
    """The best of those that want a day, a number or another name."""
    mentioned: frozenset[str] = frozenset()
    called: frozenset[str] = frozenset()


def may_order(text: str) -> bool:
    """Whether it is worth looking for an order in it at all."""
    return _ORDERING.search(text) is not None


def heard(text: str, clients: Iterable[Called], unit: str, today: date) -> Heard:
    """How ``text`` can be taken by somebody who knows these clients. ``unit`` and ``today`` as in
    ``order_in``."""
    clients = tuple(clients)
    text = _addressed_in_front(" ".join(text.split()), clients)
    names = [one for one in names_in(text, clients) if not _is_date(text, one)]
    cut = reason_in(text)
    in_order = [one for one in names if cut is None or one.stop <= cut[0]]
    found: list[Addressed] = []
    left_open: list[Addressed] = []
    for count in range(len(in_order), -1, -1):
        for some in combinations(in_order, count):
            told = _read(text, some, unit, today)
            if told is None:
                continue
            kept = found if told.ordered.order is not None and not told.ordered.rest else left_open
            if all(replace(told, count=one.count) != one for one in kept):
                kept.append(told)
    if any(one.ordered.group is not None for one in found):
        # A town may be a part of names. And of all who are left out none may be lost: "all but Max"
        # is not all.
        found = [one for one in found if not one.names] or found
        found = [one for one in found if one.count == max(other.count for other in found)]
    return Heard(
        tuple(found),
        left_open[0] if left_open else None,
        frozenset().union(*(one.ovens for one in names)),
        names[0].ovens if is_whole(text, names) else frozenset(),
    )


def _is_date(text: str, name: Name) -> bool:
    """Whether it is a month with its day, and nobody: "12 May"."""
    if text[name.start : name.stop].lower() not in MONTHS:
        return False
    before, after = text[: name.start], text[name.stop :]
    return bool(re.search(r"\d(?:st|nd|rd|th)?\s*(?:of\s+)?$", before) or re.match(r"\s*\d", after))


def _read(text: str, some: Sequence[Name], unit: str, today: date) -> Addressed | None:
    bare = without(text, some)
    ordered = order_with_rest(bare.text, unit, today)
    if ordered is None or (bare.but and ordered.group is None):
        return None
    but = frozenset().union(*(one.ovens for one in bare.but))
    return Addressed(ordered, tuple(one.ovens for one in bare.named), but, len(some))


def _addressed_in_front(text: str, clients: Sequence[Called]) -> str:
    """With whom it is for as a part of it: "Max: hold" cuts off no reason, nor does "hold, Max"."""
    cut = reason_in(text)
    if cut is None:
        return text
    head, rest = text[: cut[0]], _addressed_in_front(text[cut[1] :], clients)
    if _is_whom(head, clients) and _orders(rest, clients):
        return f"{head} {rest}"
    return f"{head} {rest}" if _is_whom(rest, clients) else text


def _orders(text: str, clients: Sequence[Called]) -> bool:
    """Whether there is an order in it, with its names or without them."""
    anyday = date(2000, 1, 1)
    bare = without(text, names_in(text, clients)).text
    return any(order_with_rest(one, "C", anyday) is not None for one in (text, bare))


def _is_whom(text: str, clients: Sequence[Called]) -> bool:
    names = names_in(text, clients)
    rest, group = for_all(without(text, names).text.lower())
    return (bool(names) or group is not None) and not rest.strip(" .!?")
