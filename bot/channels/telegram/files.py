"""Pictures and files that people sent, fetched again from Telegram."""

import structlog
from telegram import Bot
from telegram.error import TelegramError

from bot.channels.telegram.translation import PHOTO_PREFIX

MOST_BYTES = 20 * 1024 * 1024
"""The largest file that a bot may fetch: core.telegram.org/bots/api, getFile."""

_log = structlog.get_logger(__name__)


class TelegramFiles:
    """The ``SentFiles`` of Telegram."""

    def __init__(self, bot: Bot) -> None:
        self._bot = bot

    async def __call__(self, reference: str) -> bytes | None:
        """Its content; None for one of another channel, too large, or gone."""
        if not reference.startswith(PHOTO_PREFIX):
            return None
        try:
            file = await self._bot.get_file(reference.removeprefix(PHOTO_PREFIX))
            if (file.file_size or 0) > MOST_BYTES:
                return None
            return bytes(await file.download_as_bytearray())
        except TelegramError as error:
            _log.warning("a file could not be fetched", why=str(error))
            return None


def files_url(base_url: str) -> str:
    """Where files are had, beside the base URL of the methods: ".../bot" has ".../file/bot"."""
    stem = base_url.removesuffix("/bot")
    return f"{stem}/file/bot" if stem != base_url else f"{base_url}/file"
