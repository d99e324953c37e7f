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
from bot.settings import Settings, SettingsError, read_settings
from storage.faults import StorageFault

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
    from bot.parts import codes_of, shipped

    parts = shipped(settings)
    codes = codes_of(settings)
    if codes is not None:
        typer.echo(f"Fire alone? Send the bot: /start {codes.owner}")
        typer.echo(f"A builder? Send the bot: /start {codes.builder}")
    try:
        asyncio.run(
            _telegram(settings, parts) if settings.token else _terminal(settings, parts, pictures)
        )
    except StorageFault as fault:
        typer.echo(f"{fault}\n`stokewatch check` looks at everything it stands on.", err=True)
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
