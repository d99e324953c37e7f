"""Carries letters to Telegram: one letter in, one message shown, or a typed reason why not."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

import structlog
from telegram import (
    Bot,
    InlineKeyboardButton,
    InlineKeyboardMarkup,
    InputFile,
    InputMediaPhoto,
    LinkPreviewOptions,
    Message,
)
from telegram.constants import ParseMode
from telegram.error import BadRequest, RetryAfter, TelegramError

from bot.channels.markup import Run, pieces, runs, to_html, utf16_units
from bot.channels.painter import DrawnFile, Gather, Painter, as_it_is, draw
from bot.channels.telegram.faults import fault_of, wait_of
from bot.channels.telegram.translation import PHOTO_PREFIX
from scheduling.ports import Letter, Person
from scheduling.waking.carrying import Refused, Sent, Unknown

TEXT_LIMIT = 4096
CAPTION_LIMIT = 1024
CALLBACK_BYTES = 64
LABEL_LIMIT = 64
ROW_LIMIT = 8
"""Limits: core.telegram.org/bots/api; the length of a label is ours, so that it is read whole."""

PATIENCE_S = 5.0
"""The longest 429 that is waited out between the parts of one letter."""

T = TypeVar("T")

_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class _Ref:
    """The channel's id of a message, as the outbox keeps it."""

    message: int
    picture: bool = False

    def __str__(self) -> str:
        return f"{self.message}:picture" if self.picture else str(self.message)

    @classmethod
    def read(cls, ref: str) -> "_Ref":
        number, _, kind = ref.partition(":")
        return cls(int(number), kind == "picture")


class TelegramCarrier:
    """A ``Carrier`` over the Bot API.

    A letter with one picture and a text that fits its caption is one message. Otherwise the text
    goes first, in as many messages as its length needs, with the buttons under the last of them,
    and the files follow. When a later part fails, the letter's fate is ``Unknown``: its reader
    has seen some of it.
    """

    def __init__(
        self,
        bot: Bot,
        painter: Painter,
        gather: Gather = as_it_is,
        shown: Callable[[Person], None] = lambda _: None,
    ) -> None:
        """``shown`` is told whom something was shown to."""
        self._bot = bot
        self._painter = painter
        self._gather = gather
        self._shown = shown
        self._drawing = asyncio.Lock()

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        """Show ``letter``, in place of the message ``edit_ref`` where that can be edited.

        Raises NotSent, Unknown, Blocked or Refused, as ``faults`` tells them apart.
        """
        chat = _chat_of(person)
        text = runs(letter.parcel.text)
        keyboard = _keyboard(letter)
        files = await self._draw(letter)
        if not files and not any(run.text.strip() for run in text):
            raise Refused("there is nothing to say in this letter")
        try:
            ref = await self._edit(chat, edit_ref, text, files, keyboard) if edit_ref else None
            if ref is None:
                ref = await self._show(chat, text, files, keyboard)
        except TelegramError as error:
            raise fault_of(error) from error
        # An edited one was pinned when it was first shown; who has unpinned it since meant it.
        if letter.parcel.pin and str(ref) != edit_ref:
            await self._pin(chat, ref)
        self._shown(person)
        return Sent(str(ref))

    async def _show(
        self,
        chat: int,
        text: Sequence[Run],
        files: Sequence[DrawnFile],
        keyboard: InlineKeyboardMarkup | None,
    ) -> _Ref:
        if _is_captioned(text, files):
            shown = await self._file(chat, files[0], to_html(text), keyboard)
            return _Ref(shown.message_id, picture=True)
        texts = pieces(text, TEXT_LIMIT)
        if not texts:
            first = await self._file(chat, files[0], "", keyboard)
            await self._follow_up(chat, [], files[1:], None)
            return _Ref(first.message_id, picture=files[0].is_picture)
        first = await self._text(chat, texts[0], keyboard if len(texts) == 1 else None)
        last = await self._follow_up(chat, texts[1:], files, keyboard)
        return _Ref((last or first).message_id)

    async def _follow_up(
        self,
        chat: int,
        texts: Sequence[tuple[Run, ...]],
        files: Sequence[DrawnFile],
        keyboard: InlineKeyboardMarkup | None,
    ) -> Message | None:
        """The parts behind the first; returns the last text message. Raises Unknown."""
        last = None
        try:
            for index, text in enumerate(texts):
                under = keyboard if index == len(texts) - 1 else None
                last = await self._patiently(chat, text, under)
            for file in files:
                await self._patiently(chat, file, None)
        except TelegramError as error:
            raise Unknown(f"only a part of it was sent: {error}") from error
        return last

    async def _patiently(
        self, chat: int, part: tuple[Run, ...] | DrawnFile, keyboard: InlineKeyboardMarkup | None
    ) -> Message:
        try:
            return await self._part(chat, part, keyboard)
        except RetryAfter as error:
            wait_s = wait_of(error).total_seconds()
            if wait_s > PATIENCE_S:
                raise
            await asyncio.sleep(wait_s)
            return await self._part(chat, part, keyboard)

    async def _part(
        self, chat: int, part: tuple[Run, ...] | DrawnFile, keyboard: InlineKeyboardMarkup | None
    ) -> Message:
        if isinstance(part, DrawnFile):
            return await self._file(chat, part, to_html(runs(part.caption)), keyboard)
        return await self._text(chat, part, keyboard)

    async def _text(
        self, chat: int, text: Sequence[Run], keyboard: InlineKeyboardMarkup | None
    ) -> Message:
        send = partial(
            self._bot.send_message,
            chat,
            to_html(text),
            parse_mode=ParseMode.HTML,
            link_preview_options=LinkPreviewOptions(is_disabled=True),
        )
        return await _keyed(send, keyboard)

    async def _file(
        self, chat: int, file: DrawnFile, caption: str, keyboard: InlineKeyboardMarkup | None
    ) -> Message:
        upload = _upload(file)
        how = self._bot.send_photo if file.is_picture else self._bot.send_document
        send = partial(how, chat, upload, caption=caption, parse_mode=ParseMode.HTML)
        return await _keyed(send, keyboard)

    async def _edit(
        self,
        chat: int,
        edit_ref: str,
        text: Sequence[Run],
        files: Sequence[DrawnFile],
        keyboard: InlineKeyboardMarkup | None,
    ) -> _Ref | None:
        """Change the earlier message; None when it has to be shown anew."""
        old = _Ref.read(edit_ref)
        captioned = _is_captioned(text, files)
        if captioned != old.picture or (files and not captioned):
            return None
        if not captioned and utf16_units("".join(run.text for run in text)) > TEXT_LIMIT:
            return None
        try:
            if captioned:
                media = InputMediaPhoto(
                    _upload(files[0], attach=True),
                    caption=to_html(text),
                    parse_mode=ParseMode.HTML,
                )
                edit = partial(self._bot.edit_message_media, media, chat, old.message)
                await _keyed(edit, keyboard)
            else:
                edit = partial(
                    self._bot.edit_message_text,
                    to_html(text),
                    chat,
                    old.message,
                    parse_mode=ParseMode.HTML,
                    link_preview_options=LinkPreviewOptions(is_disabled=True),
                )
                await _keyed(edit, keyboard)
        except BadRequest as error:
            if "not modified" in str(error):
                return old
            if "chat not found" in str(error).lower():
                raise
            # Deleted by its reader, or too old to edit: what it says is still to be seen.
            _log.info("shown anew", why=str(error))
            return None
        return old

    async def _pin(self, chat: int, ref: _Ref) -> None:
        try:
            await self._bot.pin_chat_message(chat, ref.message, disable_notification=True)
        except TelegramError as error:
            # The message itself was shown; a missing pin is no reason to show it twice.
            _log.warning("not pinned", why=str(error))

    async def _draw(self, letter: Letter) -> list[DrawnFile]:
        """Draw off the event loop, one at a time. What cannot be drawn is left out: the words
        are what matters while a fire burns."""
        drawn = []
        for attachment in letter.parcel.attachments:
            try:
                whole = await self._gather(attachment)
                async with self._drawing:
                    drawn.append(await asyncio.to_thread(draw, self._painter, whole))
            except Exception:  # noqa: BLE001 - a fault in a picture must not stop the words
                _log.exception("not drawn", letter=letter.id, kind=attachment.kind)
        return drawn


