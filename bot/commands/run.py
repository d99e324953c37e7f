"""``stokewatch run``: talk on Telegram where a token is set, else in this terminal."""

import asyncio
import getpass
import signal
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console
from telegram.error import InvalidToken

from bot import logs
from bot.listening import PortTakenError
from bot.settings import Settings, SettingsError, read_settings
from storage.address import file_of, read_address
from storage.faults import StorageFault
from storage.owner import Owner, whose

if TYPE_CHECKING:
    from bot.wiring import Parts


def run(
    pictures: Annotated[
        Path, typer.Option(help="Where the terminal keeps pictures and papers.")
    ] = Path("stokewatch-pictures"),
) -> None:
    """Run until stopped: on Telegram if STOKEWATCH_TOKEN is set, else in this terminal."""
    try:
        settings = read_settings()
    except SettingsError as error:
        typer.echo("These settings cannot be used:", err=True)
        for sentence in error.sentences:
            typer.echo(f"  {sentence}", err=True)
        raise typer.Exit(2) from None
    secrets = [s.get_secret_value() for s in (settings.token, settings.webhook_secret) if s]
    level = settings.log_level if settings.token else "ERROR"
    logs.set_up(level, settings.log_json, secrets)
    # Loaded only now: drawing and weather take a second to import.
    from bot.parts import first_words, shipped

    parts = shipped(settings)
    if settings.token is not None and (sys.stdout.isatty() or is_first_run(settings)):
        # Later starts are a service's, and its log is no place for them.
        for sentence in first_words(settings):
            typer.echo(sentence)
    try:
        asyncio.run(
            _telegram(settings, parts) if settings.token else _terminal(settings, parts, pictures)
        )
    except StorageFault as fault:
        typer.echo(f"{fault}\n`stokewatch check` looks at everything it stands on.", err=True)
        raise typer.Exit(1) from None
    except PortTakenError as fault:
        typer.echo(str(fault), err=True)
        raise typer.Exit(1) from None
    except InvalidToken:
        typer.echo(
            "Telegram does not know this token; `stokewatch check` says what to do.", err=True
        )
        raise typer.Exit(1) from None
    except KeyboardInterrupt:
        raise typer.Exit(0) from None


async def _telegram(settings: Settings, parts: "Parts") -> None:
    """Until SIGINT or SIGTERM; what is in hand is finished first."""
    from bot.wiring import telegram_house

    stop = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGINT, signal.SIGTERM):
        loop.add_signal_handler(number, stop.set)
    async with telegram_house(settings, parts):
        await stop.wait()


async def _terminal(settings: Settings, parts: "Parts", pictures: Path) -> None:
    from bot.wiring import terminal_house

    console = Console(highlight=False)
    async with terminal_house(settings, parts, console, pictures, _typed, _name()) as channel:
        await channel.run()


def is_first_run(settings: Settings) -> bool:
    """Whether nobody can have begun yet, as far as a look at the file tells."""
    path = file_of(read_address(settings.database_url))
    return path is not None and whose(path).owner is Owner.NOBODY


def _typed() -> str | None:
    try:
        line = sys.stdin.readline()
    except (KeyboardInterrupt, ValueError):
        return None
    return line.rstrip("\n") if line else None


def _name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return ""
