"""Meanings to and from the builder's side."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.meaning.base import Said
from scheduling.meaning.office import JournalLine


class Alert(Said):
    """Somebody needs the builder: ``needs`` as in ``scheduling.record.Need``. One a trouble."""

    kind: Literal["alert"] = "alert"
    needs: str
    since: AwareDatetime
    oven: str = ""
    """The oven's name: its reader looks after many."""
    firing: int | None = None
    lit: bool = False
    top_c: float | None = None
    aim_c: float | None = None
    minutes: float | None = None
    """How long it has been silent, or unanswered."""
    photo: str | None = None
    detail: str = ""
    """The owner's own words, or the reason."""
    looked: bool = False
    """The owner says that they have looked and that it is well."""
    misheard: bool = False
    """The owner says that they told of no such thing: their words were misread."""
    again: int = 0
    """So many times the whole team was told before, and nobody has taken it."""


class SecondTold(Said):
    """To a second person: the fire is lit and the first does not answer; can you look?"""

    kind: Literal["second_told"] = "second_told"
    minutes: float
    top_c: float | None = None


class OrderTold(Said):
    """To the owner: what the builder ordered, in whose name, and why.

    ``what``: ``held``, ``released``, ``capped``, ``limits``, ``repeat``, ``moved``,
    ``forbidden``, ``taken_back``, ``closed`` (a trouble looked at). ``undone`` is the order that
    was taken back; ``stays`` are those that still stand after it. With ``day`` that day was to be
    opened again, and they are what still closes it.
    """

    kind: Literal["order_told"] = "order_told"
    what: str
    by: str
    why: str = ""
    cap_c: float | None = None
    first: date | None = None
    last: date | None = None
    undone: JournalLine | None = None
    day: date | None = None
    stays: tuple[JournalLine, ...] = ()


class OrderTaken(Said):
    """To the builder: the order holds; the owner is told. ``confirmed`` if it was less gentle.
    ``seq`` is its number in the journal, ``undone``, ``day`` and ``stays`` as in ``OrderTold``."""

    kind: Literal["order_taken"] = "order_taken"
    what: str
    oven: str = ""
    cap_c: float | None = None
    first: date | None = None
    last: date | None = None
    confirmed: bool = False
    lit: bool = False
    seq: int | None = None
    undone: JournalLine | None = None
    day: date | None = None
    stays: tuple[JournalLine, ...] = ()


class OrderLessGentle(Said):
    """To the builder: this makes the plan less gentle (``from_value`` to ``to_value``). It is
    done only if confirmed in so many words, and the record will name them. ``undone`` is the order
    that would be taken back; ``day`` and ``stays`` as in ``OrderTold``."""

    kind: Literal["order_less_gentle"] = "order_less_gentle"
    what: str
    oven: str = ""
    undone: JournalLine | None = None
    day: date | None = None
    stays: tuple[JournalLine, ...] = ()
    from_value: float | None = None
    to_value: float | None = None


class OrderRefused(Said):
    """To the builder: it cannot be. ``why``: ``no_such_order``, ``in_the_past``,
    ``out_of_range``, ``nothing_fired``, ``not_yours``, ``held_already``."""

    kind: Literal["order_refused"] = "order_refused"
    what: str
    why: str
