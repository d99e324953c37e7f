"""The doors of the core: what the engine needs from storage and from wording.

``storage`` implements the unit of work, ``bot`` the voice. Every method's docstring says what
happens in the edge case; one behaviour suite runs over all adapters.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from types import TracebackType
from typing import Literal, Protocol, Self

from pydantic import BaseModel, ConfigDict

from scheduling.alarm import Alarm, AlarmName
from scheduling.choice import Choice
from scheduling.journal import Entry
from scheduling.meaning import Meaning
from scheduling.outcome import Urgency
from scheduling.pacing import Pacing


class Conflict(Exception):  # noqa: N818 - a call to try again, not a fault
    """Somebody else wrote to the same oven since it was read. Read again and retry."""


# ---------------------------------------------------------------- people and ovens


class Person(BaseModel):
    """Somebody we talk to. ``channel`` and ``address`` are where: one chat, one person."""

    model_config = ConfigDict(frozen=True)

    id: str
    channel: str
    address: str
    name: str
    unit: Literal["C", "F"] = "C"
    zone: str = "UTC"
    builder: str | None = None
    """The builder's team this person belongs to."""
    blocked: bool = False
    quiet_from: float | None = 22.0
    quiet_until: float | None = 7.0
    group: bool = False
    """Several people read this chat; channels allow fewer messages there."""


class OvenCard(BaseModel):
    """What is known of an oven without opening its journal: whose it is, and how it stands.

    ``state`` and ``needs`` are kept by the engine after each happening, so that a roster of
    hundreds is one query.
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
    needs_since: datetime | None = None
    place: str = ""


class Journaled(BaseModel):
    """An entry with its number: 1, 2, 3, ... without gaps in each oven's journal."""

    model_config = ConfigDict(frozen=True)

    seq: int
    entry: Entry


class People(Protocol):
    """Everybody we talk to."""

    async def get(self, person_id: str) -> Person | None:
        """By id."""
        ...

    async def at(self, channel: str, address: str) -> Person | None:
        """Who is reached there."""
        ...

    async def put(self, person: Person) -> None:
        """Insert or replace by id."""
        ...

    async def team(self, builder_id: str) -> tuple[Person, ...]:
        """A builder's team, by id."""
        ...


class Ovens(Protocol):
    """Ovens and their journals."""

    async def get(self, oven_id: str) -> OvenCard | None:
        """By id."""
        ...

    async def put(self, card: OvenCard) -> None:
        """Insert or replace the card; the journal stays."""
        ...

    async def of_person(self, person_id: str) -> tuple[OvenCard, ...]:
        """The ovens this person owns or tends, by id."""
        ...

    async def of_builder(self, builder_id: str) -> tuple[OvenCard, ...]:
        """The ovens that builder's team looks after, by id."""
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

    async def keep_belief(self, oven_id: str, seq: int, packed: bytes) -> None:
        """Keep the ensemble as it was after entry ``seq``: a cache, one an oven."""
        ...

    async def belief(self, oven_id: str) -> tuple[int, bytes] | None:
        """The kept ensemble and the entry it stands behind."""
        ...


class PromisedDay(BaseModel):
    """A day that the owner was told."""

    model_config = ConfigDict(frozen=True)

    firing: int
    day: date
    told_at: datetime


# ---------------------------------------------------------------- alarms


@dataclass(frozen=True, slots=True)
class DueAlarm:
    """An alarm with the oven that it belongs to."""

    oven: str
    alarm: Alarm


class Alarms(Protocol):
    """One row an oven and name."""

    async def set(self, oven_id: str, alarm: Alarm) -> None:
        """Insert, or move the alarm of that name."""
        ...

    async def drop(self, oven_id: str, name: AlarmName) -> None:
        """Forget it; no error if there is none."""
        ...

    async def take(self, oven_id: str, alarm: Alarm) -> bool:
        """Forget exactly this alarm; False if it was taken, moved or dropped meanwhile."""
        ...

    async def of(self, oven_id: str) -> Mapping[AlarmName, datetime]:
        """An oven's alarms, earliest first."""
        ...

    async def due(self, until: datetime, limit: int = 100) -> tuple[DueAlarm, ...]:
        """Earliest first, ties by oven and name."""
        ...

    async def next_due(self) -> datetime | None:
        """The earliest of all."""
        ...


# ---------------------------------------------------------------- in and out


class InboxState(StrEnum):
    """Stored, then done or set aside after repeated failure (and reported)."""

    WAITING = "waiting"
    DONE = "done"
    SET_ASIDE = "set_aside"


@dataclass(frozen=True, slots=True)
class InboxRow:
    """Something that came in, as it came, before anything was made of it."""

    channel: str
    key: str
    """Unique within the channel (Telegram: the update_id)."""
    chat: str
    """Rows of one chat are worked through in order of arrival."""
    body: str
    """The channel's own JSON."""
    received_at: datetime
    attempts: int = 0


class Inbox(Protocol):
    """Every message is stored here before it is acted on."""

    async def store(self, row: InboxRow) -> bool:
        """True if new; False if the key was stored before (nothing changes)."""
        ...

    async def waiting(self, channel: str, limit: int = 100) -> tuple[InboxRow, ...]:
        """In order of arrival."""
        ...

    async def done(self, channel: str, key: str) -> bool:
        """Mark done in this unit; False if it was done already: then do nothing more."""
        ...

    async def failed(self, channel: str, key: str, why: str, set_aside: bool) -> None:
        """Count an attempt; a row set aside waits no more. One that is done stays done."""
        ...


