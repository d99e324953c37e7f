"""Whether stokewatch can run here: one finding for each thing it stands on, and what to do."""

import asyncio
import errno
import shutil
from collections.abc import AsyncIterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from importlib import resources
from pathlib import Path

import httpx
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from pydantic import SecretStr
from sqlalchemy import Connection, make_url, text
from sqlalchemy.exc import DBAPIError, SQLAlchemyError
from sqlalchemy.ext.asyncio import create_async_engine

from bot.settings import Settings
from bot.understanding.second_reader import why_absent
from storage.address import file_of
from storage.faults import Busy, Damaged, DiskFull, fault_of
from storage.owner import Owner, Whose, whose

LEAST_FREE_BYTES = 200 * 1024 * 1024
ROOM = (
    f"Make room: at least {LEAST_FREE_BYTES // 2**20} MiB should be free. What is stored is safe, "
    "but while the disk is full nothing that anybody writes can be kept, and no fire is helped."
)

MOST_SKEW = timedelta(seconds=30)
"""Nudges come by the clock: a minute off is a minute of fire."""

TIMEOUT_S = 10.0


@dataclass(frozen=True, slots=True)
class Finding:
    """``told`` says how it is; ``to_do`` what to do about a fault, empty when there is none."""

    about: str
    told: str
    to_do: str = ""

    @property
    def is_fault(self) -> bool:
        """Something has to be done."""
        return bool(self.to_do)


async def findings(settings: Settings) -> AsyncIterator[Finding]:
    """Look at everything, one after another. Nothing is changed."""
    yield Finding("settings", "read")
    disk = disk_of(settings)
    yield disk
    if not disk.is_fault and _is_there(settings):
        async for finding in database(settings):
            yield finding
    elif not disk.is_fault:
        yield Finding("database", "none yet: the first run makes it")
    yield backups(settings)
    yield weather(settings)
    yield calendars(settings)
    yield second_ear()
    if settings.token is None:
        yield Finding("token", "none set: the terminal is the channel")
        yield Finding("clock", f"{datetime.now(UTC):%Y-%m-%d %H:%M:%S} UTC, compared with nothing")
        return
    yield Finding(
        "first words",
        "the codes to begin with are shown at the first start, and by this check in a terminal",
    )
    async for finding in telegram(settings.telegram_url, settings.token):
        yield finding


def second_ear() -> Finding:
    """Whether the second reader can be had: without it the grammar reads alone."""
    absent = why_absent()
    if absent is None:
        return Finding("reader", "grammar and second reader, its file as it was scored")
    return Finding(
        "reader",
        f"the grammar alone: {absent}",
        "Dangers told in words that nobody foresaw may go unheard. Install stokewatch anew.",
    )


def disk_of(settings: Settings) -> Finding:
    """Whether the SQLite file's folder is there, can be written and has room."""
    url = make_url(settings.database_url)
    if url.get_backend_name() != "sqlite":
        return Finding("disk", "the database is on a server")
    if url.database in (None, "", ":memory:"):
        return Finding("disk", "the database is in memory: nothing outlives a run")
    file = Path(str(url.database)).absolute()
    folder = _nearest(file.parent)
    try:
        _try_writing(folder / f".{file.name}.trial")
        if file.exists():
            with file.open("r+b"):
                pass
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            return Finding("disk", f"there is no room left in {folder}", ROOM)
        return Finding(
            "disk",
            f"{folder} cannot be written: {error.strerror}",
            f"Let the user that runs stokewatch write to {folder} and {file.name}, or set "
            "STOKEWATCH_DATABASE_URL to another place.",
        )
    free = shutil.disk_usage(folder).free
    if free < LEAST_FREE_BYTES:
        return Finding(
            "disk",
            f"{free // 2**20} MiB are free in {folder}",
            ROOM,
        )
    return Finding("disk", f"{folder} can be written, {free // 2**30} GiB free")


