"""``stokewatch record``: the record of an oven as files, for whoever runs the installation."""

import asyncio
import re
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from bot.channels.painter import SentFiles, no_files
from bot.settings import Settings, SettingsError, read_settings
from scheduling.ports import OvenCard
from scheduling.record.standing import Phase
from storage.faults import StorageFault
from storage.store import open_store

if TYPE_CHECKING:
    from bot.papers.gathering import Gathered

STATES = (*(phase.value for phase in Phase), "invited")


class NoOvenError(LookupError):
    """No oven is meant, or several could be; the text says which there are."""


def record(
    oven: Annotated[str, typer.Argument(help="Its id or name; none: list them all.")] = "",
    out: Annotated[Path, typer.Option(help="Folder for the files.")] = Path(),
    as_pdf: Annotated[bool, typer.Option("--pdf", help="A paper (the default).")] = False,
    as_csv: Annotated[bool, typer.Option("--csv", help="The log as a table.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Everything, as data.")] = False,
    unit: Annotated[str, typer.Option(help="C or F; else as its owner reads.")] = "",
) -> None:
    """Write the record of an oven: make-up, cure, every fire, cracks, orders."""
    if unit not in ("", "C", "F"):
        _refuse("--unit is C or F.")
    try:
        found = asyncio.run(_found(read_settings(), oven))
    except (SettingsError, StorageFault, NoOvenError) as error:
        _refuse(str(error))
    if found is None:
        return
    if not found.entries:
        _refuse(f"{found.card.name or found.card.id} has no journal yet: there is nothing to tell.")
    # Drawing takes a second to import, which a list of ovens need not wait for.
    from bot.papers.record_forms import FORMS, record_as

    paper = found.paper(datetime.now(UTC), unit or None)
    wanted = (as_pdf or not (as_csv or as_json), as_csv, as_json)
    for ending in (form for form, is_wanted in zip(FORMS, wanted, strict=True) if is_wanted):
        content = record_as(ending, paper, found.photos)
        path = out / f"record-{file_name(paper.oven or found.card.id)}.{ending}"
        try:
            out.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        except OSError as error:
            _refuse(f"Cannot write {path}: {error.strerror or error}.")
        typer.echo(str(path))


async def _found(settings: Settings, wanted: str) -> "Gathered | None":
    """The oven that is meant, with its photos; None where they were listed instead."""
    from bot.papers.gathering import RecordGathering

    store = await open_store(settings.database_url)
    try:
        async with store.read() as unit:
            cards = await unit.ovens.in_states(STATES)
        if wanted:
            card = pick(cards, wanted)
            async with _photos(settings) as photos:
                return await RecordGathering(store, photos).gathered(card.id)
    finally:
        await store.close()
    for line in listing(cards):
        typer.echo(line)
    return None


@asynccontextmanager
async def _photos(settings: Settings) -> AsyncIterator[SentFiles]:
    """Where photos are had: on Telegram, where it answers; else they stay in the chat."""
    if settings.token is None:
        yield no_files
        return
    # The library takes a second to load, which a list of ovens need not wait for.
    from telegram import Bot
    from telegram.error import TelegramError

    from bot.channels.telegram.files import TelegramFiles, files_url

    bot = Bot(
        settings.token.get_secret_value(),
        base_url=settings.telegram_url,
        base_file_url=files_url(settings.telegram_url),
    )
    try:
        await bot.initialize()
    except TelegramError as error:
        typer.echo(f"Photos are left out: Telegram does not answer ({error}).", err=True)
        yield no_files
        return
    try:
        yield TelegramFiles(bot)
    finally:
        await bot.shutdown()


def pick(cards: Sequence[OvenCard], wanted: str) -> OvenCard:
    """The oven of that id, or the only one of that name. Raises NoOvenError."""
    by_id = [card for card in cards if card.id == wanted]
    named = [card for card in cards if card.name.casefold() == wanted.casefold()]
    found = by_id or named
    if len(found) == 1:
        return found[0]
    if not found:
        raise NoOvenError(f"There is no oven {wanted!r}; `stokewatch record` lists them.")
    several = "\n".join(listing(found))
    raise NoOvenError(f"Several ovens are called {wanted!r}; give the id of one:\n{several}")


def listing(cards: Sequence[OvenCard]) -> list[str]:
    """A line an oven: id, name, place, how it stands."""
    if not cards:
        return ["No oven is kept here yet."]
    wide = max(len(card.id) for card in cards)
    return [
        f"{card.id:<{wide}}  " + ", ".join(p for p in (card.name, card.place, card.state) if p)
        for card in cards
    ]


def file_name(name: str) -> str:
    """A name that any file system takes."""
    return re.sub(r"[^\w-]+", "-", name).strip("-").lower()[:40] or "oven"


def _refuse(sentence: str) -> NoReturn:
    typer.echo(sentence, err=True)
    raise typer.Exit(2)
