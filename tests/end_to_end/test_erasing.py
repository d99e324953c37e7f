"""Whoever asks to be erased is found nowhere any more: in no table, no file and no log."""

import io
import logging
import re
import sqlite3
from collections.abc import AsyncIterator, Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from bot import logs
from bot.commands.restore import _restore
from bot.conversation.chat import Chat
from bot.conversation.reception import Reception
from bot.conversation.setting_up import SettingUp
from bot.erased import NAME, ErasedList
from bot.parts import shipped
from bot.places import Place
from bot.settings import read_settings
from bot.wiring import Parts, open_chat
from storage.address import sqlite_url
from storage.backup import back_up
from storage.store import open_store

START = datetime(2026, 5, 20, 17, tzinfo=UTC)
MINUTE = timedelta(minutes=1)

TRACES = (
    "tobiaswren", "Tobias", "Quillberrow", "heronry", "52.1234", "1.4321", "limping",
)  # fmt: skip
"""Name, address, places and words of somebody, by which they would be known."""

START_OF_CODE = re.compile(r"this code[^:]*: (\S+)")


class OnePlace:
    """A book of places that knows where they live."""

    def at(self, latitude: float, longitude: float) -> Place:
        return Place(latitude, longitude, "Europe/London", "Quillberrow")

    def named(self, typed: str) -> tuple[Place, ...]:
        return ()


def parts() -> Parts:
    places: Any = OnePlace
    return replace(shipped(), receiver=lambda base: Reception(base, None, SettingUp(places)))


class House:
    """A house of a builder, Vic, with two clients."""

    def __init__(self, chat: Chat, folder: Path, log: io.StringIO) -> None:
        self.chat = chat
        self.folder = folder
        self.log = log
        self.url = sqlite_url(folder / "house.sqlite")

    async def says(self, who: str, *texts: str) -> list[str]:
        heard = []
        for text in texts:
            at = self.chat.now + MINUTE
            heard += await self.chat.say(who, text, at)
        return [one.text for one in heard if one.to == who]

    async def taps(self, who: str, label: str) -> list[str]:
        heard = await self.chat.press(who, label, self.chat.now + MINUTE)
        return [one.text for one in heard if one.to == who]

    async def lives(self) -> None:
        """Tobias comes, tells of himself and his oven; so does Ana."""
        (invitation,) = await self.says("vic", "/invite Tobias W")
        code = START_OF_CODE.search(invitation)
        assert code is not None
        await self.says("tobiaswren", code[1], "C")
        await self.chat.location("tobiaswren", 52.1234, -1.4321, self.chat.now + MINUTE)
        await self.says("tobiaswren", "Tobias here, the oven stands by the heronry in Quillberrow")
        await self.chat.photo("tobiaswren", self.chat.now + MINUTE, caption="my limping cat")
        await self.says("ana", "hi", "F")
        await self.says("vic", "/invite Ottoline", "/team", "/invitations")
        await self.is_looked_after()

    async def is_looked_after(self) -> None:
        """Vic steps in, with words that nobody else would know Tobias by."""
        await self.says("vic", "tobiaswren", "note: the limping one from the heronry")
        await self.says("vic", "cap 250, limping", "cap 300, the heronry is dry", "talk")
        await self.says("vic", "is the heronry dry?")
        await self.says("tobiaswren", "I am limping through Quillberrow")
        await self.says("vic", "end talk", "list", "tobiaswren", "journal")
        await self.says("vic", "oven", "size: 80 cm", "town: heronry", "/week", "/export")

    async def goes(self, who: str = "tobiaswren") -> list[str]:
        await self.says(who, "/erase")
        told = await self.taps(who, "Erase me for good")
        await self.chat.pass_time(self.chat.now + 3 * MINUTE)
        return told

    def everything(self) -> str:
        """All tables, and all bytes of all files as they lie there; and the log."""
        found = [self.log.getvalue()]
        with closing(sqlite3.connect(self.folder / "house.sqlite")) as plain:
            names = plain.execute("select name from sqlite_master where type = 'table'")
            for (name,) in names.fetchall():
                found += [str(row) for row in plain.execute(f'select * from "{name}"')]
        for path in self.folder.rglob("*"):
            if path.is_file() and path.suffix != ".zip":
                found.append(path.read_bytes().decode("latin-1"))
        return "\n".join(found)


@pytest.fixture
def log() -> Iterator[io.StringIO]:
    root = logging.getLogger()
    before, level = root.handlers[:], root.level
    stream = io.StringIO()
    logs.set_up("DEBUG", stream=stream)
    yield stream
    root.handlers[:] = before
    root.setLevel(level)


@pytest.fixture
async def house(tmp_path: Path, log: io.StringIO) -> AsyncIterator[House]:
    url = sqlite_url(tmp_path / "house.sqlite")
    chat = await open_chat(START, parts(), builder="vic", database_url=url)
    yield House(chat, tmp_path, log)
    await chat.close()


async def test_nothing_of_them_is_left_in_any_table_file_or_log(house: House) -> None:
    await house.lives()
    before = house.everything()
    assert all(trace in before for trace in TRACES)
    told = await house.goes()
    assert any("you are erased" in one for one in told)
    after = house.everything()
    assert [trace for trace in TRACES if trace.lower() in after.lower()] == []
    # Others go on as before.
    assert any("Which town is the oven in" in one for one in await house.says("ana", "/start"))


async def test_who_comes_back_is_a_stranger(house: House) -> None:
    await house.lives()
    await house.says("tobiaswren", "/erase")
    await house.taps("tobiaswren", "Erase me for good")
    # Before the last of it is swept away, and after.
    assert (await house.says("tobiaswren", "hello"))[0].startswith("Please light nothing")
    await house.goes()
    assert (await house.says("tobiaswren", "hello"))[0].startswith("Please light nothing")


async def test_a_backup_put_back_has_forgotten_them_too(house: House, tmp_path: Path) -> None:
    await house.lives()
    old = tmp_path / "old.zip"
    await back_up(house.url, old, house.chat.now)
    await house.goes()
    async with house.chat.store.read() as unit:
        erased = await unit.erasures.all()
    ErasedList(tmp_path / "new" / NAME).keep(erased)

    url = sqlite_url(tmp_path / "new" / "house.sqlite")
    about, forgotten = await _restore(read_settings(None, database_url=url), old, None)
    assert (about.rows["people"], forgotten) == (3, 1)
    store = await open_store(url)
    async with store.read() as unit:
        assert await unit.people.at("replay", "ana") is not None
    await store.close()
    again = House(house.chat, tmp_path / "new", io.StringIO()).everything()
    assert [trace for trace in TRACES if trace.lower() in again.lower()] == []


async def test_the_last_of_a_team_is_erased_and_clients_are_told(house: House) -> None:
    await house.lives()
    await house.says("vic", "/erase")
    heard = await house.chat.press("vic", "Erase me for good", house.chat.now + MINUTE)
    told = {one.to: one.text for one in heard}
    assert "No builder looks on" in told["ana"]
    await house.chat.pass_time(house.chat.now + 3 * MINUTE)
    async with house.chat.store.read() as unit:
        assert await unit.people.at("replay", "vic") is None
        assert await unit.builders.get("team-vic") is None
        ana = await unit.people.at("replay", "ana")
        assert ana is not None
        (card,) = await unit.ovens.of_person(ana.id)
        assert card.builder is None