def _is_captioned(text: Sequence[Run], files: Sequence[DrawnFile]) -> bool:
    words = "".join(run.text for run in text)
    return len(files) == 1 and files[0].is_picture and utf16_units(words) <= CAPTION_LIMIT


def _upload(file: DrawnFile, attach: bool = False) -> InputFile | str:
    if file.reference is not None:
        return file.reference.removeprefix(PHOTO_PREFIX)
    return InputFile(file.content, filename=file.name, attach=attach)


def _chat_of(person: Person) -> int:
    try:
        return int(person.address)
    except ValueError:
        raise Refused(f"{person.address!r} is no Telegram chat") from None


def _keyboard(letter: Letter) -> InlineKeyboardMarkup | None:
    rows = []
    for labels in letter.parcel.buttons:
        buttons = [one for label in labels if (one := _button(letter, label)) is not None]
        rows += [buttons[i : i + ROW_LIMIT] for i in range(0, len(buttons), ROW_LIMIT)]
    return InlineKeyboardMarkup(rows) if rows else None


def _button(letter: Letter, label: str) -> InlineKeyboardButton | None:
    """None for a chat that is none here: of somebody who is forgotten."""
    address = letter.parcel.chats.get(label)
    if address is not None:
        # The id of a private chat is that of its user (core.telegram.org/bots/api, "Chat").
        known = address.isascii() and address.isdigit()
        url = f"tg://user?id={address}"
        return InlineKeyboardButton(label[:LABEL_LIMIT], url=url) if known else None
    key = letter.button_keys.get(label)
    if key is None or not 1 <= len(key.encode()) <= CALLBACK_BYTES:
        raise Refused(f"the button {label!r} has no key that Telegram takes")
    return InlineKeyboardButton(label[:LABEL_LIMIT], callback_data=key)


async def _keyed(send: Callable[..., Awaitable[T]], keyboard: InlineKeyboardMarkup | None) -> T:
    """Show it with its buttons; without those that open a chat, where its user's privacy settings
    forbid that (core.telegram.org/bots/api, "InlineKeyboardButton"): the words must arrive."""
    try:
        return await send(reply_markup=keyboard)
    except BadRequest as error:
        if keyboard is None or "button_user" not in str(error).lower():
            raise
        return await send(reply_markup=_without_chats(keyboard))


def _without_chats(keyboard: InlineKeyboardMarkup) -> InlineKeyboardMarkup:
    rows = ([one for one in row if one.url is None] for row in keyboard.inline_keyboard)
    return InlineKeyboardMarkup([row for row in rows if row])
