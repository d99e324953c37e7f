"""The list of those who asked to be forgotten, kept outside the database.

A backup that is older than the asking still holds them; with this list they are taken out of it
again when it is put back. It holds random ids alone, a JSON line each.
"""

import os
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from bot.conversation.people.forgetting import finish, forget
from scheduling.ports import Erasure, Store
from storage.address import file_of, read_address

NAME = "stokewatch-erased.jsonl"


def old_copies_of(database_url: str) -> tuple[Path, ...]:
    """SQLite files set by before the tables changed (``storage.migrating``), which nobody can be
    taken out of: once somebody is erased they have to go."""
    file = file_of(read_address(database_url))
    return tuple(file.parent.glob(f"{file.name}.before-*")) if file is not None else ()


class ErasedListError(Exception):
    """The list cannot be read; the text says what to do."""


def list_beside(database_url: str, backup_folder: Path | None) -> Path | None:
    """Where the list lies: with the backups, else beside the SQLite file; None for neither."""
    if backup_folder is not None:
        return backup_folder / NAME
    file = file_of(read_address(database_url))
    return file.with_name(NAME) if file is not None else None


class ErasedList:
    """The list in a file."""

    def __init__(self, path: Path, database_url: str | None = None) -> None:
        self._path = path
        self._database_url = database_url

    def keep(self, erasures: Sequence[Erasure]) -> None:
        """Write all of them, and those that the file knew before; never half of it. Old copies of
        the database go."""
        for copy in old_copies_of(self._database_url) if self._database_url else ():
            copy.unlink(missing_ok=True)
        known = {one.person: one for one in (*self.read(), *erasures)}
        self._path.parent.mkdir(parents=True, exist_ok=True)
        half = self._path.with_name(f".{self._path.name}.half")
        with half.open("w", encoding="utf-8") as file:
            for one in known.values():
                file.write(one.model_dump_json() + "\n")
            file.flush()
            os.fsync(file.fileno())
        half.replace(self._path)

    def read(self) -> tuple[Erasure, ...]:
        """All that it holds; nothing where there is no list yet. Raises ErasedListError."""
        try:
            lines = self._path.read_text(encoding="utf-8").splitlines()
        except FileNotFoundError:
            return ()
        except OSError as error:
            raise ErasedListError(f"{self._path} cannot be read: {error.strerror}.") from error
        try:
            return tuple(Erasure.model_validate_json(line) for line in lines if line.strip())
        except ValidationError as error:
            raise ErasedListError(
                f"{self._path} is damaged: it names who asked to be erased. Mend it, or put back "
                "a copy of it, then try again."
            ) from error


async def forget_again(store: Store, erasures: Sequence[Erasure], now: datetime) -> int:
    """Take those out of a database who are in it and asked to be forgotten; returns how many."""
    count = 0
    for erasure in erasures:
        async with store.write() as unit:
            person = await unit.people.get(erasure.person)
            if person is not None:
                await forget(unit, person, now, erasure.kept)
                count += 1
            await finish(unit, erasure, now)
            await unit.commit()
    if count:
        await store.tidy()
    return count
