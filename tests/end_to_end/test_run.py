"""``stokewatch run`` and ``stokewatch replay -`` as processes, told to stop and fed by a pipe."""

import asyncio
import json
import logging
import re
import signal
import socket
import sqlite3
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
import structlog
from typer.testing import CliRunner

from bot.__main__ import app_for
from storage.address import sqlite_url
from storage.holding import held_alone
from tests.botapi.server import TOKEN, BotApi
from tests.end_to_end.running import PATIENCE_S, ROOT, Place

CHAT = 7
ASKS_PLACE = "Which town is the oven in"


async def test_who_is_told_to_stop_finishes_what_is_in_hand(tmp_path: Path) -> None:
    async with BotApi() as api:
        place = Place(api, tmp_path, {})
        async with place.running() as process:
            await api.until(lambda: bool(api.called("setMyCommands")), PATIENCE_S)
            code = re.search(r"Fire alone\? Send the bot: /start (\S+)", place.logged())
            assert code is not None, place.logged()
            await api.say(CHAT, f"/start {code[1]}")
            await place.until_shown(1, CHAT)
            await api.say(CHAT, "C")
            await api.until(lambda: not api.waiting, PATIENCE_S)
            process.send_signal(signal.SIGTERM)
            assert await process.wait() == 0, place.logged()
        # What was stored but not begun is there at the next start, and a chat is sent one
        # message a second: nothing of either is lost.
        assert stored(place).keys() <= {"done", "waiting"}
        async with place.running() as process:
            await api.until(lambda: stored(place) == {"done": 2}, PATIENCE_S)
            await api.until(lambda: any(ASKS_PLACE in one for one in shown(api)), PATIENCE_S)
            process.send_signal(signal.SIGTERM)
            assert await process.wait() == 0, place.logged()
        assert sum(ASKS_PLACE in one for one in shown(api)) == 1
        assert TOKEN not in place.logged()
        assert "/start" not in place.logged(), "a service's log is no place for the codes"


@pytest.fixture
def refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[..., str]:
    """Runs it over a line that is dead, and returns why it would not."""

    def run(**told: str) -> str:
        monkeypatch.chdir(tmp_path)
        told = {"token": TOKEN, "telegram_url": "http://127.0.0.1:1/bot"} | told
        for name, value in told.items():
            monkeypatch.setenv(f"STOKEWATCH_{name.upper()}", value)
        root = logging.getLogger()
        before, level = list(root.handlers), root.level
        try:
            done = CliRunner().invoke(app_for(["run"]), ["run"])
        finally:
            root.handlers[:] = before
            root.setLevel(level)
            structlog.reset_defaults()
        assert done.exit_code == 1, done.output
        assert "Traceback" not in done.output
        return str(done.output)

    return run


def test_a_second_one_on_the_same_file_is_refused(
    refused: Callable[..., str], tmp_path: Path
) -> None:
    with held_alone(sqlite_url(tmp_path / "stokewatch.sqlite")):
        assert "Another stokewatch" in refused()


def test_a_file_of_another_program_is_refused_and_left_as_it_is(
    refused: Callable[..., str], tmp_path: Path
) -> None:
    path = tmp_path / "stokewatch.sqlite"
    with closing(sqlite3.connect(path)) as plain:
        plain.execute("create table songs (title text)")
    before = path.read_bytes()
    assert "a database of another program" in refused()
    assert path.read_bytes() == before


def test_a_taken_port_gets_a_sentence(refused: Callable[..., str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        told = refused(health_port=port)
    assert f"Port {port} on 127.0.0.1 is taken by another program" in told
    assert "STOKEWATCH_HEALTH_PORT" in told


def stored(place: Place) -> dict[str, int]:
    """How many updates there are of each state."""
    with closing(sqlite3.connect(place.file)) as plain:
        return dict(plain.execute("select state, count(*) from inbox group by state"))


def shown(api: BotApi) -> list[str]:
    """The texts that were sent."""
    return [str(call) for call in api.called("sendMessage")]


async def test_a_script_can_answer_what_replay_says_through_a_pipe(tmp_path: Path) -> None:
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-m", "bot", "replay", "-",
        cwd=tmp_path, env={"PYTHONPATH": str(ROOT)},
        stdin=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.PIPE,
    )  # fmt: skip
    assert process.stdin is not None
    assert process.stdout is not None

    async def tell(minute: int, text: str) -> list[dict[str, object]]:
        """Write a line, and read until it is answered: nothing may be kept in a buffer."""
        assert process.stdin is not None
        assert process.stdout is not None
        line = {"at": f"2026-05-20T18:0{minute}:00+01:00", "from": "ana", "text": text}
        process.stdin.write(json.dumps(line).encode() + b"\n")
        heard: list[dict[str, object]] = []
        async with asyncio.timeout(PATIENCE_S):
            while not heard or "ready" not in heard[-1]:
                heard.append(json.loads(await process.stdout.readline()))
        return heard

    first = await tell(0, "hi")
    assert "light nothing" in str(first[0]["text"])
    second = await tell(1, "C")
    assert "Which town is the oven in" in str(second[0]["text"])
    assert second[-1] == {"ready": "2026-05-20T18:01:00+01:00"}
    process.stdin.close()
    assert await process.wait() == 0
