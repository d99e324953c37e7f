"""Updates as the Bot API words them: what people did, in JSON. ``at`` is when: else this moment."""

from datetime import UTC, datetime
from typing import Any

Json = dict[str, Any]

_BOT: Json = {"id": 4711, "is_bot": True, "first_name": "Stokewatch"}
_STANDING: dict[str, Json] = {
    "member": {"status": "member", "user": _BOT},
    "kicked": {"status": "kicked", "user": _BOT, "until_date": 0},
}


def seconds(at: datetime | None = None) -> int:
    return int((at or datetime.now(UTC)).timestamp())


def chat_of(chat: int) -> Json:
    return {"id": chat, "type": "private", "first_name": "Ana"}


def sender(number: int, name: str) -> Json:
    return {"id": number, "is_bot": False, "first_name": name}


def message(
    chat: int, number: int, content: Json, name: str = "Ana", at: datetime | None = None
) -> Json:
    """A message of any content."""
    head = {"message_id": number, "date": seconds(at), "chat": chat_of(chat)}
    return {"message": {**head, "from": sender(chat, name), **content}}


def edited(
    chat: int,
    number: int,
    text: str,
    name: str = "Ana",
    at: datetime | None = None,
    first: datetime | None = None,
) -> Json:
    """An earlier message, edited: its date stays that at which it was ``first`` sent."""
    content = {"text": text, "edit_date": seconds(at)}
    told: Json = message(chat, number, content, name, first or at)["message"]
    return {"edited_message": told}


def pressed(
    chat: int,
    number: int,
    text: str,
    data: str,
    query: str,
    name: str = "Ana",
    at: datetime | None = None,
) -> Json:
    """A button of message ``number`` was pressed."""
    under = {"message_id": number, "date": seconds(at), "chat": chat_of(chat), "text": text}
    return {
        "callback_query": {
            "id": query,
            "from": sender(chat, name),
            "chat_instance": str(chat),
            "data": data,
            "message": under,
        }
    }


def photo(file_id: str, caption: str) -> Json:
    """Content: a picture in two sizes, smallest first."""
    sizes = [
        {"file_id": f"{file_id}-s", "file_unique_id": "s", "width": 90, "height": 90},
        {"file_id": file_id, "file_unique_id": "l", "width": 900, "height": 900},
    ]
    return {"photo": sizes, "caption": caption}


def membership(chat: int, was: str, becomes: str, at: datetime | None = None) -> Json:
    """Blocked (member → kicked) or come back."""
    return {
        "my_chat_member": {
            "chat": chat_of(chat),
            "from": sender(chat, "Ana"),
            "date": seconds(at),
            "old_chat_member": _STANDING[was],
            "new_chat_member": _STANDING[becomes],
        }
    }