def backups(settings: Settings) -> Finding:
    """Whether there is a backup a day, and whether its folder can be written."""
    if settings.backup_folder is None:
        return Finding(
            "backups",
            "none by itself: set STOKEWATCH_BACKUP_FOLDER, best to another disk, for one a day",
        )
    wanted = settings.backup_folder.absolute()
    folder = _nearest(wanted)
    try:
        _try_writing(folder / ".stokewatch.trial")
    except OSError as error:
        return Finding(
            "backups",
            f"{folder} cannot be written: {error.strerror}",
            f"Let the user that runs stokewatch write to {wanted}, or set "
            "STOKEWATCH_BACKUP_FOLDER to another folder.",
        )
    return Finding("backups", f"one a day into {wanted}, which can be written")


async def database(settings: Settings) -> AsyncIterator[Finding]:
    """Whether the database answers and is whole, and which migrations it has."""
    shown = settings.shown_database
    strange = await asyncio.to_thread(stranger, settings)
    if strange is not None:
        yield strange
        return
    engine = create_async_engine(settings.database_url)
    try:
        async with engine.connect() as connection:
            if engine.dialect.name == "sqlite":
                state = (await connection.execute(text("PRAGMA quick_check"))).scalar_one()
                if state != "ok":
                    yield damaged(shown, str(state))
                    return
            else:
                await connection.execute(text("SELECT 1"))
            revision = await connection.run_sync(_revision)
    except ModuleNotFoundError as error:
        yield Finding(
            "database",
            f"the driver {error.name} is not installed",
            "Install it with the package's extra: pip install 'stokewatch[postgres]'.",
        )
        return
    except DBAPIError as error:
        yield _of_fault(shown, fault_of(error), _first_line(error))
        return
    except (SQLAlchemyError, OSError) as error:
        yield Finding(
            "database",
            f"{shown} does not answer: {_first_line(error)}",
            "Check STOKEWATCH_DATABASE_URL, and that the database runs and lets us in.",
        )
        return
    finally:
        await engine.dispose()
    yield Finding("database", f"{shown} answers")
    yield migrations(revision)


def stranger(settings: Settings) -> Finding | None:
    """A SQLite file that is not ours, or no database at all; None where there is none such."""
    path = file_of(make_url(settings.database_url))
    found = whose(path) if path is not None else Whose(Owner.NOBODY)
    if found.owner is Owner.ANOTHER:
        return Finding(
            "database",
            f"{path} is a database of another program (it has the tables {found.by})",
            "Set STOKEWATCH_DATABASE_URL to a file of our own; this one is left as it is.",
        )
    if found.owner is Owner.NO_DATABASE:
        return Finding(
            "database",
            f"{path} is not a database",
            "Set STOKEWATCH_DATABASE_URL to another file. If this one was ours, it is damaged: "
            "move it away and bring back a backup: stokewatch restore FILE.",
        )
    return None


def damaged(shown: str, how: str) -> Finding:
    """A database of ours with torn pages."""
    return Finding(
        "database",
        f"{shown} is damaged: {how.splitlines()[0][:120]}",
        "Stop stokewatch, move the file away (keep it) and bring back a backup: stokewatch "
        "restore FILE.",
    )


def _of_fault(shown: str, fault: Exception, said: str) -> Finding:
    """What a database that answers with a fault needs."""
    match fault:
        case Damaged():
            return damaged(shown, said)
        case DiskFull():
            return Finding("database", f"{shown} finds no room: {said}", ROOM)
        case Busy():
            to_do = "Stop whatever has the file open, a second stokewatch for one."
            return Finding("database", f"{shown} is held by another program", to_do)
        case _:
            return Finding(
                "database",
                f"{shown} does not answer: {said}",
                "Check STOKEWATCH_DATABASE_URL, and that the database runs and lets us in.",
            )


