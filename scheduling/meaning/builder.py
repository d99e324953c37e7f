"""Meanings to and from the builder's side."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from scheduling.meaning.base import Contact, Said
from scheduling.meaning.office import JournalLine


class Alert(Said):
    """Somebody needs the builder: ``needs`` as in ``scheduling.record.Need``. One a trouble."""

    kind: Literal["alert"] = "alert"
    needs: str
    since: AwareDatetime
    oven: str = ""
    """The oven's name: its reader looks after many."""
    place: str = ""
    contacts: tuple[Contact, ...] = ()
    """Who tends it, and how each is reached past us."""
    firing: int | None = None
    lit: bool = False
    top_c: float | None = None
    aim_c: float | None = None
    minutes: float | None = None
    """How long it has been silent, or unanswered."""
    words: str = ""
    """The owner's own."""
    photos: tuple[str, ...] = ()
    detail: str = ""
    """The reason: why a message did not arrive, why no fire may burn."""
    looked: bool = False
    """The owner says that they have looked and that it is well."""
    misheard: bool = False
    """The owner says that they told of no such thing: their words were misread."""
    again: int = 0
    """So many times it was told before, and nobody has done anything about it."""
    held_by: str = ""
    """Whoever of the team has the case. ``mine``: its reader; ``alone``: nobody else is told."""
    mine: bool = False
    alone: bool = False
    waits: bool = False
    """It could wait for the morning, and is told the once."""


class PhotoCame(Said):
    """To the builder: a photo from an oven at which ``needs`` stands open."""

    kind: Literal["photo_came"] = "photo_came"
    oven: str
    place: str = ""
    needs: str
    photo: str
    words: str = ""


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
