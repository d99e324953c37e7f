"""``stokewatch aside``: messages that could not be worked on, for whoever runs the bot."""

import asyncio
import json
from typing import Annotated, NoReturn

import typer

from bot.settings import SettingsError, read_settings
from scheduling.ports import SetAside
from storage.faults import StorageFault
from storage.store import open_store


def aside(
    text: Annotated[
        bool, typer.Option("--text", help="With the messages themselves, as they came in.")
    ] = False,
    limit: Annotated[int, typer.Option(help="So many, the newest first.", min=1)] = 50,
) -> None:
    """Show what was kept but could not be worked on, and why. Who wrote it has been told."""
    try:
        kept = asyncio.run(_kept(read_settings().database_url, limit))
    except (SettingsError, StorageFault) as error:
        _refuse(str(error))
    for one in kept:
        for line in lines(one, text=text):
            typer.echo(line)
    typer.echo(f"{len(kept)} shown." if kept else "Nothing was set aside.")


def lines(one: SetAside, *, text: bool) -> list[str]:
    """What is shown of it; other people's words come escaped, so that they steer no terminal."""
    came = f"{one.row.received_at:%Y-%m-%d %H:%M:%S} UTC  {one.row.channel} {one.row.key}"
    shown = [came, f"    {json.dumps(one.why)}"]
    return [*shown, f"    {json.dumps(one.row.body)}"] if text else shown


async def _kept(url: str, limit: int) -> tuple[SetAside, ...]:
    store = await open_store(url)
    try:
        async with store.read() as unit:
            return await unit.inbox.set_aside(limit)
    finally:
        await store.close()


def _refuse(sentence: str) -> NoReturn:
    typer.echo(sentence, err=True)
    raise typer.Exit(2)
