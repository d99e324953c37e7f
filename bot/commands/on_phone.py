"""A rehearsal that somebody lives through on their own phone, over Telegram."""

import asyncio
import signal
import tempfile
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path

import typer
from telegram.error import InvalidToken

from bot import logs
from bot.rehearsal.foretelling import ForetoldSky
from bot.rehearsal.hands import Hands
from bot.rehearsal.on_phone import OnPhone
from bot.rehearsal.owners import Kind
from bot.rehearsal.readings import Thermometer
from bot.rehearsal.staging import Scene, Weather, scene
from bot.settings import Settings, SettingsError, read_settings
from bot.wiring import telegram_house
from scheduling.clock import PacedClock
from scheduling.oven.makeup import MakeUp


def live(make_up: MakeUp, owner: Kind, weather: Weather, seed: int, pace: float) -> None:
    """Run until stopped. Of ``owner`` only whether they have a thermometer counts."""
    from bot.parts import codes_of

    try:
        settings = read_settings()
    except SettingsError as error:
        typer.echo("\n".join(error.sentences), err=True)
        raise typer.Exit(2) from None
    codes = codes_of(settings)
    if settings.token is None or codes is None:
        typer.echo(
            "With --pace you play the owner on Telegram: set STOKEWATCH_TOKEN to the token of a "
            "bot that nobody else is using meanwhile.",
            err=True,
        )
        raise typer.Exit(2)
    logs.set_up("ERROR", secrets=[settings.token.get_secret_value()])
    typer.echo(f"Begin on your phone: send the bot /start {codes.owner}")
    typer.echo("Nothing of it is kept when you stop it here with Ctrl-C.")
    set_up = scene(make_up, owner, weather, seed)
    try:
        asyncio.run(_until_stopped(settings, set_up, pace))
    except InvalidToken:
        typer.echo("Telegram does not know this token; `stokewatch check` says more.", err=True)
        raise typer.Exit(1) from None


@asynccontextmanager
async def on_stage(settings: Settings, set_up: Scene, pace: float) -> AsyncIterator[None]:
    """A house on Telegram for one rehearsal, over a database that goes with it."""
    from bot.parts import shipped

    clock = PacedClock(set_up.start, pace)
    parts = shipped(settings)
    oven, instrument = set_up.oven, set_up.oven.make_up.instrument
    thermometer = Thermometer(instrument, set_up.chance) if instrument is not None else None
    played = replace(
        parts,
        receiver=lambda base: OnPhone(base, parts.receiver(base), clock, Hands(oven), thermometer),
    )
    with tempfile.TemporaryDirectory(prefix="stokewatch-") as folder:
        url = f"sqlite+aiosqlite:///{Path(folder) / 'rehearsal.sqlite'}"
        apart = {"database_url": url, "backup_folder": None, "webhook_url": ""}
        its_own = settings.model_copy(update=apart)
        async with telegram_house(its_own, played, clock, ForetoldSky(set_up.skies)):
            yield


async def _until_stopped(settings: Settings, set_up: Scene, pace: float) -> None:
    stop = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGINT, signal.SIGTERM):
        loop.add_signal_handler(number, stop.set)
    async with on_stage(settings, set_up, pace):
        await stop.wait()
