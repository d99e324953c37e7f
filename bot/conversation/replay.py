"""A conversation as JSON lines: what people did in, what they were told out.

A line in is ``{"at": ISO time with offset, "from": who}`` with one of ``"text"``, ``"press"`` (a
button's label), ``"location": [lat, lon]`` or ``"photo": true``; ``at`` alone lets time pass. A
photo may have a ``"text"``, its caption. A line out is ``{"at", "to", "text", "buttons",
"attachments"}``; after each line in comes ``{"ready": at}``. A line that cannot be acted on is
answered with ``{"error": what is wrong and what to do}`` and then with its ``ready``.
"""

import json
from collections.abc import AsyncIterator
from datetime import datetime
from typing import Annotated, Any, Self

from pydantic import (
    AwareDatetime,
    BaseModel,
    ConfigDict,
    Field,
    StrictBool,
    ValidationError,
    model_validator,
)

from bot.conversation.chat import Chat
from bot.conversation.heard import Heard, NoSuchButtonError

Latitude = Annotated[float, Field(ge=-90, le=90)]
Longitude = Annotated[float, Field(ge=-180, le=180)]


class LineError(ValueError):
    """A line that cannot be acted on; the text says what to do."""


class Line(BaseModel):
    """One line in."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    at: AwareDatetime
    sender: str | None = Field(default=None, alias="from", min_length=1)
    text: str | None = None
    press: str | None = None
    location: tuple[Latitude, Longitude] | None = None
    photo: StrictBool = False

    @model_validator(mode="after")
    def _one_thing(self) -> Self:
        done = [
            self.text is not None and not self.photo,
            self.press is not None,
            self.location is not None,
            self.photo,
        ]
        if sum(done) > 1:
            raise ValueError("one line is one thing: text, press, location or photo")
        if any(done) and self.sender is None:
            raise ValueError('say who did it: "from": "ana"')
        if self.sender is not None and not any(done):
            raise ValueError("say what they did: text, press, location or photo")
        return self


def read_line(raw: str) -> Line:
    """Read a line. Raises LineError."""
    try:
        told = json.loads(raw)
    except (ValueError, RecursionError) as error:
        raise LineError(f"this is not JSON ({error}); write one object a line") from None
    if not isinstance(told, dict):
        raise LineError('write one object a line, like {"at": "2026-05-13T09:00:00+01:00"}')
    if not isinstance(told.get("at"), str):
        raise LineError('"at" is missing; write an ISO time like "2026-05-13T09:00:00+01:00"')
    try:
        return Line.model_validate(told)
    except ValidationError as error:
        raise LineError("; ".join(_sentence(dict(fault)) for fault in error.errors())) from None


async def answers(chat: Chat, raw: str) -> AsyncIterator[str]:
    """The lines that answer one line in, the last of them its ``ready``."""
    at: datetime | None = None
    given: object = None
    try:
        line = read_line(raw)
        at, given = line.at, json.loads(raw)["at"]
        heard = await _act(chat, line)
    except (LineError, NoSuchButtonError, ValueError) as error:
        for message in chat.heard():
            yield shown(message, at)
        yield json.dumps({"error": str(error)}, ensure_ascii=False)
    except Exception as error:  # noqa: BLE001 - a fault of ours is reported, and the next line tried
        for message in chat.heard():
            yield shown(message, at)
        fault = f"a fault of stokewatch itself, please report it with this file: {error!r}"
        yield json.dumps({"error": fault}, ensure_ascii=False)
    else:
        for message in heard:
            yield shown(message, at)
    yield json.dumps({"ready": given})


def shown(heard: Heard, like: datetime | None = None) -> str:
    """A message as a line out, its time written in the offset of ``like``."""
    at = heard.at if like is None else heard.at.astimezone(like.tzinfo)
    told: dict[str, Any] = {
        "at": at.isoformat(),
        "to": heard.to,
        "text": heard.text,
        "buttons": heard.buttons,
        "attachments": heard.attachments,
    }
    return json.dumps(told, ensure_ascii=False)


async def _act(chat: Chat, line: Line) -> list[Heard]:
    if line.sender is None:
        return await chat.pass_time(line.at)
    if line.photo:
        return await chat.photo(line.sender, line.at, line.text)
    if line.press is not None:
        return await chat.press(line.sender, line.press, line.at)
    if line.location is not None:
        latitude, longitude = line.location
        return await chat.location(line.sender, latitude, longitude, line.at)
    return await chat.say(line.sender, line.text or "", line.at)


def _sentence(fault: dict[str, Any]) -> str:
    where = ".".join(str(part) for part in fault["loc"])
    why = str(fault["msg"]).removeprefix("Value error, ")
    if fault["type"] == "extra_forbidden":
        return f"{where} is not known here; use at, from, text, press, location or photo"
    return f"{where}: {why}" if where else why
