"""Whose a SQLite file is, looked at without changing a byte of it."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from urllib.parse import quote

OURS = frozenset({"people", "ovens", "journal", "alarms", "inbox", "outbox"})
"""Tables that every database of stokewatch has had from the first."""

HEADER = b"SQLite format 3\x00"
"""How every SQLite file begins: sqlite.org/fileformat.html, "The Database Header"."""


class Owner(StrEnum):
    """``NOBODY``: not there, or empty. ``UNREADABLE``: it cannot be said."""

    NOBODY = "nobody"
    US = "us"
    ANOTHER = "another"
    NO_DATABASE = "no database"
    UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True)
class Whose:
    """An owner, and some of the tables or the fault by which it was told."""

    owner: Owner
    by: str = ""


def whose(path: Path) -> Whose:
    """Look at the file; it is neither made nor changed."""
    try:
        with path.open("rb") as file:
            begins = file.read(len(HEADER))
    except FileNotFoundError:
        return Whose(Owner.NOBODY)
    except OSError as error:
        return Whose(Owner.UNREADABLE, error.strerror or str(error))
    if not begins:
        return Whose(Owner.NOBODY)
    if begins != HEADER:
        return Whose(Owner.NO_DATABASE)
    try:
        with closing(sqlite3.connect(f"file:{quote(str(path))}?mode=ro", uri=True)) as plain:
            found = plain.execute("select name from sqlite_master where type = 'table'").fetchall()
    except sqlite3.Error as error:
        return Whose(Owner.UNREADABLE, str(error))
    names = {name for (name,) in found if not name.startswith("sqlite_")}
    if not names:
        return Whose(Owner.NOBODY)
    if names >= OURS:
        return Whose(Owner.US)
    return Whose(Owner.ANOTHER, ", ".join(sorted(names - OURS)[:3]))
