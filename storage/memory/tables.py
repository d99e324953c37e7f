"""Rows as they are kept in memory, and what every table asks of the others."""

from dataclasses import dataclass, field, fields
from datetime import datetime

from scheduling.alarm import AlarmName
from scheduling.ports import (
    Builder,
    CalendarAddress,
    Erasure,
    InboxRow,
    InboxState,
    InHand,
    Invitation,
    Journaled,
    Letter,
    OvenCard,
    Person,
    PromisedDay,
    TeamEntry,
    Way,
)
from storage.faults import RuleBroken


@dataclass(frozen=True, slots=True)
class Kept:
    """An inbox row with its number, in order of arrival, and its state."""

    row: InboxRow
    seq: int
    state: InboxState = InboxState.WAITING
    why: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """A letter with what only the outbox knows of it."""

    letter: Letter
    seq: int
    lease_until: datetime | None = None
    tried_at: datetime | None = None


@dataclass
class Tables:
    """Every table; rows are immutable, so a copy of a table is cheap."""

    people: dict[str, Person] = field(default_factory=dict)
    ovens: dict[str, OvenCard] = field(default_factory=dict)
    journal: dict[str, tuple[Journaled, ...]] = field(default_factory=dict)
    beliefs: dict[str, tuple[int, bytes]] = field(default_factory=dict)
    promises: dict[str, tuple[PromisedDay, ...]] = field(default_factory=dict)
    alarms: dict[tuple[str, AlarmName], datetime] = field(default_factory=dict)
    inbox: dict[tuple[str, str], Kept] = field(default_factory=dict)
    outbox: dict[str, Tried] = field(default_factory=dict)
    buttons: dict[str, tuple[str, str]] = field(default_factory=dict)
    pauses: dict[str, datetime] = field(default_factory=dict)
    builders: dict[str, Builder] = field(default_factory=dict)
    ways: dict[str, tuple[Way, ...]] = field(default_factory=dict)
    team_log: dict[str, tuple[TeamEntry, ...]] = field(default_factory=dict)
    invitations: dict[str, Invitation] = field(default_factory=dict)
    erasures: dict[str, Erasure] = field(default_factory=dict)
    hands: dict[str, InHand] = field(default_factory=dict)
    calendars: dict[str, CalendarAddress] = field(default_factory=dict)

    def copied(self) -> "Tables":
        """The same rows in tables of their own."""
        return Tables(**{one.name: dict(getattr(self, one.name)) for one in fields(self)})


class Room:
    """The tables, as one kind of row sees them."""

    def __init__(self, tables: Tables) -> None:
        self._t = tables

    def _needs_oven(self, oven_id: str) -> None:
        if oven_id not in self._t.ovens:
            raise RuleBroken(f"a row was refused: there is no oven {oven_id}")

    def _needs_builder(self, builder_id: str) -> None:
        if builder_id not in self._t.builders:
            raise RuleBroken(f"a row was refused: there is no builder {builder_id}")

    def _needs_person(self, person_id: str) -> None:
        if person_id not in self._t.people:
            raise RuleBroken(f"a row was refused: there is no person {person_id}")
