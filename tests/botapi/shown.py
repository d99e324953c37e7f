"""What a person sees in the chat, and how the API words it."""

from dataclasses import dataclass, field
from typing import Any

from tests.botapi import methods, updates


@dataclass(frozen=True, slots=True)
class Shown:
    """A message as its reader sees it now."""

    chat: int
    message: int
    text: str
    buttons: tuple[tuple[str, ...], ...] = ()
    callback_data: dict[str, str] = field(default_factory=dict)
    file: methods.Upload | str | None = None
    pinned: bool = False
    edits: int = 0


def pressable(keyboard: methods.Keyboard | None) -> dict[str, Any]:
    if keyboard is None:
        return {"buttons": (), "callback_data": {}}
    pressed = {b.text: b.callback_data for row in keyboard.inline_keyboard for b in row}
    return {"buttons": keyboard.labels(), "callback_data": pressed}


def message_of(shown: Shown) -> dict[str, Any]:
    return {
        "message_id": shown.message,
        "date": updates.seconds(),
        "chat": updates.chat_of(shown.chat),
        "text": shown.text,
    }