def migrations(revision: str | None) -> Finding:
    """Whether a database of that revision fits this version."""
    with resources.as_file(resources.files("storage") / "migrations") as folder:
        scripts = ScriptDirectory(str(folder))
        newest = scripts.get_current_head()
        known = {script.revision for script in scripts.walk_revisions()}
    if revision is None:
        return Finding("migrations", "none yet: the first run creates the tables")
    if revision == newest:
        return Finding("migrations", f"up to date ({revision})")
    if revision in known:
        return Finding("migrations", f"at {revision}; the next run backs up and goes to {newest}")
    return Finding(
        "migrations",
        f"the database is at {revision}, which this version does not know",
        "It was used by a newer stokewatch: install that one, or restore an older backup.",
    )


def weather(settings: Settings) -> Finding:
    """Whether there are forecasts. Without them days are judged all the same, only less well."""
    if not settings.weather_contact.strip():
        return Finding(
            "weather",
            "no contact is set: days are judged by what is usual there and by what owners say; "
            "set STOKEWATCH_WEATHER_CONTACT to an e-mail or web address for forecasts",
        )
    if settings.pace != 1.0:
        return Finding("weather", "no forecasts: at another pace there are no real days")
    host = httpx.URL(settings.weather_url).host
    return Finding("weather", f"forecasts from {host}, asked for by {settings.weather_contact}")


def calendars(settings: Settings) -> Finding:
    """Whether builders can subscribe to their calendars, or only get them as files."""
    if settings.calendars_at is None:
        return Finding(
            "calendars",
            "as files in the chat: there is no address to subscribe to while updates are polled "
            "for; set STOKEWATCH_WEBHOOK_URL to be reached from the web",
        )
    return Finding(
        "calendars",
        f"served at {settings.calendars_at}, by the port that the webhook listens on; "
        "whatever stands before it has to pass that path on too",
    )


async def telegram(base_url: str, token: SecretStr) -> AsyncIterator[Finding]:
    """Whether Telegram knows the bot, and whether our clock agrees with theirs."""
    url = f"{base_url}{token.get_secret_value()}/getMe"
    try:
        async with httpx.AsyncClient(timeout=TIMEOUT_S) as client:
            answer = await client.post(url)
            told = answer.json()
    except (httpx.HTTPError, ValueError) as error:
        # The error's text may hold the URL, and that the token.
        yield Finding(
            "token",
            f"{base_url} cannot be reached ({type(error).__name__})",
            "Check the network, any proxy, and STOKEWATCH_TELEGRAM_URL.",
        )
        return
    if answer.status_code != httpx.codes.OK or not told.get("ok"):
        yield Finding(
            "token",
            f"Telegram does not know this token ({answer.status_code})",
            "Ask BotFather for the token (/token) and set STOKEWATCH_TOKEN to the whole of it.",
        )
    else:
        yield Finding("token", f"Telegram knows it as @{told['result'].get('username', '?')}")
    yield clock(answer.headers.get("Date"), datetime.now(UTC))


def clock(date_header: str | None, now: datetime) -> Finding:
    """Whether ``now`` agrees with the Date header of a server's answer."""
    try:
        theirs = parsedate_to_datetime(date_header or "")
    except ValueError:
        return Finding("clock", "the server tells no time to compare with")
    skew = abs(now - theirs)
    if skew > MOST_SKEW:
        return Finding(
            "clock",
            f"{int(skew.total_seconds())} s off from Telegram's",
            "Let the machine keep its time by NTP: nudges come by this clock.",
        )
    return Finding("clock", f"agrees with Telegram's within {int(skew.total_seconds()) + 1} s")


def _nearest(folder: Path) -> Path:
    """It, or what is there of the path to it: a run makes folders that are missing."""
    return next(one for one in (folder, *folder.parents) if one.exists())


def _try_writing(trial: Path) -> None:
    """Raises OSError; leaves nothing behind."""
    with trial.open("w") as file:
        file.write("trial")
    trial.unlink()


def _is_there(settings: Settings) -> bool:
    """A file that is not there yet is no fault, and looking must not make it."""
    url = make_url(settings.database_url)
    return url.get_backend_name() != "sqlite" or Path(str(url.database)).exists()


def _revision(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _first_line(error: BaseException) -> str:
    cause = getattr(error, "orig", None) or error
    return (str(cause).splitlines() or [type(cause).__name__])[0]
