"""Ovens, their journals, and what was promised for them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Protocol

from pydantic import BaseModel, ConfigDict

from scheduling.journal import Entry, Taught


class Conflict(Exception):  # noqa: N818 - a call to try again, not a fault
    """Somebody else wrote to the same oven since it was read. Read again and retry."""


RANKS_IN_GROUP = 100
"""The hundreds of a rank are its group in a builder's list."""


class OvenCard(BaseModel):
    """What is known of an oven without opening its journal: whose it is, and how it stands.

    All but ``id``, ``builder`` and ``find`` is kept by the engine after each happening, so that a
    roster of hundreds is one query.
    """

    model_config = ConfigDict(frozen=True)

    id: str
    name: str
    builder: str | None = None
    owners: tuple[str, ...] = ()
    """Person ids; the first is the owner, the others also tend the fire."""
    state: str = "set_up"
    needs: str | None = None
    """The most pressing reason to look at it, or None."""
    open_needs: str = ""
    """All of them, each between blanks: " crack silent "."""
    needs_since: datetime | None = None
    place: str = ""
    rank: int = 500
    """Place in a builder's list (``record.standing.rank_of``): the lowest first."""
    last_c: float | None = None
    """The crown by the last reading of it, °C, and when it was read."""
    last_doubted: bool = False
    """That reading is not believed."""
    last_at: datetime | None = None
    aim_c: float | None = None
    """Plateau of the fire that burns, or of the next one, °C; and its number."""
    firing: int | None = None
    next_day: date | None = None
    """Of the next promised fire."""
    taken_by: str | None = None
    """Who of the builder's team has the case, and since when."""
    taken_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Called:
    """A client by name: of the oven, and of the people who tend it."""

    id: str
    name: str
    people: tuple[str, ...] = ()
    place: str = ""


class Roster(BaseModel):
    """What a builder wants to see of their clients, and of it one page.

    ``ranks`` are spans of ranks, last exclusive; none for all, as with ``states`` and ``needs``, of
    which one has to stand open. ``text`` are parts of the names of the oven, of its people and of
    the place, all of which have to be found; ``place`` are parts of the place alone. ``taken_by``
    is who has the case, ``day`` that of the next fire.
    """

    model_config = ConfigDict(frozen=True)

    builder: str
    ranks: tuple[tuple[int, int], ...] = ()
    states: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    text: str = ""
    place: str = ""
    taken_by: str | None = None
    day: date | None = None
    start: int = 0
    limit: int = 8


class RosterPage(BaseModel):
    """Cards by their group of ranks, in it those that nobody has taken first, then by rank, then
    the longest in need; ``total`` without paging."""

    model_config = ConfigDict(frozen=True)

    cards: tuple[OvenCard, ...]
    total: int


class Journaled(BaseModel):
    """An entry with its number: 1, 2, 3, ... without gaps in each oven's journal."""

    model_config = ConfigDict(frozen=True)

    seq: int
    entry: Entry


@dataclass(frozen=True, slots=True)
class OpenedOven:
    """An oven with what its reader does not know yet of its journal."""

    card: OvenCard
    newer: tuple[Entry, ...]
    belief: tuple[int, bytes] | None
    """The kept ensemble and the entry it stands behind; only for who knows nothing yet."""


@dataclass(frozen=True, slots=True)
class Pages:
    """Entries for an oven's journal, to stand behind number ``after``."""

    oven: str
    after: int
    entries: Sequence[Entry]


