"""``stokewatch rehearse``: an invented owner and oven go through a whole break-in, in seconds."""

import asyncio
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from bot import logs
from bot.commands.ovenfile import OvenFile, example, read_oven
from bot.conversation.chat import CHANNEL, Chat
from bot.rehearsal.diary import in_words
from bot.rehearsal.owners import Kind
from bot.rehearsal.rehearsal import Line
from bot.rehearsal.staging import OWNER, Weather, stage
from bot.weather.source import WeatherSource
from scheduling.oven.preset import DescriptionError

FASTEST = 600.0
"""Ten hours in a minute: faster, nobody can answer before the fire has moved on."""

if TYPE_CHECKING:
    from bot.papers.gathering import Gathered


def rehearse(
    oven: Annotated[Path | None, typer.Option(help="Oven file; else the example oven.")] = None,
    owner: Annotated[Kind, typer.Option(help="Who tends the fire.")] = Kind.CAREFUL,
    weather: Annotated[Weather, typer.Option(help="What it is like outside.")] = Weather.DRY,
    seed: Annotated[int, typer.Option(help="Where chance begins: same seed, same run.")] = 0,
    permeability: Annotated[
        float | None,
        typer.Option(
            min=1e-20,
            max=1e-12,
            help="What the true shell lets steam through, m²; else drawn about what is told. "
            "1e-17 is a tight one.",
        ),
    ] = None,
    out: Annotated[Path | None, typer.Option(help="Folder for transcript and pictures.")] = None,
    quiet: Annotated[bool, typer.Option("--quiet", help="Only the summary.")] = False,
    pace: Annotated[
        float | None,
        typer.Option(
            min=1.0,
            max=FASTEST,
            help="Play the owner yourself on Telegram, so many times as fast as real time; "
            "needs STOKEWATCH_TOKEN.",
        ),
    ] = None,
) -> None:
    """Play a whole break-in: invented owner and oven, the real engine on a stepped clock.

    Exit code 0 only if the true oven ended dry, its soot burnt off, and unharmed by steam.
    """
    if pace is not None:
        from bot.commands.on_phone import live

        live(_oven(oven).make_up, owner, weather, seed, pace)
        return
    # Loaded only now: weather and channels take a second to import.
    from bot.papers.gathering import gather
    from bot.parts import shipped
    from bot.wiring import open_chat

    logs.set_up(level="ERROR")
    make_up = _oven(oven).make_up
    zone = ZoneInfo(make_up.zone or "UTC")

    def show(line: Line) -> None:
        if not quiet:
            typer.echo(in_words(line, zone))

    chats: list[Chat] = []
    ovens: list[Gathered] = []

    async def opened(start: datetime, *, weather: WeatherSource) -> Chat:
        chats.append(await open_chat(start, shipped(), seed=seed, out=out, weather=weather))
        return chats[-1]

    async def last_look() -> None:
        async with chats[-1].store.read() as unit:
            person = await unit.people.at(CHANNEL, OWNER)
            cards = await unit.ovens.of_person(person.id) if person is not None else ()
            ovens.extend([await gather(unit, card.id) for card in cards])

    played = asyncio.run(
        stage(make_up, owner, weather, seed, opened, show, last_look, permeability)
    )
    typer.echo("\n" + "\n".join(played.closing.lines()))
    if out is not None:
        from bot.rehearsal.keepsakes import keep  # loads what draws

        try:
            oven_kept = ovens[0] if ovens else None
            files = keep(out, played.lines, played.diary, played.closing, zone, oven_kept)
        except OSError as error:
            typer.echo(f"Cannot write to {out}: {error.strerror}. Give a folder.", err=True)
            raise typer.Exit(2) from None
        typer.echo("Kept: " + ", ".join(str(name) for name in files))
    if not played.closing.good:
        raise typer.Exit(1)


def _oven(path: Path | None) -> OvenFile:
    if path is None:
        return read_oven(example({}))
    try:
        return read_oven(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError):
        typer.echo(f"Cannot read {path}. `stokewatch plan --example` prints one.", err=True)
    except DescriptionError as error:
        typer.echo("\n".join(error.sentences), err=True)
    raise typer.Exit(2)
