"""Papers in and out over real HTTP: a record to an owner, a builder's ways there and back."""

import io
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from bot.parts import codes_of, shipped
from bot.settings import Settings, read_settings
from bot.ways.reading import read_ways
from bot.wiring import telegram_house
from tests.bot.papers.five_fires import photo
from tests.bot.ways.files import FULL
from tests.botapi import methods
from tests.botapi.server import TOKEN, BotApi

OWNER, BUILDER = 7, 8


@pytest.fixture
async def api() -> AsyncIterator[BotApi]:
    async with BotApi() as server:
        yield server


def settings_of(api: BotApi, folder: Path) -> Settings:
    url = f"sqlite+aiosqlite:///{folder / 'ovens.sqlite'}"
    return read_settings(None, token=TOKEN, telegram_url=api.url, database_url=url)


def files(api: BotApi, chat: int) -> list[methods.Upload]:
    return [one.file for one in api.read(chat) if isinstance(one.file, methods.Upload)]


async def test_an_owner_gets_their_record_as_a_document_with_their_photo_in_it(
    api: BotApi, tmp_path: Path
) -> None:
    settings = settings_of(api, tmp_path)
    codes = codes_of(settings)
    assert codes is not None
    async with telegram_house(settings, shipped(settings)):
        await api.say(OWNER, f"/start {codes.owner}")
        await api.until(lambda: len(api.read(OWNER)) >= 1)
        api.files["crack"] = photo()
        await api.send_photo(OWNER, "crack", "a hairline crack near the mouth")
        await api.until(lambda: len(api.read(OWNER)) >= 3)
        await api.say(OWNER, "/record")
        await api.until(lambda: bool(files(api, OWNER)), within_s=30.0)
    (document,) = files(api, OWNER)
    assert document.name == "oven-record.pdf"
    pages = PdfReader(io.BytesIO(document.content)).pages
    assert "Ana" in pages[0].extract_text()
    assert sum(len(page.images) for page in pages) == 1


async def test_a_builder_sends_a_file_of_ways_and_gets_it_back_the_same(
    api: BotApi, tmp_path: Path
) -> None:
    settings = settings_of(api, tmp_path)
    codes = codes_of(settings)
    assert codes is not None

    def told(words: str) -> bool:
        return any(words in one.text for one in api.read(BUILDER))

    async with telegram_house(settings, shipped(settings)):
        await api.say(BUILDER, f"/start {codes.builder}")
        await api.until(lambda: len(api.read(BUILDER)) >= 1)
        await api.send_file(BUILDER, "our-ways.toml", FULL.encode())
        await api.until(lambda: told("Version 1 is kept"))
        await api.say(BUILDER, "/ways")
        await api.until(lambda: bool(files(api, BUILDER)))
    (document,) = files(api, BUILDER)
    assert read_ways(document.content.decode()) == read_ways(FULL)
