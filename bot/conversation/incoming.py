"""What a person did, told without the words of any channel."""

from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from bot.channels.markup import clean
from scheduling.choice import CommandName

TEXT_LIMIT = 4096
"""Characters of a text that are read; what is longer was not typed by somebody at a fire."""

INLINE = "inline:"
"""Stands before the content of a file, in base64, in place of a reference."""

FILE_BYTES = 64 * 1024
"""A larger file is no file of ours."""


@dataclass(frozen=True, slots=True)
class Slash:
    """A command of ours, with what stood behind it ("/start ABC": rest is "ABC")."""

    name: CommandName
    rest: str = ""


@dataclass(frozen=True, slots=True)
class SharedContact:
    """A contact that somebody shared, with its number as the channel has it. ``own``: it is that of
    whoever sent it."""

    phone: str
    own: bool


@dataclass(frozen=True, slots=True)
class Incoming:
    """One message, press or change of reach, from one chat.

    ``key`` is the inbox row (unique within the channel); ``message`` names the message within
    its chat, so that an edited one (``edited``) can amend the first. A caption is ``text``.
    ``press`` is a button's key (terminal and replay resolve labels to it). ``location`` is
    latitude and longitude in degrees. ``photo`` is the channel's own reference to the picture.
    ``file`` is the reference of a small text file that was sent (or INLINE and its content in
    base64, where the channel has it at hand).
    ``answering`` is the channel's id of the message that this one replies to.
    ``reached`` is set when the person blocked us (False) or came back (True). ``unread`` names
    a kind of content that cannot be read here ("voice", "sticker").
    """

    channel: str
    key: str
    chat: str
    sent_at: datetime
    sender_name: str = ""
    message: str = ""
    text: str | None = None
    command: Slash | None = None
    press: str | None = None
    location: tuple[float, float] | None = None
    photo: str | None = None
    file: str | None = None
    edited: bool = False
    reached: bool | None = None
    unread: str | None = None
    contact: SharedContact | None = None
    answering: str | None = None


class Receiver(Protocol):
    """What stands behind the channels: makes happenings of what came in."""

    async def receive(self, incoming: Incoming) -> None:
        """Act on it. Marks the inbox row done in the same unit of work; a row that was done
        already has no second effect."""
        ...

    async def went_unheard(self, incoming: Incoming, why: str) -> None:
        """It could not be worked on, by a fault of ours: tell whoever sent it. Sets its row aside
        in the same unit of work, with ``why`` for whoever runs the bot."""
        ...


def readable(text: str) -> str:
    """What is read of ``text``: cleaned, and no more than TEXT_LIMIT."""
    return clean(text[:TEXT_LIMIT])


def slash(text: str) -> Slash | None:
    """The command that ``text`` is, or None: an unknown one is read as words."""
    if not text.startswith("/"):
        return None
    word, _, rest = text[1:].partition(" ")
    name = word.partition("@")[0].lower()
    try:
        return Slash(CommandName(name), rest.strip())
    except ValueError:
        return None