class OutboxState(StrEnum):
    """todo → sending → sent | unknown | failed | cancelled | expired."""

    TODO = "todo"
    SENDING = "sending"
    SENT = "sent"
    UNKNOWN = "unknown"
    FAILED = "failed"
    CANCELLED = "cancelled"
    EXPIRED = "expired"


class Attachment(BaseModel):
    """A picture or paper to be made when the message is sent."""

    model_config = ConfigDict(frozen=True)

    kind: str
    name: str
    data: dict[str, object] = {}
    alt: str = ""


class Parcel(BaseModel):
    """A message as its reader will see it.

    ``text`` holds no markup but <b> and <i>. ``buttons`` are rows of labels; what each one does
    is in ``choices`` under the same label.
    """

    model_config = ConfigDict(frozen=True)

    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    choices: dict[str, Choice] = {}
    attachments: tuple[Attachment, ...] = ()
    pin: bool = False


@dataclass(frozen=True, slots=True)
class Letter:
    """A parcel on its way: one outbox row."""

    id: str
    person: str
    oven: str | None
    parcel: Parcel
    urgency: Urgency
    created_at: datetime
    not_before: datetime
    expires: datetime | None = None
    replaces: str | None = None
    slot: str | None = None
    state: OutboxState = OutboxState.TODO
    attempts: int = 0
    repeat_of: str | None = None
    sent_at: datetime | None = None
    ref: str | None = None
    """The channel's own id of the message, once sent."""
    why: str = ""
    button_keys: Mapping[str, str] = field(default_factory=dict)
    """Label → key, made when the letter is stored: what a press sends back (≤ 64 bytes)."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """What a button key stands for."""

    oven: str | None
    person: str
    letter: str
    choice: Choice


EVERYBODY: Literal["*"] = "*"
"""In place of a person's id: all of them."""


class Outbox(Protocol):
    """What is to be said, and what became of it."""

    async def post(self, letter: Letter) -> None:
        """Store; cancels unsent letters to the same person with the same ``replaces``."""
        ...

    async def get(self, letter_id: str) -> Letter | None:
        """By id."""
        ...

    async def claim(
        self, now: datetime, lease_until: datetime, limit: int, pacing: Pacing | None = None
    ) -> tuple[Letter, ...]:
        """Take sendable letters (todo, ``not_before`` reached) and mark them sending.

        Danger first, then fire, answers, calm; within these by age. Never two letters of one
        person at once, so that a chat stays in order; none to somebody paused. Letters past
        ``expires`` become expired. ``pacing`` counts what was tried in the last second and
        minute, by whichever process.
        """
        ...

    async def settle(
        self,
        letter_id: str,
        state: OutboxState,
        at: datetime,
        *,
        ref: str | None = None,
        why: str = "",
        not_before: datetime | None = None,
    ) -> bool:
        """Write what became of a claimed letter; False if it was no longer ours to settle.

        TODO gives it back, to be tried at ``not_before``. A letter thought unknown may still turn
        out to be sent.
        """
        ...

    async def lapsed(self, now: datetime) -> tuple[Letter, ...]:
        """Letters whose lease ran out while sending: nobody knows whether they were sent."""
        ...

    async def superseded(self, letter: Letter) -> bool:
        """Whether a newer letter to the same person has the same ``replaces``."""
        ...

    async def cancel_for(self, person_id: str, why: str) -> int:
        """Cancel what is unsent; returns how many."""
        ...

    async def pause(self, person_id: str, until: datetime) -> None:
        """Claim nothing for this person, or for EVERYBODY, until then."""
        ...

    async def paused(self, now: datetime) -> Mapping[str, datetime]:
        """Who is paused now (EVERYBODY may be among them), and until when."""
        ...

    async def unknown(self, since: datetime) -> tuple[Letter, ...]:
        """Letters made since then of which nobody knows whether they arrived, oldest first."""
        ...

    async def sent_in_slot(self, person_id: str, slot: str) -> Letter | None:
        """The newest letter sent in that slot: the one to edit."""
        ...

    async def pressed(self, key: str) -> Pressed | None:
        """What a button key stands for."""
        ...

    async def last_sent(self, person_id: str) -> Letter | None:
        """The newest letter that arrived."""
        ...

    async def next_sendable(self) -> datetime | None:
        """When there is next something to claim or a lease to look at; None for never."""
        ...


class Promises(Protocol):
    """What days the owner was told."""

    async def of(self, oven_id: str) -> tuple[PromisedDay, ...]:
        """As they were told, in that order."""
        ...

    async def replace(self, oven_id: str, days: Sequence[PromisedDay]) -> None:
        """These and no others."""
        ...


class UnitOfWork(Protocol):
    """One transaction. Leaving the block without ``commit`` rolls everything back."""

    people: People
    ovens: Ovens
    alarms: Alarms
    inbox: Inbox
    outbox: Outbox
    promises: Promises

    async def __aenter__(self) -> Self: ...
    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None: ...
    async def commit(self) -> None:
        """Keep what was done; the unit is over."""
        ...


class Store(Protocol):
    """Opens units of work. ``write`` takes the write lock at once; ``read`` never blocks."""

    def write(self) -> UnitOfWork:
        """A unit that may change things."""
        ...

    def read(self) -> UnitOfWork:
        """A unit for looking only."""
        ...

    async def close(self) -> None:
        """Let go of everything."""
        ...


class Voice(Protocol):
    """Turns a meaning into what one reader sees: sentences, units, dates, buttons."""

    def render(self, meaning: Meaning, reader: Person, zone: str, now: datetime) -> Parcel:
        """What ``reader`` sees at ``now``, for an oven in ``zone``."""
        ...
