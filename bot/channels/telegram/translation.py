"""Telegram's updates, as stored, turned into what the conversation understands.

Only the fields that are used are read, and they are checked: an update of a kind or shape that
is not known here says nothing, whatever else it holds.
"""

import json
from datetime import UTC, datetime, timedelta
from typing import Annotated, Any, Final

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from bot.conversation.incoming import FILE_BYTES, Incoming, SharedContact, readable, slash
from scheduling.ports import InboxRow

CHANNEL: Final = "telegram"
PHOTO_PREFIX: Final = "telegram:"
"""Stands before the file id of a picture, so that its reference tells where it can be had."""

KINDS: Final = ("message", "edited_message", "callback_query", "my_chat_member")
"""Kinds of update that are asked for."""

_UNREAD = ("voice", "audio", "video_note", "video", "animation", "sticker", "document")
TEXT_FILES = (".toml", ".txt", ".csv", ".tsv")
TEXT_KINDS = ("text/plain", "application/toml", "text/csv", "text/comma-separated-values")
"""Files that are read; a spreadsheet's own format is none."""

_LAST_SECOND = 253402300799  # 9999-12-31T23:59:59Z

OLDEST = timedelta(hours=48)
"""No message is older when it comes: updates are kept for 24 hours (core.telegram.org/bots/api,
"Getting updates"), and what was written two days ago is edited no more (from memory)."""

Instant = Annotated[int, Field(ge=0, le=_LAST_SECOND)]


class _Read(BaseModel):
    model_config = ConfigDict(extra="ignore", strict=True)


class _Chat(_Read):
    id: int
    type: str


class _User(_Read):
    id: int = 0
    first_name: str = ""


class _Size(_Read):
    file_id: str


class _Document(_Read):
    file_id: str
    file_name: str | None = None
    mime_type: str | None = None
    file_size: int | None = None


class _Place(_Read):
    latitude: Annotated[float, Field(ge=-90, le=90, strict=False)]
    longitude: Annotated[float, Field(ge=-180, le=180, strict=False)]


class _Contact(_Read):
    phone_number: str
    user_id: int | None = None


class _Answered(_Read):
    message_id: int


class _Message(_Read):
    message_id: int
    date: Instant
    chat: _Chat
    sender: _User = Field(default=_User(), alias="from")
    text: str | None = None
    caption: str | None = None
    photo: list[_Size] = []
    location: _Place | None = None
    document: _Document | None = None
    contact: _Contact | None = None
    reply_to_message: _Answered | None = None


class _Under(_Read):
    chat: _Chat


class _Press(_Read):
    id: str
    sender: _User = Field(default=_User(), alias="from")
    data: str | None = None
    message: _Under | None = None


class _Standing(_Read):
    status: str


class _Membership(_Read):
    chat: _Chat
    date: Instant
    sender: _User = Field(default=_User(), alias="from")
    new_chat_member: _Standing


class _Update(_Read):
    message: _Message | None = None
    edited_message: _Message | None = None
    callback_query: _Press | None = None
    my_chat_member: _Membership | None = None


def chat_of(update: dict[str, Any]) -> str:
    """The chat that an update belongs to, which sets its place in the order; "" if none."""
    for kind in KINDS:
        part = update.get(kind)
        if not isinstance(part, dict):
            continue
        if kind == "callback_query":
            part = part.get("message")
        chat = part.get("chat") if isinstance(part, dict) else None
        number = chat.get("id") if isinstance(chat, dict) else None
        if isinstance(number, int):
            return str(number)
    return ""


def press_of(body: str) -> str | None:
    """The id of a press, by which it is acknowledged; None for anything else."""
    try:
        press = json.loads(body).get("callback_query")
        query = press.get("id")
    except (ValueError, AttributeError, RecursionError):
        return None
    return query if isinstance(query, str) else None


def incoming(row: InboxRow, update: dict[str, Any]) -> Incoming | None:
    """What ``update`` says; None when it says nothing to us (a group, another kind of update).

    Raises ValueError for an update of a known kind in a shape that cannot be read.
    """
    try:
        read = _Update.model_validate(update)
    except ValidationError as error:
        raise ValueError(f"not readable: {error.errors()[0]['msg']}") from error
    if message := read.message or read.edited_message:
        edited = read.edited_message is not None
        return _from_message(row, message, edited, update) if _is_ours(message.chat) else None
    if (press := read.callback_query) and press.message and press.data:
        return Incoming(
            CHANNEL,
            row.key,
            str(press.message.chat.id),
            row.received_at,
            readable(press.sender.first_name),
            press=readable(press.data)[:64],
        )
    if (standing := read.my_chat_member) and _is_ours(standing.chat):
        return Incoming(
            CHANNEL,
            row.key,
            str(standing.chat.id),
            _instant(standing.date, row),
            readable(standing.sender.first_name),
            reached=standing.new_chat_member.status not in ("kicked", "left"),
        )
    return None


def _from_message(
    row: InboxRow, message: _Message, edited: bool, update: dict[str, Any]
) -> Incoming | None:
    raw = update["edited_message" if edited else "message"]
    text = message.text if message.text is not None else message.caption
    text = readable(text).strip() if text is not None else None
    photo = PHOTO_PREFIX + message.photo[-1].file_id if message.photo else None
    place = message.location
    file = _file(message.document)
    unread = next((kind for kind in _UNREAD if kind in raw), None) if file is None else None
    contact = _shared(message)
    if not (text or photo or place or file or unread or contact):
        return None
    return Incoming(
        CHANNEL,
        row.key,
        str(message.chat.id),
        # An edited number is no newer than it was: the wall was read before it was first sent.
        _instant(message.date, row),
        readable(message.sender.first_name),
        message=str(message.message_id),
        text=text or None,
        command=slash(text) if text and not edited else None,
        location=(place.latitude, place.longitude) if place else None,
        photo=photo,
        file=file,
        edited=edited,
        unread=unread,
        contact=contact,
        answering=str(answered.message_id) if (answered := message.reply_to_message) else None,
    )


def _shared(message: _Message) -> SharedContact | None:
    contact = message.contact
    if contact is None:
        return None
    return SharedContact(readable(contact.phone_number)[:32], contact.user_id == message.sender.id)


def _file(document: _Document | None) -> str | None:
    """The reference of a small text file; None for any other document."""
    if document is None or (document.file_size or 0) > FILE_BYTES:
        return None
    name, kind = (document.file_name or "").lower(), document.mime_type or ""
    is_text = name.endswith(TEXT_FILES) or kind in TEXT_KINDS
    return PHOTO_PREFIX + document.file_id if is_text else None


def _is_ours(chat: _Chat) -> bool:
    # One chat is one person: in a group nobody could tell whose oven is meant.
    return chat.type == "private"


def _instant(seconds: int, row: InboxRow) -> datetime:
    """When it was sent. A date that cannot be is taken as old rather than as new: what it says is
    then no reason to burn, and nothing is worked out anew from before there was an oven."""
    sent_at = datetime.fromtimestamp(seconds, UTC)
    return min(max(sent_at, row.received_at - OLDEST), row.received_at)
