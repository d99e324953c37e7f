"""Connections to Telegram: each is taken by one call at a time, the last that came free first."""

import asyncio
import ssl
from collections import deque
from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any, cast
from urllib.request import getproxies

import httpx

IDLE_S = 5.0
"""A connection that nobody used for so long is closed, as httpx does."""

_ONE = httpx.Limits(max_connections=1, max_keepalive_connections=1, keepalive_expiry=IDLE_S)

Close = Callable[[], Awaitable[None]]


class Lanes(httpx.AsyncBaseTransport):
    """A transport of at most ``most`` connections, each a pool of one.

    httpx's own pool asks the system about every connection whenever a call begins or ends: with
    thirty of them that takes longer than all else that is done for a letter. Here only the one
    that is taken is looked at. Raises what httpx's transport raises; PoolTimeout where none comes
    free in the time that the call gives.
    """

    def __init__(self, most: int) -> None:
        self._room = asyncio.Semaphore(most)
        self._idle: deque[tuple[httpx.AsyncHTTPTransport, float]] = deque()
        self._trust: ssl.SSLContext | None = None

    async def handle_async_request(self, request: httpx.Request) -> httpx.Response:
        """One call. Its connection is free again when the answer has been read and closed."""
        try:
            async with asyncio.timeout(request.extensions.get("timeout", {}).get("pool")):
                await self._room.acquire()
        except TimeoutError as error:
            raise httpx.PoolTimeout("no connection came free", request=request) from error
        lane = self._idle.pop()[0] if self._idle else self._open()
        try:
            answer = await lane.handle_async_request(request)
        except BaseException:
            await self._give_back(lane)
            raise
        body = cast(httpx.AsyncByteStream, answer.stream)
        return httpx.Response(
            answer.status_code,
            headers=answer.headers,
            stream=_Held(body, lambda: self._give_back(lane)),
            extensions=answer.extensions,
        )

    async def aclose(self) -> None:
        """Close all that are free; used again, new ones are opened."""
        while self._idle:
            await self._idle.pop()[0].aclose()

    def _open(self) -> httpx.AsyncHTTPTransport:
        # Loading whom to trust takes longer than a call, so all share it.
        self._trust = self._trust or httpx.create_ssl_context()
        return httpx.AsyncHTTPTransport(verify=self._trust, limits=_ONE)

    async def _give_back(self, lane: httpx.AsyncHTTPTransport) -> None:
        now = asyncio.get_running_loop().time()
        self._idle.append((lane, now))
        self._room.release()
        if now - self._idle[0][1] > IDLE_S:
            await self._idle.popleft()[0].aclose()


class _Held(httpx.AsyncByteStream):
    """An answer's body; ``then`` is called once when it is closed."""

    def __init__(self, body: httpx.AsyncByteStream, then: Close) -> None:
        self._body = body
        self._then: Close | None = then

    async def __aiter__(self) -> AsyncIterator[bytes]:
        async for part in self._body:
            yield part

    async def aclose(self) -> None:
        then, self._then = self._then, None
        try:
            await self._body.aclose()
        finally:
            if then is not None:
                await then()


def connections(most: int) -> dict[str, Any]:
    """``httpx_kwargs`` of a request over lanes; behind a proxy that the environment names httpx's
    own pool, which finds its way through it."""
    return {} if getproxies() else {"transport": Lanes(most)}
