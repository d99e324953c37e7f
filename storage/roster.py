"""A builder's list of clients, out of the columns of the cards."""

import unicodedata
from collections.abc import Iterable
from typing import Any

from sqlalchemy import ColumnElement, Select, func, or_, select

from scheduling.ports import RANKS_IN_GROUP, Roster
from storage import tables

_O = tables.ovens


def plain(*texts: str) -> str:
    """Texts as they are searched: without accents, capitals or doubled blanks."""
    parts = unicodedata.normalize("NFKD", " ".join(texts)).casefold()
    return " ".join("".join(c for c in parts if not unicodedata.combining(c)).split())


def conditions(wanted: Roster) -> list[ColumnElement[bool]]:
    """Which ovens are wanted."""
    which: list[ColumnElement[bool]] = [_O.c.builder == wanted.builder]
    if wanted.ranks:
        which.append(or_(*((_O.c.rank >= low) & (_O.c.rank < high) for low, high in wanted.ranks)))
    if wanted.states:
        which.append(_O.c.state.in_(wanted.states))
    if wanted.needs:
        named = (_O.c.open_needs.contains(f" {need} ", autoescape=True) for need in wanted.needs)
        which.append(or_(*named))
    which += [_O.c.find.contains(word, autoescape=True) for word in plain(wanted.text).split()]
    which += [
        _O.c.find_place.contains(word, autoescape=True) for word in plain(wanted.place).split()
    ]
    if wanted.taken_by is not None:
        which.append(_O.c.taken_by == wanted.taken_by)
    if wanted.day is not None:
        which.append(_O.c.next_day == wanted.day)
    return which


def page(columns: Iterable[ColumnElement[Any]], wanted: Roster) -> Any:
    """One page: by group, what nobody has taken first, by rank, the longest in need, then by the
    day of the next fire."""
    return (
        select(*columns)
        .where(*conditions(wanted))
        .order_by(
            _O.c.rank // RANKS_IN_GROUP,
            _O.c.taken_by.is_not(None),
            _O.c.rank,
            _O.c.needs_since.is_(None),
            _O.c.needs_since,
            _O.c.next_day.is_(None),
            _O.c.next_day,
            _O.c.find,
            _O.c.id,
        )
        .offset(wanted.start)
        .limit(wanted.limit)
    )


def count(wanted: Roster) -> Select[int]:
    """How many there are in all."""
    return select(func.count()).select_from(_O).where(*conditions(wanted))
