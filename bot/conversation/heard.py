"""What was said to people, kept instead of sent: the carrier of chats that are driven by hand."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import datetime

from bot.channels.markup import plain
from scheduling.clock import Clock
from scheduling.ports import Attachment, Letter, Person
from scheduling.waking.carrying import Sent


@dataclass(frozen=True, slots=True)
class Heard:
    """A message as its reader saw it: plain text, labels of buttons, names of attachments.
    ``ref`` is the channel's id of it."""

    at: datetime
    to: str
    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    attachments: tuple[str, ...] = ()
    ref: str = ""

    @property
    def labels(self) -> tuple[str, ...]:
        """All buttons in reading order."""
        return tuple(label for row in self.buttons for label in row)


class NoSuchButtonError(LookupError):
    """Nobody has been shown a button of that label."""


KeepFile = Callable[[Attachment], Awaitable[str]]
"""Keeps an attachment and returns the name that it can be found under."""


async def _named(attachment: Attachment) -> str:
    return attachment.name


class Listener:
    """A ``Carrier`` that delivers everything at once and remembers it.

    ``to`` is the person's address. A button can be pressed by its label as long as no newer
    message has shown the same label.
    """

    def __init__(self, clock: Clock, keep: KeepFile = _named) -> None:
        self._clock = clock
        self._keep = keep
        self._heard: list[Heard] = []
        self._keys: dict[str, dict[str, str]] = {}
        self._count = 0

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """Hear ``letter``; never fails. An edited message is heard as it reads now."""
        parcel = letter.parcel
        kept = tuple([await self._keep(attachment) for attachment in parcel.attachments])
        self._count += 1
        ref = edit_ref or str(self._count)
        told = plain(parcel.text)
        self._heard.append(
            Heard(self._clock.now(), person.address, told, parcel.buttons, kept, ref)
        )
        keys = self._keys.setdefault(person.address, {})
        for label, key in letter.button_keys.items():
            keys.pop(label, None)
            keys[label] = key
        return Sent(ref)

    def take(self) -> list[Heard]:
        """Everything heard since the last time, in order."""
        heard, self._heard = self._heard, []
        return heard

    def key_of(self, person: str, label: str) -> str:
        """The key behind a button; blanks and capitals do not matter. Raises
        NoSuchButtonError with what can be pressed."""
        shown = self._keys.get(person, {})
        if label in shown:
            return shown[label]
        wanted = _bare(label)
        for known in reversed(shown):
            if _bare(known) == wanted:
                return shown[known]
        newest = ", ".join(repr(known) for known in reversed([*shown][-8:]))
        raise NoSuchButtonError(
            f"{person} has no button {label!r}; " + (f"shown: {newest}" if newest else "none shown")
        )


def _bare(label: str) -> str:
    return " ".join(label.split()).casefold()
