"""A calendar over HTTP: to whoever has the code, not too often, beside Telegram's own door."""

import io
from collections.abc import AsyncIterator

import httpx
import pytest

from bot.calendars.page import AT_ONCE, STRANGE_AT_ONCE, Gate, route
from bot.channels.telegram.intake import Intake
from bot.channels.telegram.webhook import SECRET_HEADER, WebhookServer
from scheduling.clock import SteppedClock
from tests.bot.calendars.test_allowance import Seconds
from tests.bot.channels.inbox_fake import StoreFake
from tests.bot.channels.telegram.test_webhook import NINE, SECRET

CODE = "a-code-that-opens-something-0123456789"
OTHER = "a-code-that-opens-nothing-0123456789"


class Web:
    """A webhook that listens with a calendar beside it, and whoever asks."""

    def __init__(self, port: int) -> None:
        self.seconds = Seconds()
        self.asked: list[str] = []
        self.calendars = {CODE: b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"}
        self.store = StoreFake()
        intake = Intake(self.store.as_store(), SteppedClock(NINE), lambda _: None)
        beside = route(lambda code: self.read(code), Gate(self.seconds))
        self.server = WebhookServer("updates", SECRET, intake, [beside])
        self.client = httpx.AsyncClient(base_url=f"http://127.0.0.1:{port}")

    async def read(self, code: str) -> bytes | None:
        self.asked.append(code)
        return self.calendars.get(code)

    async def get(self, code: str = CODE, **more: str) -> httpx.Response:
        return await self.client.get(f"/calendar/{code}.ics", headers=more)


@pytest.fixture
async def web(unused_tcp_port: int) -> AsyncIterator[Web]:
    web = Web(unused_tcp_port)
    web.server.open("127.0.0.1", unused_tcp_port)
    yield web
    await web.client.aclose()
    await web.server.close()


async def test_whoever_has_the_code_reads_the_calendar(web: Web) -> None:
    answer = await web.get()
    assert answer.status_code == 200
    assert answer.content == web.calendars[CODE]
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert answer.headers["cache-control"] == "private, no-cache"
    assert answer.headers["x-robots-tag"] == "noindex"


async def test_the_same_fires_are_not_sent_twice(web: Web) -> None:
    first = await web.get()
    again = await web.get(**{"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    web.calendars[CODE] += b"X"
    moved = await web.get(**{"If-None-Match": first.headers["etag"]})
    assert moved.status_code == 200


async def test_a_head_is_answered_without_the_calendar(web: Web) -> None:
    answer = await web.client.head(f"/calendar/{CODE}.ics")
    assert (answer.status_code, answer.content) == (200, b"")


async def test_what_opens_nothing_is_as_what_is_not_there(web: Web) -> None:
    unknown = await web.get(OTHER)
    web.calendars.clear()
    revoked = await web.get()
    assert unknown.status_code == revoked.status_code == 404
    assert unknown.content == revoked.content
    bare = [one for one in unknown.headers.items() if one[0] not in ("date", "etag")]
    assert bare == [one for one in revoked.headers.items() if one[0] not in ("date", "etag")]


@pytest.mark.parametrize(
    "path", ["/calendar/short.ics", "/calendar/.ics", f"/calendar/{CODE}", "/calendar/../updates"]
)
async def test_what_cannot_be_a_code_is_not_looked_up(web: Web, path: str) -> None:
    assert (await web.client.get(path)).status_code in (404, 405)
    assert web.asked == []


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH"])
async def test_nothing_can_be_written_there(web: Web, method: str) -> None:
    answer = await web.client.request(method, f"/calendar/{CODE}.ics", content=b"x" * 100)
    assert answer.status_code == 405
    assert web.asked == []


async def test_one_address_is_read_so_often_and_then_told_when(web: Web) -> None:
    for _ in range(AT_ONCE):
        assert (await web.get()).status_code == 200
    refused = await web.get()
    assert refused.status_code == 429
    wait_s = int(refused.headers["retry-after"])
    assert len(web.asked) == AT_ONCE
    web.seconds.now += wait_s
    assert (await web.get()).status_code == 200


async def test_who_tries_codes_through_is_refused_unread_and_shuts_nobody_out(web: Web) -> None:
    assert (await web.get()).status_code == 200
    for number in range(STRANGE_AT_ONCE):
        assert (await web.get(f"{OTHER}-{number}")).status_code == 404
    asked = len(web.asked)
    assert (await web.get(f"{OTHER}-more")).status_code == 429
    assert len(web.asked) == asked
    assert (await web.get()).status_code == 200


async def test_telegram_still_finds_its_own_door(web: Web) -> None:
    update = {"update_id": 1, "message": {"message_id": 1}}
    headers = {SECRET_HEADER: SECRET}
    answer = await web.client.post("/updates", json=update, headers=headers)
    assert answer.status_code == 200
    assert (await web.client.post("/updates", json=update)).status_code == 403


async def test_no_code_is_ever_logged(web: Web, log: io.StringIO) -> None:
    async def fails(code: str) -> bytes | None:
        raise RuntimeError(code)

    await web.get()
    await web.get(OTHER)
    web.read = fails  # type: ignore[method-assign]
    answer = await web.get()
    assert (answer.status_code, answer.content) == (500, b"Internal Server Error\n")
    assert "calendar failed" in log.getvalue()
    assert CODE not in log.getvalue()
    assert OTHER not in log.getvalue()
