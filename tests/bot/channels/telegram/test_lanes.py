"""A pool of connections: what is taken is given back, whatever became of the call."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import httpx
import pytest

from bot.channels.telegram.lanes import Lanes, connections

ANSWER = b"HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\nok"


class Counter:
    """An HTTP server on loopback that counts its connections and answers when it may."""

    def __init__(self) -> None:
        self.opened = 0
        self.asked = 0
        self.may_answer = asyncio.Event()
        self.may_answer.set()
        self.cuts = 0
        self.news = asyncio.Condition()
        self.url = ""

    @asynccontextmanager
    async def listening(self) -> AsyncIterator["Counter"]:
        server = await asyncio.start_server(self._serve, "127.0.0.1", 0)
        self.url = f"http://127.0.0.1:{server.sockets[0].getsockname()[1]}/"
        yield self
        self.may_answer.set()
        server.close()

    async def until_asked(self, count: int) -> None:
        async with asyncio.timeout(5), self.news:
            await self.news.wait_for(lambda: self.asked >= count)

    async def _serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self.opened += 1
        try:
            while await reader.readuntil(b"\r\n\r\n"):
                async with self.news:
                    self.asked += 1
                    self.news.notify_all()
                await self.may_answer.wait()
                if self.cuts:
                    self.cuts -= 1
                    break
                writer.write(ANSWER)
        except (asyncio.IncompleteReadError, ConnectionError):
            pass
        finally:
            writer.close()


@pytest.fixture
async def server() -> AsyncIterator[Counter]:
    async with Counter().listening() as counter:
        yield counter


def client(lanes: Lanes, pool_s: float = 5.0) -> httpx.AsyncClient:
    return httpx.AsyncClient(transport=lanes, timeout=httpx.Timeout(5.0, pool=pool_s))


async def test_calls_one_after_another_share_a_connection(server: Counter) -> None:
    async with client(Lanes(4)) as calls:
        answers = [(await calls.get(server.url)).text for _ in range(5)]
    assert answers == ["ok"] * 5
    assert server.opened == 1


async def test_no_more_run_side_by_side_than_there_are_lanes(server: Counter) -> None:
    server.may_answer.clear()
    async with client(Lanes(2)) as calls:
        waiting = [asyncio.create_task(calls.get(server.url)) for _ in range(6)]
        await server.until_asked(2)
        assert server.asked == 2
        server.may_answer.set()
        assert [one.text for one in await asyncio.gather(*waiting)] == ["ok"] * 6
    assert server.opened == 2


async def test_a_call_for_which_none_comes_free_was_not_sent(server: Counter) -> None:
    server.may_answer.clear()
    async with client(Lanes(1), pool_s=0.05) as calls:
        first = asyncio.create_task(calls.get(server.url))
        await server.until_asked(1)
        with pytest.raises(httpx.PoolTimeout):
            await calls.get(server.url)
        assert server.asked == 1
        server.may_answer.set()
        assert (await first).text == "ok"


async def test_a_cut_connection_gives_its_lane_back(server: Counter) -> None:
    server.cuts = 1
    async with client(Lanes(1)) as calls:
        with pytest.raises(httpx.RemoteProtocolError):
            await calls.get(server.url)
        assert (await calls.get(server.url)).text == "ok"
    assert server.opened == 2


async def test_a_call_that_is_cancelled_gives_its_lane_back(server: Counter) -> None:
    server.may_answer.clear()
    async with client(Lanes(1)) as calls:
        first = asyncio.create_task(calls.get(server.url))
        await server.until_asked(1)
        first.cancel()
        with pytest.raises(asyncio.CancelledError):
            await first
        server.may_answer.set()
        assert (await calls.get(server.url)).text == "ok"


async def test_where_nobody_listens_nothing_was_sent_and_the_lane_is_free_again(
    server: Counter,
) -> None:
    lanes = Lanes(1)
    async with client(lanes) as calls:
        with pytest.raises(httpx.ConnectError):
            await calls.get("http://127.0.0.1:9/")
        assert (await calls.get(server.url)).text == "ok"


def test_behind_a_proxy_the_library_finds_its_own_way(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("http_proxy", "https_proxy", "all_proxy", "no_proxy"):
        monkeypatch.delenv(name, raising=False)
        monkeypatch.delenv(name.upper(), raising=False)
    assert isinstance(connections(4)["transport"], Lanes)
    monkeypatch.setenv("HTTPS_PROXY", "http://127.0.0.1:3128")
    assert connections(4) == {}
