"""What is to be said, and what became of it."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Literal, Protocol

from pydantic import BaseModel, ConfigDict

from scheduling.choice import Choice
from scheduling.outcome import FIRE_THREAD, Urgency
from scheduling.pacing import Pacing


class OutboxState(StrEnum):
    """todo ⇄ sending → sent | unknown | failed | cancelled | expired.

    One that did not arrive, or of which nobody knows, goes back to todo. ``unknown`` and
    ``failed`` are tried no more: the one may have arrived, the other surely has not.
    """

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
    is in ``choices`` under the same label, or it opens a chat with whoever is reached at the
    address in ``chats``, in the reader's own channel and past us: then nothing comes back.
    """

    model_config = ConfigDict(frozen=True)

    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    choices: dict[str, Choice] = {}
    chats: dict[str, str] = {}
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
    doubts: int = 0
    """How many of the attempts may have arrived although nobody knows: only then can its reader
    see it twice."""
    first_tried_at: datetime | None = None
    sent_at: datetime | None = None
    ref: str | None = None
    """The channel's own id of the message, once sent."""
    why: str = ""
    button_keys: Mapping[str, str] = field(default_factory=dict)
    """Label → key, made when the letter is stored: what a press sends back (≤ 64 bytes)."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """What a button key stands for. ``in_doubt``: nobody knew that its letter had arrived."""

    oven: str | None
    person: str
    letter: str
    choice: Choice
    in_doubt: bool = False


def takes_the_place(newer: Letter, older: Letter) -> bool:
    """Whether ``older`` is not worth sending any more once there is ``newer``."""
    if newer.person != older.person or older.replaces is None:
        return False
    at_fire = older.replaces == FIRE_THREAD and older.oven == newer.oven
    return newer.replaces == older.replaces or (newer.urgency is Urgency.DANGER and at_fire)


EVERYBODY: Literal["*"] = "*"
"""In place of a person's id: all of them."""


class Outbox(Protocol):
    """What is to be said, and what became of it."""

    async def post(self, letter: Letter) -> None:
        """Store; cancels unsent letters to the same person with the same ``replaces``; a danger
        also those of FIRE_THREAD about its oven."""
        ...

    async def post_each(self, letters: Sequence[Letter]) -> None:
        """The same for several, in their order: a later one cancels an earlier one too."""
        ...

    async def get(self, letter_id: str) -> Letter | None:
        """By id."""
        ...

    async def claim(
        self,
        now: datetime,
        lease_until: datetime,
        limit: int,
        pacing: Pacing | None = None,
        *,
        danger_only: bool = False,
    ) -> tuple[Letter, ...]:
        """Take sendable letters (todo, ``not_before`` reached) and mark them sending.

        Danger first, then fire, answers, calm; within these by age. Never two letters of one
        person at once, so that a chat stays in order, but a danger waits only for another
        danger; none to somebody paused. Letters past ``expires`` become expired. ``pacing``
        counts what was tried in the last second and minute, by whichever process.
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
        in_doubt: bool = False,
    ) -> bool:
        """Write what became of a claimed letter; False if it was no longer ours to settle.

        TODO gives it back, to be tried at ``not_before``. ``in_doubt``: this try may have
        arrived. A letter of which that is so may still turn out to be sent.
        """
        ...

    async def sent(self, refs: Mapping[str, str], at: datetime) -> None:
        """Settle these letters as sent, each with the channel's id of it."""
        ...

    async def lapsed(self, now: datetime) -> tuple[Letter, ...]:
        """Letters whose lease ran out while sending: nobody knows whether they were sent."""
        ...

    async def renew(self, letter_ids: Collection[str], lease_until: datetime) -> None:
        """They are still being sent: ours until then."""
        ...

    async def hasten(self, now: datetime, person_id: str | None = None) -> None:
        """Those that wait because a try failed wait no longer, of this person or of everybody (a
        wait that the channel told is a pause, and stays)."""
        ...

    async def superseded(self, letter: Letter) -> bool:
        """Whether a newer letter to the same person takes its place, as ``post`` would have it."""
        ...

    async def take_back(self, person_id: str, threads: str) -> tuple[Letter, ...]:
        """Cancel, and return, the unsent letters to this person whose ``replaces`` begins so."""
        ...

    async def told_since(self, person_id: str, threads: str, since: datetime) -> int:
        """How many letters of such threads were made for this person since; none cancelled."""
        ...

    async def stands(self, person_id: str, slot: str) -> bool:
        """Whether a letter of that slot was sent, or still will be."""
        ...

    async def cancel_for(self, person_id: str, why: str) -> int:
        """Cancel what is unsent; returns how many."""
        ...

    async def replace(self, letter_id: str, parcel: Parcel) -> bool:
        """Keep another parcel in place of one that is no longer on its way; False, and no
        change, while it is, or if there is no such letter. Buttons that the other parcel has
        too still work."""
        ...

    async def forget(self, person_id: str, oven_ids: Sequence[str] = ()) -> None:
        """Delete every letter to this person (and their pause), every letter about these ovens, and
        what was told that lists any of them; one that is being sent to somebody else only loses
        what it says."""
        ...

    async def blot(self, words: Sequence[str], calm_to: Sequence[str] = ()) -> None:
        """Take words that name somebody out of all letters that are no longer on their way.

        One that still is keeps every word: a name may be a word of ours as well, and nobody's
        name may change what others are told at a fire. Only the calm letters that wait for
        ``calm_to`` are blotted too.
        """
        ...

    async def pause(self, person_id: str, until: datetime) -> None:
        """Claim nothing for this person, or for EVERYBODY, until then."""
        ...

    async def paused(self, now: datetime) -> Mapping[str, datetime]:
        """Who is paused now (EVERYBODY may be among them), and until when."""
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

    async def shown_as(self, person_id: str, ref: str) -> Letter | None:
        """The letter that this person has before them as the channel's message ``ref``; of several
        that were shown in one place the newest, None for a message that is none of ours."""
        ...

    async def sent_since(self, person_id: str, since: datetime, limit: int) -> tuple[Letter, ...]:
        """The letters that arrived at this person after that moment, the newest first."""
        ...

    async def next_sendable(self, in_hand: Collection[str] = ()) -> datetime | None:
        """When there is next something to claim, or a lease to look at but those of the letters
        ``in_hand``; None for never."""
        ...
