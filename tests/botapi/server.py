"""A Bot API of our own on loopback: real HTTP, documented limits, scripted faults.

It keeps what it was asked to show (``shown``), hands out what people did (``say``, ``press``,
``hand_in``) through getUpdates or a webhook, and fails as it was told to (``fail``).
"""

import asyncio
import itertools
from collections import defaultdict, deque
from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from types import TracebackType
from typing import Any, Self

import httpx
import tornado.httpserver
import tornado.netutil
import tornado.web
from pydantic import BaseModel, ValidationError

from tests.botapi import methods
from tests.botapi.door import Door, Files
from tests.botapi.faults import (
    BadGateway,
    Cut,
    Fault,
    Garbage,
    Hang,
    PoliteRefusal,
    Refusal,
    TooMany,
)
from tests.botapi.people import People, this_moment
from tests.botapi.shown import Shown, message_of, pressable

TOKEN = "4711:AAlocal-test_token-never-shown-0123456789"


class RefusedError(Exception):
    def __init__(self, code: int, description: str) -> None:
        self.code, self.description = code, description


class BotApi(People):
    """The server. Use it as an async context manager; ``url`` is the base URL for a bot."""

    def __init__(self, token: str = TOKEN, now: Callable[[], datetime] = this_moment) -> None:
        """``now`` dates what people write."""
        super().__init__(now)
        self.token = token
        self.shown: dict[tuple[int, int], Shown] = {}
        self.calls: list[tuple[str, BaseModel]] = []
        self.waiting: deque[dict[str, Any]] = deque()
        self.commands: list[methods.BotCommand] = []
        """The menu of every chat that has none of its own; ``chat_commands`` are those that do."""
        self.chat_commands: dict[int, list[str]] = {}
        self.webhook: methods.SetWebhook | None = None
        self._faults: dict[str, deque[Fault]] = defaultdict(deque)
        self._update_ids = itertools.count(1001)
        self._news = asyncio.Condition()
        self._closing = asyncio.Event()
        self._redelivering: asyncio.Task[None] | None = None
        self._http: tornado.httpserver.HTTPServer | None = None
        self.port = 0

    # ------------------------------------------------------------ life

    async def __aenter__(self) -> Self:
        app = tornado.web.Application(
            [
                (r"/bot([^/]+)/(\w+)", Door, {"api": self}),
                (r"/file/bot([^/]+)/(.+)", Files, {"api": self}),
            ],
            log_function=lambda _: None,
        )
        sockets = tornado.netutil.bind_sockets(self.port, "127.0.0.1")
        self._http = tornado.httpserver.HTTPServer(app)
        self._http.add_sockets(sockets)
        self.port = sockets[0].getsockname()[1]
        return self

    async def __aexit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        assert self._http is not None
        self._closing.set()
        async with self._news:
            self._news.notify_all()
        self._http.stop()
        await self._http.close_all_connections()

    @property
    def url(self) -> str:
        """Base URL, as ``telegram.Bot`` takes it (the token is appended to it)."""
        return f"http://127.0.0.1:{self.port}/bot"

    # ------------------------------------------------------------ what comes in

    async def hand_in(self, update: dict[str, Any]) -> dict[str, Any]:
        """Queue an update of any shape; gives it the next update_id unless it brings one."""
        update = {"update_id": next(self._update_ids), **update}
        async with self._news:
            self.waiting.append(update)
            self._news.notify_all()
        if self.webhook is not None and self.webhook.url:
            await self._deliver(update)
        return update

    async def push(self, update: dict[str, Any], secret: str | None = None) -> int:
        """Deliver to the webhook; the status code tells whether it was taken."""
        assert self.webhook is not None
        shown = secret if secret is not None else self.webhook.secret_token
        headers = {"X-Telegram-Bot-Api-Secret-Token": shown} if shown else {}
        async with httpx.AsyncClient(trust_env=False) as client:
            answer = await client.post(self.webhook.url, json=update, headers=headers)
        if answer.status_code == 200 and update in self.waiting:
            self.waiting.remove(update)
        return answer.status_code

    async def _deliver(self, update: dict[str, Any]) -> None:
        """To the webhook; what nobody took there waits until it is set again."""
        with suppress(httpx.ConnectError):
            await self.push(update)

    async def _redeliver(self) -> None:
        for update in list(self.waiting):
            await self._deliver(update)

    # ------------------------------------------------------------ what tests ask

    def fail(self, method: str, *faults: Fault) -> None:
        """The next calls of ``method`` meet these faults, one each."""
        self._faults[method].extend(faults)

    def has_failed(self, method: str) -> bool:
        """Whether every scripted fault of that method has been met."""
        return not self._faults[method]

    def read(self, chat: int) -> list[Shown]:
        """What that person sees, oldest first."""
        return [shown for (where, _), shown in sorted(self.shown.items()) if where == chat]

    def called(self, method: str) -> list[BaseModel]:
        """The calls of one method, in order."""
        return [call for name, call in self.calls if name == method]

    async def until(self, ready: Callable[[], bool], within_s: float = 10.0) -> None:
        """Wait until ``ready()``, woken by every call. Raises TimeoutError."""
        async with self._news:
            await asyncio.wait_for(self._news.wait_for(ready), within_s)

    # ------------------------------------------------------------ answering

    async def answer(self, door: "Door", token: str, method: str) -> None:
        """Answer one call, or fail as told."""
        fault = self._faults[method].popleft() if self._faults[method] else None
        async with self._news:
            self._news.notify_all()
        if isinstance(fault, TooMany):
            wait = {"retry_after": fault.wait_s}
            door.tell(429, f"Too Many Requests: retry after {fault.wait_s}", parameters=wait)
            return
        if isinstance(fault, Refusal):
            door.tell(fault.code, fault.description)
            return
        if isinstance(fault, PoliteRefusal):
            door.tell(fault.code, fault.description, status=200)
            return
        try:
            result = (
                await self._act(door, token, method) if fault is None or fault.recorded else None
            )
        except RefusedError as refused:
            door.tell(refused.code, refused.description)
            return
        match fault:
            case None:
                door.give(result)
            case BadGateway():
                door.set_status(502)
                await door.finish("<html>Bad Gateway</html>")
            case Garbage(body=body):
                await door.finish(body)
            case Hang():
                await self._closing.wait()
            case Cut():
                door.detach().close()
        await asyncio.sleep(0)

    async def _act(self, door: "Door", token: str, method: str) -> object:
        if token != self.token:
            raise RefusedError(401, "Unauthorized")
        kind = methods.METHODS.get(method)
        if kind is None:
            raise RefusedError(404, "Not Found")
        try:
            call = kind.model_validate(door.fields(method))
        except ValidationError as error:
            why = error.errors()[0]
            raise RefusedError(400, f"Bad Request: {why['loc']}: {why['msg']}") from None
        act: Callable[[Any], Awaitable[object]] = getattr(self, f"_{method}")
        result = await act(call)
        async with self._news:
            self.calls.append((method, call))
            self._news.notify_all()
        return result

    async def _getMe(self, call: methods.GetMe) -> object:
        return {"id": 4711, "is_bot": True, "first_name": "Stokewatch", "username": "stokewatchbot"}

    async def _getFile(self, call: methods.GetFile) -> object:
        content = self.files.get(call.file_id)
        if content is None:
            raise RefusedError(400, "Bad Request: wrong file_id or the file is gone")
        return {
            "file_id": call.file_id,
            "file_unique_id": f"u{call.file_id}",
            "file_size": len(content),
            "file_path": f"photos/{call.file_id}.jpg",
        }

    async def _getUpdates(self, call: methods.GetUpdates) -> object:
        if self.webhook is not None and self.webhook.url:
            raise RefusedError(409, "Conflict: can't use getUpdates method while webhook is active")
        async with self._news:
            if call.offset is not None:
                kept = (u for u in self.waiting if _number(u) >= call.offset)
                self.waiting = deque(kept)
            if not self.waiting and call.timeout:
                try:
                    await asyncio.wait_for(
                        self._news.wait_for(lambda: bool(self.waiting) or self._closing.is_set()),
                        call.timeout,
                    )
                except TimeoutError:
                    return []
            return list(itertools.islice(self.waiting, call.limit))

    async def _setWebhook(self, call: methods.SetWebhook) -> object:
        self.webhook = call
        if call.url and self.waiting:
            self._redelivering = asyncio.create_task(self._redeliver())
        return True

    async def _deleteWebhook(self, call: methods.DeleteWebhook) -> object:
        self.webhook = None
        if call.drop_pending_updates:
            self.waiting.clear()
        return True

    async def _setMyCommands(self, call: methods.SetMyCommands) -> object:
        chat = call.scope.chat_id if call.scope is not None else None
        if chat is not None:
            self.chat_commands[chat] = [command.command for command in call.commands]
        else:
            self.commands = list(call.commands)
        return True

    async def _deleteMyCommands(self, call: methods.DeleteMyCommands) -> object:
        chat = call.scope.chat_id if call.scope is not None else None
        if chat is not None:
            self.chat_commands.pop(chat, None)
        return True

    async def _sendMessage(self, call: methods.SendMessage) -> object:
        return self._show(call.chat_id, call.shown(call.text), call.reply_markup, None)

    async def _sendPhoto(self, call: methods.SendPhoto) -> object:
        return self._show(call.chat_id, call.shown(call.caption), call.reply_markup, call.photo)

    async def _sendDocument(self, call: methods.SendDocument) -> object:
        return self._show(call.chat_id, call.shown(call.caption), call.reply_markup, call.document)

    async def _editMessageText(self, call: methods.EditMessageText) -> object:
        return self._change(
            call.chat_id, call.message_id, call.shown(call.text), call.reply_markup, None
        )

    async def _editMessageMedia(self, call: methods.EditMessageMedia) -> object:
        name = call.media.media.removeprefix("attach://")
        file = call.files.get(name, call.media.media)
        text = call.media.shown(call.media.caption)
        return self._change(call.chat_id, call.message_id, text, call.reply_markup, file)

    async def _pinChatMessage(self, call: methods.PinChatMessage) -> object:
        key = (call.chat_id, call.message_id)
        if key not in self.shown:
            raise RefusedError(400, "Bad Request: message to pin not found")
        self.shown[key] = replace(self.shown[key], pinned=True)
        return True

    async def _sendChatAction(self, call: methods.SendChatAction) -> object:
        self._reachable(call.chat_id)
        return True

    async def _answerCallbackQuery(self, call: methods.AnswerCallbackQuery) -> object:
        return True

    def _show(
        self,
        chat: int,
        text: str,
        keyboard: methods.Keyboard | None,
        file: methods.Upload | str | None,
    ) -> dict[str, Any]:
        self._reachable(chat)
        shown = Shown(chat, next(self._message_ids), text, file=file, **pressable(keyboard))
        self.shown[chat, shown.message] = shown
        return message_of(shown)

    def _change(
        self,
        chat: int,
        message: int,
        text: str,
        keyboard: methods.Keyboard | None,
        file: methods.Upload | str | None,
    ) -> dict[str, Any]:
        self._reachable(chat)
        old = self.shown.get((chat, message))
        if old is None:
            raise RefusedError(400, "Bad Request: message to edit not found")
        if (old.file is None) != (file is None):
            raise RefusedError(400, "Bad Request: there is no text in the message to edit")
        new = replace(old, text=text, file=file, edits=old.edits + 1, **pressable(keyboard))
        if replace(new, edits=old.edits) == old:
            raise RefusedError(400, "Bad Request: message is not modified")
        self.shown[chat, message] = new
        return message_of(new)

    def _reachable(self, chat: int) -> None:
        if chat in self.blocked:
            raise RefusedError(403, "Forbidden: bot was blocked by the user")
        if chat not in self.chats:
            raise RefusedError(400, "Bad Request: chat not found")


def _number(update: dict[str, Any]) -> int:
    number = update.get("update_id")
    return number if isinstance(number, int) else -1
