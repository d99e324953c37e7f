"""The parts of the real house."""

from bot.attachments import make
from bot.channels.telegram.menus import MenuBook
from bot.conversation.foundation import Foundation
from bot.conversation.meeting import first_run_codes
from bot.conversation.people.arriving import FirstRunCodes
from bot.conversation.reception import Reception
from bot.settings import Settings
from bot.wiring import Parts
from bot.wording import menu
from bot.wording.voice import Voice
from scheduling.waking.book import OvenBook
from storage.store import open_store


def shipped(settings: Settings | None = None) -> Parts:
    """The real parts. With ``settings`` the first-run codes of that installation count."""
    codes = codes_of(settings) if settings is not None else None

    def reception(base: Foundation) -> Reception:
        return Reception(base, codes)

    return Parts(
        open_store=open_store,
        book=OvenBook(),
        voice=Voice(),
        painter=make,
        receiver=reception,
        menus=MenuBook(menu.OWNER, menu.BUILDER, menu.BOTH),
    )


def codes_of(settings: Settings) -> FirstRunCodes | None:
    """The codes of an installation on Telegram; in the terminal none are needed."""
    if settings.token is None:
        return None
    return first_run_codes(settings.token.get_secret_value())


def first_words(settings: Settings) -> tuple[str, ...]:
    """What the first owner and the first builder send; nothing where no code is needed."""
    codes = codes_of(settings)
    if codes is None:
        return ()
    return (
        f"Fire alone? Send the bot: /start {codes.owner}",
        f"A builder? Send the bot: /start {codes.builder}",
    )
