"""``stokewatch statistics``: what the ovens of this installation add up to."""

import asyncio
import json
from datetime import UTC, datetime
from typing import Annotated, NoReturn
from zoneinfo import ZoneInfo

import typer

from bot.papers.tallying import Tallying
from bot.settings import SettingsError, read_settings
from bot.wording.measures import Measures
from bot.wording.tallies import RULE, band_name, figures, share
from scheduling.meaning import Tally
from storage.faults import StorageFault
from storage.store import open_store

NAME_WIDTH = 40


def statistics(
    as_json: Annotated[bool, typer.Option("--json", help="As data, in °C and K/h.")] = False,
    unit: Annotated[str, typer.Option(help="C or F, for the table.")] = "C",
) -> None:
    """Fires to finish, peaks, slips, cracks against climb; counts too small to tell say so."""
    if unit not in ("C", "F"):
        _refuse("--unit is C or F.")
    try:
        told = asyncio.run(_told(read_settings().database_url))
    except (SettingsError, StorageFault) as error:
        _refuse(str(error))
    if as_json:
        shown = told.model_dump(mode="json", exclude={"kind"})
        typer.echo(json.dumps(shown, ensure_ascii=False, indent=2))
        return
    measures = Measures("F" if unit == "F" else "C", ZoneInfo("UTC"), datetime.now(UTC))
    for name, figure in rows(told, measures):
        typer.echo(f"{name:<{NAME_WIDTH}}{figure}")
    typer.echo(f"\n{RULE}")


def rows(told: Tally, m: Measures) -> list[tuple[str, str]]:
    """The table: a name and its figure."""
    found = [("Ovens", f"{told.ovens}, {told.finished} done"), ("Fires", f"{told.fires}")]
    for line in figures(told, m):
        name, _, figure = line.partition(": ")
        found.append((name, figure))
    for band in told.bands:
        opened = f", {band.opened} of them open" if band.opened else ""
        found.append((f"Cracks, {band_name(band, m)}", share(band.cracked) + opened))
    found.append(("Fires without a climb to tell", f"{told.unread}"))
    found.append(("Cracks reported between fires", f"{told.between}"))
    return found


async def _told(url: str) -> Tally:
    store = await open_store(url)
    try:
        return await Tallying(store).of()
    finally:
        await store.close()


def _refuse(sentence: str) -> NoReturn:
    typer.echo(sentence, err=True)
    raise typer.Exit(2)
