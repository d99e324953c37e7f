"""Asking for updates: politely refused, cut off, unreadable, or told to wait."""

import asyncio
import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import httpx
import pytest

from bot.channels.telegram.fetching import Line, NotFetchedError, Polling
from bot.channels.telegram.intake import Intake
from scheduling.clock import SteppedClock
from tests.bot.channels.inbox_fake import StoreFake

NINE = datetime(2026, 5, 13, 9, tzinfo=UTC)
URL = "http://telegram.invalid/bot4711:AA/getUpdates"

Answer = Callable[[dict[str, str]], httpx.Response]


class EndError(BaseException):
    """Ends the polling, which nothing else does."""


def line(*answers: httpx.Response | Exception) -> tuple[Line, list[dict[str, str]]]:
    """A line that gives these answers, and then ends; with what it was asked."""
    asked: list[dict[str, str]] = []
    left = list(answers)

    def answer(request: httpx.Request) -> httpx.Response:
        asked.append(dict(httpx.QueryParams(request.content.decode())))
        if not left:
            raise EndError
        told = left.pop(0)
        if isinstance(told, Exception):
            raise told
        return told

    return Line(httpx.AsyncClient(transport=httpx.MockTransport(answer)), URL, 20.0), asked


def updates(*numbers: int) -> httpx.Response:
    result = [{"update_id": number, "message": {"text": f"m{number}"}} for number in numbers]
    return httpx.Response(200, json={"ok": True, "result": result})


REFUSED = httpx.Response(200, json={"ok": False, "error_code": 500, "description": "not now"})


class Polled:
    """What came of polling a line to its end."""

    def __init__(self) -> None:
        self.store = StoreFake()
        self.pauses: list[float] = []
        self.answered = 0
        self.begun = 0
        self.asked: list[dict[str, str]] = []

    async def over(self, patch: pytest.MonkeyPatch, *answers: httpx.Response | Exception) -> None:
        async def sleep(seconds: float) -> None:
            self.pauses.append(seconds)

        async def begin() -> None:
            self.begun += 1

        def heard() -> None:
            self.answered += 1

        patch.setattr("bot.channels.telegram.fetching.asyncio.sleep", sleep)
        over, self.asked = line(*answers)
        intake = Intake(self.store.as_store(), SteppedClock(NINE), lambda _: None)
        with pytest.raises(EndError):
            await Polling(over, intake, heard, begin).run()
        await over.client.aclose()

    @property
    def kept(self) -> list[str]:
        return [row.key for row in self.store.inbox.rows.values()]


async def test_a_batch_is_stored_and_then_acknowledged(monkeypatch: pytest.MonkeyPatch) -> None:
    polled = Polled()
    await polled.over(monkeypatch, updates(7, 8), updates(9))
    assert polled.kept == ["7", "8", "9"]
    assert [one.get("offset") for one in polled.asked] == [None, "9", "10"]
    assert polled.begun == 1
    assert polled.answered == 2
    assert not polled.pauses


@pytest.mark.parametrize(
    "failure",
    [
        REFUSED,
        httpx.Response(200, json={"ok": True}),
        httpx.Response(502, text="<html>"),
        httpx.Response(401, json={"ok": False}),
        httpx.ConnectError("no network"),
        httpx.ReadTimeout("slow"),
    ],
    ids=["polite", "no result", "502", "401", "no network", "slow"],
)
async def test_every_failure_is_backed_off_from_however_polite(
    monkeypatch: pytest.MonkeyPatch, failure: httpx.Response | Exception
) -> None:
    polled = Polled()
    await polled.over(monkeypatch, *[failure] * 8, updates(7), failure)
    assert polled.pauses == [0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0, 0.5]
    assert polled.answered == 1, "a refusal is no sign of life"
    assert polled.kept == ["7"]


async def test_a_wait_that_is_told_is_waited(monkeypatch: pytest.MonkeyPatch) -> None:
    told = {"ok": False, "error_code": 429, "parameters": {"retry_after": 17}}
    polled = Polled()
    await polled.over(monkeypatch, httpx.Response(429, json=told), updates(7))
    assert polled.pauses == [17.0]


async def test_what_could_not_be_stored_is_fetched_again(monkeypatch: pytest.MonkeyPatch) -> None:
    polled = Polled()
    polled.store.inbox.broken = 1
    await polled.over(monkeypatch, updates(7), updates(7))
    assert [one.get("offset") for one in polled.asked] == [None, None, "8"]
    assert polled.kept == ["7"]


async def test_one_update_that_cannot_be_read_holds_back_no_other(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    odd = b'{"ok":true,"result":[{"update_id":7,"message":' + b"[" * 100_000
    polled = Polled()
    unreadable = [httpx.Response(200, content=odd) for _ in range(2)]
    await polled.over(monkeypatch, *unreadable, updates(8))
    assert [one["limit"] for one in polled.asked] == ["100", "1", "100", "100"]
    assert polled.asked[2]["offset"] == "8"
    assert polled.kept[-1] == "8"
    assert len(polled.kept) == 2


async def test_an_update_of_any_shape_is_kept_beside_the_others(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    result: list[Any] = [7, None, {"update_id": "x"}, {"update_id": 8}, [[]], "words"]
    polled = Polled()
    answer = httpx.Response(200, text=json.dumps({"ok": True, "result": result}))
    await polled.over(monkeypatch, answer)
    assert len(polled.kept) == 6
    assert polled.asked[-1]["offset"] == "9"


async def test_no_error_names_the_token() -> None:
    for failure in (httpx.ConnectError(f"no way to {URL}"), httpx.Response(502, text=URL)):
        over, _ = line(failure)
        with pytest.raises(NotFetchedError) as told:
            await over.ask(None)
        assert "4711" not in str(told.value)
        await over.client.aclose()


async def test_who_shares_a_unit_that_fails_is_stored_all_the_same() -> None:
    """Two deliveries at once: the unit that the first began fails; the second still is kept."""
    store = StoreFake()
    intake = Intake(store.as_store(), SteppedClock(NINE), lambda _: None)
    store.inbox.broken = 1
    first, second = await asyncio.gather(
        intake.keep([{"update_id": 1}]), intake.keep([{"update_id": 2}]), return_exceptions=True
    )
    assert isinstance(first, Exception)
    assert second is None
    assert [row.key for row in store.inbox.rows.values()] == ["2"]
