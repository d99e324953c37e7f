"""A disk that is full, for a while: a small file system in memory, which only root can mount."""

import asyncio
import errno
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx

from tests.end_to_end.running import Place
from tests.outages.outage import OWNERS, Bot, Size

SIZE_MB = 24
SAYS_IT = "I cannot keep anything"
PATIENCE_S = 90.0


@dataclass
class FullDisk:
    """Seconds from the moment at which the disk was full, and from that at which it was not."""

    unhealthy_s: float
    told_s: float
    times_told: int
    unhealthy_share: float
    """Of the looks after the first that told it."""
    healthy_s: float
    answered_s: float


@contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    """Raises CalledProcessError where it cannot be mounted."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={SIZE_MB}m", "tmpfs", str(folder)]
    subprocess.run(mount, check=True, capture_output=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=False, capture_output=True)


def fill(disk: Path) -> Path:
    """To the last byte."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        for size in (2**20, 2**12, 1):
            try:
                while True:
                    file.write(b"\0" * size)
            except OSError as error:
                if error.errno != errno.ENOSPC:
                    raise
    return filler


async def full_disk(folder: Path, lasts_s: float = 30.0) -> FullDisk:
    """An owner writes while nothing can be kept."""
    port = _free_port()
    with small_disk(folder / "disk") as disk:
        bot = Bot(folder, Size.small())
        bot.settings["health_port"] = str(port)
        bot.place = Place(bot.api, folder, bot.settings)
        bot.place.file = disk / "house.sqlite"
        async with bot.api:
            await bot.meet()
            async with bot.place.running(), httpx.AsyncClient(trust_env=False) as client:
                await bot.ready()
                await bot.settled()
                url = f"http://127.0.0.1:{port}/health"
                await _until(client, url, lambda ok: ok)
                filler = fill(disk)
                began, seen = time.monotonic(), len(bot.api.read(OWNERS[0]))
                await bot.write(OWNERS[0])
                unhealthy_s = await _until(client, url, lambda ok: not ok)
                await bot.api.until(lambda: _told(bot) > 0, PATIENCE_S)
                told_s = time.monotonic() - began
                await bot.write(OWNERS[0])
                looks = [await _is_well(client, url) for _ in range(int(lasts_s))]
                times = _told(bot)
                filler.unlink()
                began = time.monotonic()
                await bot.api.until(
                    lambda: len(bot.api.read(OWNERS[0])) >= seen + times + 2, PATIENCE_S
                )
                answered_s = time.monotonic() - began
                await _until(client, url, lambda ok: ok)
                healthy_s = time.monotonic() - began
    share = looks.count(False) / len(looks)
    return FullDisk(unhealthy_s, told_s, times, share, healthy_s, answered_s)


async def _until(client: httpx.AsyncClient, url: str, wanted: Callable[[bool], bool]) -> float:
    began = time.monotonic()
    async with asyncio.timeout(PATIENCE_S):
        while not wanted(await _is_well(client, url)):
            pass
    return time.monotonic() - began


async def _is_well(client: httpx.AsyncClient, url: str) -> bool:
    """One look, a second after the last."""
    await asyncio.sleep(1.0)
    try:
        return (await client.get(url)).status_code == httpx.codes.OK
    except httpx.HTTPError:
        return False


def _told(bot: Bot) -> int:
    return sum(SAYS_IT in one.text for one in bot.api.read(OWNERS[0]))


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port: int = server.getsockname()[1]
        return port
