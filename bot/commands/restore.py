"""``stokewatch restore``: put a backup into a new database."""

import asyncio
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from bot.erased import ErasedList, ErasedListError, forget_again, list_beside
from bot.settings import Settings, SettingsError, read_settings
from storage.backup import About
from storage.backup import restore as put_back
from storage.faults import StorageFault
from storage.store import open_store


def restore(
    file: Annotated[Path, typer.Argument(help="A file that 'stokewatch backup' wrote.")],
    erased: Annotated[
        Path | None,
        typer.Option(help="The list of those who asked to be erased, if it lies elsewhere."),
    ] = None,
) -> None:
    """Put a backup into the database that is set, which must be new or empty.

    Stop the bot first. SQLite and PostgreSQL read each other's backups. Whoever asked to be
    erased since the backup was made is taken out of it again.
    """
    try:
        about, forgotten = asyncio.run(_restore(read_settings(), file, erased))
    except (SettingsError, StorageFault, ErasedListError) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from None
    typer.echo(
        f"Restored {about.rows.get('ovens', 0)} ovens, {about.rows.get('people', 0)} people, as "
        f"they were at {about.made_at:%Y-%m-%d %H:%M} UTC."
    )
    if forgotten:
        typer.echo(f"{forgotten} of them had asked to be erased since, and are again.")
    typer.echo("What was sent or unsent then is so again: look at what owners were told since.")


async def _restore(settings: Settings, file: Path, erased: Path | None) -> tuple[About, int]:
    """The list is read first: a backup is not put back if nobody can tell who must be left out."""
    url = settings.database_url
    path = erased or list_beside(url, settings.backup_folder)
    known = ErasedList(path).read() if path is not None else ()
    about = await put_back(url, file)
    store = await open_store(url)
    try:
        return about, await forget_again(store, known, datetime.now(UTC))
    finally:
        await store.close()
