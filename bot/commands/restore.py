"""``stokewatch restore``: put a backup into a new database."""

import asyncio
from pathlib import Path
from typing import Annotated

import typer

from bot.settings import SettingsError, read_settings
from storage.backup import restore as put_back
from storage.faults import StorageFault


def restore(
    file: Annotated[Path, typer.Argument(help="A file that 'stokewatch backup' wrote.")],
) -> None:
    """Put a backup into the database that is set, which must be new or empty.

    Stop the bot first. SQLite and PostgreSQL read each other's backups.
    """
    try:
        about = asyncio.run(put_back(read_settings().database_url, file))
    except (SettingsError, StorageFault) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from None
    typer.echo(
        f"Restored {about.rows.get('ovens', 0)} ovens, {about.rows.get('people', 0)} people, as "
        f"they were at {about.made_at:%Y-%m-%d %H:%M} UTC."
    )
    typer.echo("What was sent or unsent then is so again: look at what owners were told since.")
