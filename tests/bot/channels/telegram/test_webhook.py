"""Who comes to the webhook's door: the secret first, then a body of bounded size and patience."""

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime

import pytest

from bot.channels.inbox_worker import InboxWorker
from bot.channels.telegram import webhook
from bot.channels.telegram.intake import Intake
from bot.channels.telegram.translation import incoming
from bot.channels.telegram.webhook import LARGEST_BYTES, WebhookServer
from scheduling.clock import SteppedClock
from scheduling.ports import InboxState
from tests.bot.channels.inbox_fake import StoreFake
from tests.bot.channels.test_inbox_worker import Listening

SECRET = "a-secret-of-the-webhook-0123"
NINE = datetime(2026, 5, 13, 9, tzinfo=UTC)


class Door:
    """A server that listens, and whoever knocks."""

    def __init__(self, port: int) -> None:
        self.store, self.port = StoreFake(), port
        intake = Intake(self.store.as_store(), SteppedClock(NINE), lambda _: None)
        self.server = WebhookServer("updates", SECRET, intake)

    async def knock(self, head: str, body: bytes = b"") -> bytes:
        """All that is answered until the other side closes."""
        reader, writer = await asyncio.open_connection("127.0.0.1", self.port)
        writer.write(head.replace("\n", "\r\n").encode() + b"\r\n\r\n" + body)
        try:
            async with asyncio.timeout(10):
                return await reader.read()
        except ConnectionResetError:
            return b""
        finally:
            writer.close()

    async def deliver(self, body: bytes, secret: str = SECRET) -> int:
        """One whole request; the status."""
        told = await self.knock(f"{head(secret, len(body))}\nConnection: close", body)
        return int(told.split()[1])

    @property
    def kept(self) -> list[str]:
        return [row.body for row in self.store.inbox.rows.values()]


def head(secret: str, length: int) -> str:
    return (
        f"POST /updates HTTP/1.1\nHost: here\nContent-Length: {length}\n"
        f"X-Telegram-Bot-Api-Secret-Token: {secret}"
    )


@asynccontextmanager
async def listening(port: int) -> AsyncIterator[Door]:
    door = Door(port)
    door.server.open("127.0.0.1", port)
    try:
        yield door
    finally:
        await door.server.close()


@pytest.fixture
async def door(unused_tcp_port: int) -> AsyncIterator[Door]:
    async with listening(unused_tcp_port) as opened:
        yield opened


@pytest.mark.parametrize("secret", ["wrong", "", f"{SECRET}x", "ä" * 30])
async def test_without_the_secret_nothing_of_the_body_is_waited_for(
    door: Door, secret: str
) -> None:
    told = await door.knock(head(secret, 90 * 1024 * 1024))
    assert told.startswith(b"HTTP/1.1 403")
    assert not door.kept


async def test_a_body_that_is_announced_too_large_is_not_waited_for(door: Door) -> None:
    told = await door.knock(head(SECRET, LARGEST_BYTES + 1))
    assert told.startswith(b"HTTP/1.1 413")
    assert not door.kept


async def test_a_body_that_only_turns_out_too_large_is_cut_off(door: Door) -> None:
    chunk = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"
    told = await door.knock(
        head(SECRET, 0).replace("Content-Length: 0", "Transfer-Encoding: chunked"),
        chunk * (LARGEST_BYTES // 0x10000 + 2),
    )
    assert not told.startswith(b"HTTP/1.1 200")
    assert not door.kept


async def test_an_update_is_kept_before_it_is_acknowledged(door: Door) -> None:
    update = {"update_id": 7, "message": {"text": "lit"}}
    assert await door.deliver(json.dumps(update).encode()) == 200
    assert [json.loads(body) for body in door.kept] == [update]
    door.store.inbox.broken = 1
    other = json.dumps({"update_id": 8}).encode()
    assert await door.deliver(other) == 503
    assert await door.deliver(other) == 200
    assert len(door.kept) == 2


ODD = (
    b"",
    b"not json",
    b"[1, 2",
    b'"words"',
    b"null",
    b"[]",
    b"\xff\xfe\x00",
    b'{"update_id": true}',
    b'{"update_id": "7"}',
    b'{"update_id": 7.5}',
    b'{"message": {"text": "no number"}}',
    b'{"update_id": ' + b"9" * 5000 + b"}",
    b"[" * 100_000,
    b'{"update_id": 9, "message": {"text": "\\ud83d"}}',
)


@pytest.mark.parametrize("body", ODD, ids=lambda body: repr(body[:24]))
async def test_what_cannot_be_an_update_is_taken_once_and_set_aside(
    door: Door, body: bytes
) -> None:
    assert [await door.deliver(body) for _ in range(2)] == [200, 200]
    assert len(door.kept) == 1
    worker = InboxWorker("telegram", door.store.as_store(), Listening(), incoming)
    assert await worker.drain()
    assert InboxState.WAITING not in door.store.inbox.states.values()


async def test_only_what_is_sent_there_and_posted_is_taken(door: Door) -> None:
    there = head(SECRET, 2)
    assert (await door.knock(there.replace("POST", "GET"), b"{}")).startswith(b"HTTP/1.1 405")
    elsewhere = there.replace("/updates", "/elsewhere") + "\nConnection: close"
    assert (await door.knock(elsewhere, b"{}")).startswith(b"HTTP/1.1 404")
    assert not door.kept


async def test_who_dawdles_over_the_headers_or_the_body_is_cut_off(
    monkeypatch: pytest.MonkeyPatch, unused_tcp_port: int
) -> None:
    monkeypatch.setattr(webhook, "HEADERS_WITHIN_S", 0.1)
    monkeypatch.setattr(webhook, "BODY_WITHIN_S", 0.1)
    async with listening(unused_tcp_port) as door:
        reader, writer = await asyncio.open_connection("127.0.0.1", door.port)
        writer.write(b"POST /updates HTTP/1.1\r\nHost: ")
        async with asyncio.timeout(10):
            assert await reader.read() == b""
        writer.close()
        assert not (await door.knock(head(SECRET, 100), b"{")).startswith(b"HTTP/1.1 200")
        assert not door.kept


async def test_there_is_room_for_so_many_connections_and_no_more(
    monkeypatch: pytest.MonkeyPatch, door: Door
) -> None:
    monkeypatch.setattr(webhook, "MOST_CONNECTIONS", 2)
    held = [await asyncio.open_connection("127.0.0.1", door.port) for _ in range(2)]
    for _, writer in held:
        writer.write(b"POST /updates HTTP/1.1\r\n")
        await writer.drain()
    assert await door.knock(head(SECRET, 2), b"{}") == b""
    for _, writer in held:
        writer.close()
        await writer.wait_closed()
    for _ in range(100):
        if await door.knock(f"{head(SECRET, 2)}\nConnection: close", b"{}"):
            break
        await asyncio.sleep(0.01)
    assert len(door.kept) == 1