class Ovens(Protocol):
    """Ovens and their journals."""

    async def get(self, oven_id: str) -> OvenCard | None:
        """By id."""
        ...

    async def several(self, oven_ids: Sequence[str]) -> Mapping[str, OvenCard]:
        """Those of them that there are, by id."""
        ...

    async def open(self, known: Mapping[str, int]) -> Mapping[str, OpenedOven]:
        """Those of these ovens that there are, each with its journal behind the number known."""
        ...

    async def put(self, card: OvenCard) -> None:
        """Insert or replace the card; the journal stays."""
        ...

    async def put_each(self, cards: Sequence[OvenCard]) -> None:
        """The same for several, of different ovens."""
        ...

    async def of_person(self, person_id: str) -> tuple[OvenCard, ...]:
        """The ovens this person owns or tends, by id."""
        ...

    async def of_builder(self, builder_id: str) -> tuple[OvenCard, ...]:
        """The ovens that builder's team looks after, by id."""
        ...

    async def roster(self, wanted: Roster) -> RosterPage:
        """One page of a builder's clients: by rank, then the longest in need, then by next fire."""
        ...

    async def called(self, builder_id: str, words: Sequence[str]) -> tuple[Called, ...]:
        """That builder's clients in whose names or place any of these words occurs, be it as a
        part of another, by id. Words as ``plain`` has them, each of one letter at least."""
        ...

    async def tally(self, builder_id: str) -> Mapping[tuple[str, int], int]:
        """How many clients of that builder stand in each state and at each rank."""
        ...

    async def in_states(self, states: Sequence[str]) -> tuple[OvenCard, ...]:
        """The ovens whose card is in one of these states, by id; of none for no states."""
        ...

    async def journal(self, oven_id: str, after: int = 0) -> tuple[Journaled, ...]:
        """Entries behind number ``after``, in order."""
        ...

    async def append(self, oven_id: str, after: int, entries: Sequence[Entry]) -> int:
        """Append behind number ``after``; return the last number.

        Raises Conflict when the journal does not end there, even with nothing to append. Until
        the unit ends nobody else appends to this oven.
        """
        ...

    async def rewrite(self, oven_id: str, entries: Sequence[Entry]) -> None:
        """Put these entries in place of the whole journal: only to forget somebody. Raises
        Conflict where there are fewer than before, since numbers must stay."""
        ...

    async def written_by(self, person_id: str) -> tuple[str, ...]:
        """Ids of ovens whose journal names this person. Reads every journal: for rare use."""
        ...

    async def taught(self, builder_id: str) -> tuple[Taught, ...]:
        """What the finished ovens of that builder taught, by id of the oven. Reads their journals:
        for rare use."""
        ...

    async def erase(self, oven_id: str) -> None:
        """Delete the oven with its journal and all that belongs to it but letters; no error if
        there is none."""
        ...

    async def ends(self, oven_ids: Sequence[str]) -> Mapping[str, int]:
        """The last number in the journal of each oven that there is. Until the unit ends nobody
        else appends to these ovens."""
        ...

    async def append_each(self, pages: Sequence[Pages]) -> None:
        """Append to the journals of different ovens. Raises Conflict, as ``append`` does."""
        ...

    async def keep_belief(self, oven_id: str, seq: int, packed: bytes) -> None:
        """Keep the ensemble as it was after entry ``seq``: a cache, one an oven."""
        ...

    async def belief(self, oven_id: str) -> tuple[int, bytes] | None:
        """The kept ensemble and the entry it stands behind."""
        ...


class PromisedDay(BaseModel):
    """A day that the owner was told, and what for.

    ``start`` is when to light, ``session_h`` how long it takes, ``plateau_c`` and ``hold_h`` what
    it is to reach; all None in a row of before these were kept, until the days are next told.
    """

    model_config = ConfigDict(frozen=True)

    firing: int
    day: date
    told_at: datetime
    start: datetime | None = None
    session_h: float | None = None
    plateau_c: float | None = None
    hold_h: float | None = None
    warm_up: bool = False


class Promises(Protocol):
    """What days the owner was told."""

    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        """As they were told, in that order."""
        ...

    async def replace(self, oven_id: str, days: Sequence[PromisedDay]) -> None:
        """These and no others."""
        ...

    async def of_builder(
        self, builder_id: str, first: date, last: date, limit: int | None = None
    ) -> tuple[tuple[str, PromisedDay], ...]:
        """Days from first to last, both inclusive, of all ovens that this builder's team looks
        after, each with its oven: by day, then by start, then by oven; the first ``limit``."""
        ...
