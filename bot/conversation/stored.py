"""What comes in over a channel of our own (terminal, replay), as an inbox row and back."""

from typing import Any

from pydantic import TypeAdapter, ValidationError

from bot.conversation.incoming import Incoming
from scheduling.ports import InboxRow

_ADAPTER = TypeAdapter(Incoming)


def row_of(incoming: Incoming) -> InboxRow:
    """The inbox row that keeps ``incoming``."""
    body = _ADAPTER.dump_json(incoming).decode()
    return InboxRow(incoming.channel, incoming.key, incoming.chat, body, incoming.sent_at)


def incoming_of(_row: InboxRow, body: dict[str, Any]) -> Incoming:
    """What a row kept. Raises ValueError when it is not one of ours."""
    try:
        return _ADAPTER.validate_python(body)
    except ValidationError as error:
        raise ValueError(f"not readable: {error.errors()[0]['msg']}") from error
