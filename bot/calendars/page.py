"""Answers ``GET /calendar/CODE.ics``: to whoever has the code, not too often, and to nobody else.

Where the code opens nothing the answer is that of any path that is not there. Codes are asked
after as digests, are never logged, and what they open is not to be kept by anything in between.
"""

import hashlib
import time
from collections.abc import Awaitable, Callable
from http import HTTPStatus
from typing import Any

import structlog
import tornado.web

from bot.calendars.allowance import Allowance, Monotonic
from bot.logs import place_of

PATH = r"/calendar/(?P<code>[A-Za-z0-9_-]{24,80})\.ics"

AT_ONCE, AN_HOUR = 20, 60
"""Of one address: a few devices that look every quarter of an hour, and a new one."""

STRANGE_AT_ONCE, STRANGE_AN_HOUR = 60, 600
"""Of all codes together that open nothing: whoever tries them through is soon refused unread."""

Read = Callable[[str], Awaitable[bytes | None]]

_log = structlog.get_logger(__name__)


class Gate:
    """Who may be answered. What strangers ask leaves the known codes alone."""

    def __init__(self, monotonic: Monotonic = time.monotonic) -> None:
        self._known = Allowance(AT_ONCE, AN_HOUR, monotonic)
        self._strange = Allowance(STRANGE_AT_ONCE, STRANGE_AN_HOUR, monotonic)
        self._opened: set[str] = set()

    def wait_s(self, key: str) -> int:
        """Seconds that this key has to wait; 0 where it may be looked up now."""
        if key in self._opened:
            return 0 if self._known.take(key) else self._known.wait_s(key)
        return 0 if self._strange.has("") else self._strange.wait_s("")

    def looked_up(self, key: str, *, opens: bool) -> None:
        """What became of it: a code that opens something is a stranger no more."""
        if opens:
            if len(self._opened) > MOST_OPENED:
                self._opened.clear()
            if key not in self._opened:
                self._known.take(key)
            self._opened.add(key)
            return
        self._opened.discard(key)
        self._strange.take("")


MOST_OPENED = 4096


def route(read: Read, gate: Gate | None = None) -> tuple[str, type, dict[str, Any]]:
    """For a tornado application, beside its other routes."""
    return PATH, _Page, {"read": read, "gate": gate or Gate()}


class _Page(tornado.web.RequestHandler):
    """``ETag`` is tornado's own: the same fires are not sent twice."""

    SUPPORTED_METHODS = ("GET", "HEAD")

    def initialize(self, read: Read, gate: Gate) -> None:
        self._read = read
        self._gate = gate

    def set_default_headers(self) -> None:
        self.set_header("Server", "stokewatch")
        self.set_header("X-Robots-Tag", "noindex")
        self.set_header("X-Content-Type-Options", "nosniff")
        self.set_header("Referrer-Policy", "no-referrer")

    async def get(self, code: str) -> None:
        key = hashlib.sha256(code.encode()).hexdigest()
        if wait_s := self._gate.wait_s(key):
            self.set_header("Retry-After", str(wait_s))
            self._refuse(HTTPStatus.TOO_MANY_REQUESTS)
            return
        content = await self._read(code)
        self._gate.looked_up(key, opens=content is not None)
        if content is None:
            self._refuse(HTTPStatus.NOT_FOUND)
            return
        self.set_header("Content-Type", "text/calendar; charset=utf-8")
        self.set_header("Content-Disposition", 'inline; filename="all-fires.ics"')
        self.set_header("Cache-Control", "private, no-cache")
        self.write(content)

    async def head(self, code: str) -> None:
        await self.get(code)

    def _refuse(self, status: HTTPStatus) -> None:
        self.set_status(status)
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.set_header("Cache-Control", "no-store")
        self.finish(status.phrase + "\n")

    def log_exception(self, _typ: Any, value: Any, _tb: Any) -> None:
        """The path holds the code: it is not repeated in the log."""
        if not isinstance(value, tornado.web.HTTPError):
            _log.error("calendar failed", why=place_of(value))

    def write_error(self, status_code: int, **_: Any) -> None:
        """No page of tornado's own."""
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.finish(HTTPStatus(status_code).phrase + "\n")
