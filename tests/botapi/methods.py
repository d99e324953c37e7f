"""The methods of the Bot API that stokewatch calls, each with its documented limits.

Source: core.telegram.org/bots/api (sendMessage, InlineKeyboardButton, sendPhoto, sendDocument,
editMessageText, editMessageMedia, BotCommand, setWebhook, answerCallbackQuery, sendChatAction,
getFile).
Only what is documented is checked; where the documentation is silent, so is this.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, Json, model_validator

from tests.botapi.entities import plain_text, utf16_units

TEXT_LIMIT = 4096
CAPTION_LIMIT = 1024
CALLBACK_BYTES = 64
PHOTO_BYTES = 10 * 1024 * 1024
FILE_BYTES = 50 * 1024 * 1024


class Upload(BaseModel):
    """A file that came with the request."""

    model_config = ConfigDict(frozen=True)

    name: str
    content: bytes


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Button(_Strict):
    text: str = Field(min_length=1)
    callback_data: str | None = None
    url: str | None = None

    @model_validator(mode="after")
    def _one_purpose(self) -> Self:
        if (self.callback_data is None) == (self.url is None):
            raise ValueError("BUTTON_TYPE_INVALID")
        if self.callback_data is not None and not (
            1 <= len(self.callback_data.encode()) <= CALLBACK_BYTES
        ):
            raise ValueError("BUTTON_DATA_INVALID")
        return self


class Keyboard(_Strict):
    inline_keyboard: list[list[Button]]

    @model_validator(mode="after")
    def _not_too_many(self) -> Self:
        if sum(len(row) for row in self.inline_keyboard) > 100:
            raise ValueError("REPLY_MARKUP_TOO_LONG")
        if any(len(row) > 8 for row in self.inline_keyboard):
            raise ValueError("a row takes at most 8 buttons")
        return self

    def labels(self) -> tuple[tuple[str, ...], ...]:
        return tuple(tuple(button.text for button in row) for row in self.inline_keyboard)


class _Texted(_Strict):
    parse_mode: Literal["HTML"] | None = None

    def shown(self, text: str) -> str:
        return plain_text(text) if self.parse_mode == "HTML" else text


class SendMessage(_Texted):
    chat_id: int
    text: str
    reply_markup: Json[Keyboard] | None = None
    disable_notification: bool = False
    link_preview_options: Json[Any] | None = None

    @model_validator(mode="after")
    def _within_limits(self) -> Self:
        _check_text(self.shown(self.text))
        return self


class EditMessageText(_Texted):
    chat_id: int
    message_id: int
    text: str
    reply_markup: Json[Keyboard] | None = None
    link_preview_options: Json[Any] | None = None

    @model_validator(mode="after")
    def _within_limits(self) -> Self:
        _check_text(self.shown(self.text))
        return self


class _Captioned(_Texted):
    caption: str = ""

    @model_validator(mode="after")
    def _within_limits(self) -> Self:
        if utf16_units(self.shown(self.caption)) > CAPTION_LIMIT:
            raise ValueError("message caption is too long")
        return self


class SendPhoto(_Captioned):
    chat_id: int
    photo: Upload | str
    reply_markup: Json[Keyboard] | None = None
    disable_notification: bool = False

    @model_validator(mode="after")
    def _small_enough(self) -> Self:
        if isinstance(self.photo, Upload):
            if len(self.photo.content) > PHOTO_BYTES:
                raise ValueError("file is too big")
            if not self.photo.content.startswith((b"\x89PNG", b"\xff\xd8\xff")):
                raise ValueError("IMAGE_PROCESS_FAILED")
        return self


class SendDocument(_Captioned):
    chat_id: int
    document: Upload | str
    reply_markup: Json[Keyboard] | None = None
    disable_notification: bool = False

    @model_validator(mode="after")
    def _small_enough(self) -> Self:
        if isinstance(self.document, Upload):
            if not self.document.content:
                raise ValueError("file must be non-empty")
            if len(self.document.content) > FILE_BYTES:
                raise ValueError("file is too big")
        return self


class PhotoMedia(_Captioned):
    type: Literal["photo"]
    media: str


class EditMessageMedia(_Strict):
    chat_id: int
    message_id: int
    media: Json[PhotoMedia]
    reply_markup: Json[Keyboard] | None = None
    files: dict[str, Upload] = {}


class PinChatMessage(_Strict):
    chat_id: int
    message_id: int
    disable_notification: bool = False


class SendChatAction(_Strict):
    chat_id: int
    action: Literal["typing", "upload_photo", "upload_document"]


class AnswerCallbackQuery(_Strict):
    callback_query_id: str
    text: Annotated[str, Field(max_length=200)] = ""
    show_alert: bool = False


class BotCommand(_Strict):
    command: str = Field(pattern=r"^[a-z0-9_]{1,32}$")
    description: str = Field(min_length=1, max_length=256)


class CommandScope(_Strict):
    type: Literal["default", "all_private_chats", "chat"]
    chat_id: int | None = None


class SetMyCommands(_Strict):
    commands: Json[Annotated[list[BotCommand], Field(max_length=100)]]
    scope: Json[CommandScope] | None = None


class DeleteMyCommands(_Strict):
    scope: Json[CommandScope] | None = None


class GetUpdates(_Strict):
    offset: int | None = None
    limit: int = Field(default=100, ge=1, le=100)
    timeout: float = 0
    allowed_updates: Json[list[str]] | None = None


class SetWebhook(_Strict):
    url: str
    secret_token: str | None = Field(default=None, pattern=r"^[A-Za-z0-9_-]{1,256}$")
    max_connections: int = 40
    allowed_updates: Json[list[str]] | None = None
    drop_pending_updates: bool = False


class DeleteWebhook(_Strict):
    drop_pending_updates: bool = False


class GetMe(_Strict):
    pass


class GetFile(_Strict):
    file_id: str


METHODS: dict[str, type[BaseModel]] = {
    kind.__name__[0].lower() + kind.__name__[1:]: kind
    for kind in (
        SendMessage,
        EditMessageText,
        SendPhoto,
        SendDocument,
        EditMessageMedia,
        PinChatMessage,
        SendChatAction,
        AnswerCallbackQuery,
        SetMyCommands,
        DeleteMyCommands,
        GetUpdates,
        SetWebhook,
        DeleteWebhook,
        GetMe,
        GetFile,
    )
}


def _check_text(shown: str) -> None:
    if not shown.strip():
        raise ValueError("message text is empty")
    if utf16_units(shown) > TEXT_LIMIT:
        raise ValueError("message is too long")
