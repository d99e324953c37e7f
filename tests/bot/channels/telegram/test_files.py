"""Pictures and files that people sent, fetched again over real HTTP."""

from collections.abc import AsyncIterator

import pytest
from telegram import Bot

from bot.channels.telegram.files import TelegramFiles, files_url
from tests.botapi.faults import BadGateway
from tests.botapi.server import TOKEN, BotApi

PICTURE = b"\xff\xd8\xff a picture"


@pytest.fixture
async def api() -> AsyncIterator[BotApi]:
    async with BotApi() as server:
        server.files["f1"] = PICTURE
        yield server


@pytest.fixture
async def photos(api: BotApi) -> AsyncIterator[TelegramFiles]:
    async with Bot(TOKEN, base_url=api.url, base_file_url=files_url(api.url)) as bot:
        yield TelegramFiles(bot)


async def test_a_photo_comes_back_as_it_was_sent(photos: TelegramFiles) -> None:
    assert await photos("telegram:f1") == PICTURE


async def test_one_that_is_gone_or_of_another_channel_is_none(photos: TelegramFiles) -> None:
    assert await photos("telegram:gone") is None
    assert await photos("terminal:f1") is None


async def test_a_failing_server_costs_the_photo_and_nothing_else(
    api: BotApi, photos: TelegramFiles
) -> None:
    api.fail("getFile", BadGateway())
    assert await photos("telegram:f1") is None
    assert await photos("telegram:f1") == PICTURE


def test_files_are_had_beside_the_methods() -> None:
    assert files_url("https://api.telegram.org/bot") == "https://api.telegram.org/file/bot"
