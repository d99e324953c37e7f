"""``stokewatch backup``: everything that is kept, in one file."""

import asyncio
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from bot.settings import SettingsError, read_settings
from storage.backup import back_up
from storage.faults import StorageFault


def backup(
    file: Annotated[Path, typer.Argument(help="The new file to write, like ovens.zip.")],
) -> None:
    """Back up ovens, people and messages into one file, while the bot goes on."""
    try:
        url = read_settings().database_url
        about = asyncio.run(back_up(url, file, datetime.now(UTC)))
    except (SettingsError, StorageFault) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from None
    rows = about.rows
    typer.echo(
        f"{file}: {rows.get('ovens', 0)} ovens, {rows.get('people', 0)} people, "
        f"{rows.get('journal', 0)} journal entries."
    )
    typer.echo("It holds names and chat addresses: keep it where only you can read it.")
