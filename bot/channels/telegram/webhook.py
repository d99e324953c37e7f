"""Where Telegram delivers to: the secret is looked at first, and only then is anything read.

What comes with the secret is taken whatever it is, and acknowledged once it is stored.
"""

import hmac
from collections.abc import Sequence
from http import HTTPStatus
from typing import Any

import structlog
import tornado.httpserver
import tornado.iostream
import tornado.netutil
import tornado.web

from bot.channels.telegram.intake import Intake, as_text, read
from bot.logs import place_of

LARGEST_BYTES = 1024 * 1024
"""Many times the largest update: a text has 4096 characters (core.telegram.org/bots/api)."""

HEADER_BYTES = 16 * 1024
HEADERS_WITHIN_S, BODY_WITHIN_S = 10.0, 10.0
MOST_CONNECTIONS = 256
"""Telegram opens 40 by default (core.telegram.org/bots/api#setwebhook)."""

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 - a header's name

Route = tuple[str, type, dict[str, Any]]

_log = structlog.get_logger(__name__)


class WebhookServer:
    """``open`` to listen, ``close`` to end."""

    def __init__(
        self, path: str, secret: str, intake: Intake, beside: Sequence[Route] = ()
    ) -> None:
        """``beside`` is what else is answered here."""
        told = {"secret": secret.encode(), "intake": intake}
        door = (rf"/{path}/?", _Door, told)
        app = tornado.web.Application([door, *beside], log_function=lambda _: None)
        self._server = _Bounded(
            app,
            max_header_size=HEADER_BYTES,
            max_body_size=LARGEST_BYTES,
            body_timeout=BODY_WITHIN_S,
            idle_connection_timeout=HEADERS_WITHIN_S,
            chunk_size=HEADER_BYTES,
        )
        self.is_open = False

    def open(self, listen: str, port: int) -> None:
        """Raises OSError when the port is taken."""
        self._server.add_sockets(tornado.netutil.bind_sockets(port, listen))
        self.is_open = True

    async def close(self) -> None:
        """Answer no more."""
        self.is_open = False
        self._server.stop()
        await self._server.close_all_connections()


class _Bounded(tornado.httpserver.HTTPServer):
    """Takes no more connections than it has room for."""

    def handle_stream(self, stream: tornado.iostream.IOStream, address: Any) -> None:
        if len(self._connections) >= MOST_CONNECTIONS:
            stream.close()
            return
        super().handle_stream(stream, address)


@tornado.web.stream_request_body
class _Door(tornado.web.RequestHandler):
    """``prepare`` runs when the headers are there and nothing of the body has been read; what is
    refused then is never read."""

    SUPPORTED_METHODS = ("POST",)

    def initialize(self, secret: bytes, intake: Intake) -> None:
        self._secret = secret
        self._intake = intake
        self._body = bytearray()

    def prepare(self) -> None:
        shown = self.request.headers.get(SECRET_HEADER, "").encode("utf-8", "replace")
        if not hmac.compare_digest(shown, self._secret):
            self._refuse(HTTPStatus.FORBIDDEN)
        elif self._announced() > LARGEST_BYTES:
            self._refuse(HTTPStatus.REQUEST_ENTITY_TOO_LARGE)

    def data_received(self, chunk: bytes) -> None:
        self._body += chunk

    async def post(self) -> None:
        body = bytes(self._body)
        try:
            update = read(body)
        except ValueError:
            _log.warning("an update that cannot be read")
            update = as_text(body)
        try:
            await self._intake.keep([update])
        except Exception as error:  # noqa: BLE001 - Telegram delivers it again
            _log.error("updates not stored", why=place_of(error))
            self._refuse(HTTPStatus.SERVICE_UNAVAILABLE)

    def _announced(self) -> int:
        told = self.request.headers.get("Content-Length", "0")
        return int(told) if told.isascii() and told.isdigit() else 0

    def _refuse(self, status: HTTPStatus) -> None:
        self.set_status(status)
        self.set_header("Connection", "close")
        self.finish()

    def log_exception(self, _typ: Any, value: Any, _tb: Any) -> None:
        """Who writes here may write anything: it is not repeated in the log."""
        if not isinstance(value, tornado.web.HTTPError):
            _log.error("webhook failed", why=place_of(value))
