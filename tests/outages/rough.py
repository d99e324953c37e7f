"""A Bot API that delays, cuts and fails its answers: by chance, by a seed, or all of one kind."""

import asyncio
import random
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

import httpx
import tornado.httpserver
import tornado.iostream
import tornado.netutil

from tests.botapi.door import Door
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
from tests.botapi.server import BotApi

SENDS = ("sendMessage", "sendPhoto", "sendDocument", "editMessageText", "editMessageMedia")

KINDS: dict[str, Callable[[], Fault]] = {
    "502, nothing done": BadGateway,
    "502, done": lambda: BadGateway(recorded=True),
    "500": lambda: Refusal(500, "Internal Server Error"),
    "cut, nothing done": Cut,
    "cut, done": lambda: Cut(recorded=True),
    "garbage, nothing done": lambda: Garbage(recorded=False),
    "garbage, done": Garbage,
    "no answer, nothing done": lambda: Hang(recorded=False),
    "no answer, done": Hang,
    "429": lambda: TooMany(2),
    "a polite no": PoliteRefusal,
    "a polite 429": lambda: PoliteRefusal(429, "Too Many Requests: retry after 2"),
    "401": lambda: Refusal(401, "Unauthorized"),
    "409": lambda: Refusal(409, "Conflict"),
}
"""Every way in which a send fails without being refused for good."""


@dataclass
class Weather:
    """What the next sends meet: ``kind`` always, else a fault with chance ``share``."""

    chance: random.Random = field(default_factory=random.Random)
    share: float = 0.0
    longest_s: float = 0.0
    kind: str | None = None

    def fault(self) -> Fault | None:
        if self.kind is not None:
            return KINDS[self.kind]()
        if self.chance.random() >= self.share:
            return None
        short = [name for name in KINDS if not name.startswith(("no answer", "401", "409"))]
        return KINDS[self.chance.choice(short)]()

    def delay_s(self) -> float:
        return self.chance.uniform(0.0, self.longest_s)


class Rough(BotApi):
    """``weather`` decides about every send. ``shown_at`` is when each message was shown first."""

    def __init__(self, weather: Weather) -> None:
        super().__init__()
        self.weather = weather
        self.shown_at: dict[tuple[int, int], float] = {}
        self.called_at: float | None = None
        """When anything was last asked of it."""

    async def answer(self, door: Door, token: str, method: str) -> None:
        self.called_at = time.monotonic()
        if method in SENDS:
            fault = self.weather.fault()
            if fault is not None and not self._faults[method]:
                self.fail(method, fault)
            await asyncio.sleep(self.weather.delay_s())
        # Whoever asked may have been killed meanwhile.
        with suppress(tornado.iostream.StreamClosedError):
            await super().answer(door, token, method)

    def _show(self, *told: Any) -> dict[str, Any]:
        answer = super()._show(*told)
        self.shown_at[told[0], answer["message_id"]] = time.monotonic()
        return answer

    async def _deliver(self, update: dict[str, Any]) -> None:
        try:
            await super()._deliver(update)
        except httpx.HTTPError:
            return  # killed while it took it: it is delivered again

    async def close_up(self) -> None:
        """Nobody listens here any more."""
        assert self._http is not None
        self._http.stop()
        await self._http.close_all_connections()

    async def open_again(self) -> None:
        """On the same port."""
        assert self._http is not None
        app = self._http.request_callback
        self._http = tornado.httpserver.HTTPServer(app)
        self._http.add_sockets(tornado.netutil.bind_sockets(self.port, "127.0.0.1"))
