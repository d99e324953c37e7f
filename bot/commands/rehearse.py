"""``stokewatch rehearse``: an invented owner and oven go through a whole break-in, in seconds."""

import asyncio
from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta
from enum import StrEnum
from pathlib import Path
from typing import Annotated
from zoneinfo import ZoneInfo

import numpy as np
import typer

from bot import logs
from bot.commands.ovenfile import OvenFile, example, read_oven
from bot.rehearsal.air import made_up_sky
from bot.rehearsal.closing import Closing
from bot.rehearsal.keepsakes import Diary, in_words, keep
from bot.rehearsal.owners import Kind, Owner
from bot.rehearsal.rehearsal import Line, Rehearsal
from bot.rehearsal.trueoven import TrueOven
from bot.rehearsal.truth import draw_truth
from bot.wiring import open_chat
from scheduling.oven.preset import DescriptionError

OWNER = "robin"
DAYS_OF_WEATHER = 110
MEETS_AFTER = timedelta(days=18)
"""How long after the wet work the owner first writes (own choice)."""


class Weather(StrEnum):
    """Weathers to choose from."""

    DRY = "dry"
    SHOWERY = "showery"
    GALE = "gale"


def rehearse(
    oven: Annotated[Path | None, typer.Option(help="Oven file; else the example oven.")] = None,
    owner: Annotated[Kind, typer.Option(help="Who tends the fire.")] = Kind.CAREFUL,
    weather: Annotated[Weather, typer.Option(help="What it is like outside.")] = Weather.DRY,
    seed: Annotated[int, typer.Option(help="Where chance begins: same seed, same run.")] = 0,
    out: Annotated[Path | None, typer.Option(help="Folder for transcript and pictures.")] = None,
    quiet: Annotated[bool, typer.Option("--quiet", help="Only the summary.")] = False,
) -> None:
    """Play a whole break-in: invented owner and oven, the real engine on a stepped clock.

    Exit code 0 only if the true oven ended dry, its soot burnt off, and unharmed by steam.
    """
    logs.set_up(level="ERROR")
    told = _oven(oven)
    zone = ZoneInfo(told.make_up.zone or "UTC")

    def show(line: Line) -> None:
        if not quiet:
            typer.echo(in_words(line, zone))

    lines, diary, closing = asyncio.run(play(told, owner, weather, seed, out, show))
    typer.echo("\n" + "\n".join(closing.lines()))
    if out is not None:
        try:
            files = keep(out, lines, diary, closing, zone)
        except OSError as error:
            typer.echo(f"Cannot write to {out}: {error.strerror}. Give a folder.", err=True)
            raise typer.Exit(2) from None
        typer.echo("Kept: " + ", ".join(str(name) for name in files))
    if not closing.good:
        raise typer.Exit(1)


async def play(
    told: OvenFile,
    kind: Kind,
    weather: Weather,
    seed: int,
    out: Path | None = None,
    show: Callable[[Line], None] | None = None,
) -> tuple[list[Line], Diary, Closing]:
    """One rehearsal. Everything that is drawn comes from ``seed``."""
    make_up = told.make_up
    if kind is Kind.NO_THERMOMETER:
        make_up = make_up.model_copy(update={"instrument": None})
    zone = ZoneInfo(make_up.zone or "UTC")
    day = make_up.wet_work_ended + MEETS_AFTER
    start = datetime.combine(day, time(18, 0), zone).astimezone(UTC)
    truth_rng, sky_rng, owner_rng = np.random.default_rng(seed).spawn(3)
    skies = made_up_sky(weather.value, make_up, sky_rng, make_up.wet_work_ended, DAYS_OF_WEATHER)
    true_oven = TrueOven(make_up, draw_truth(make_up, truth_rng), skies, start)
    chat = await open_chat(start, builder=None, database_url=None, seed=seed, out=out)
    lines: list[Line] = []
    diary = Diary()

    def note(line: Line) -> None:
        lines.append(line)
        if show is not None:
            show(line)

    try:
        owner = Owner(OWNER, kind, true_oven, owner_rng)
        closing = await Rehearsal(chat, true_oven, owner, note, diary.watch).play()
    finally:
        await chat.close()
    return lines, diary, closing


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
