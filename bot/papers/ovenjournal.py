"""An oven's own journal as a file: one entry a line, as the store keeps it.

``stokewatch plan --journal`` takes it beside the plain journal file that a person writes.
"""

import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from pydantic import ValidationError

from scheduling.journal import ENTRY, Entry
from scheduling.oven.history import Fact
from scheduling.record import Record
from scheduling.record.wall import facts_of


class OvenJournalError(ValueError):
    """A line that is no entry: its number, and what is wrong, for the person who gave it."""


def journal_lines(entries: Iterable[Entry]) -> str:
    """Entries as text, one a line, oldest first."""
    return "".join(ENTRY.dump_json(entry).decode() + "\n" for entry in entries)


def is_own_journal(text: str) -> bool:
    """Whether a file is one of these: every entry tells the version of its shape."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    try:
        told: Any = json.loads(first)
    except (ValueError, RecursionError):
        return False
    return isinstance(told, dict) and "v" in told and "kind" in told


def entries_of(text: str) -> tuple[Entry, ...]:
    """The entries of a file. Raises OvenJournalError."""
    found: list[Entry] = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            found.append(ENTRY.validate_json(line))
        except ValidationError as error:
            fault = error.errors(include_url=False)[0]
            where = ", ".join(str(part) for part in fault["loc"]) or "the line"
            raise OvenJournalError(
                f"Journal, line {number}: {where}: {fault['msg'][:1].lower()}{fault['msg'][1:]}. "
                "An oven's own journal is read as it was written; fetch it anew."
            ) from None
    return tuple(found)


def facts_until(text: str, until: datetime) -> tuple[Fact, ...]:
    """What a file tells the wall until an instant, in order of time. Raises OvenJournalError."""
    entries = [entry for entry in entries_of(text) if entry.at <= until]
    return facts_of(Record(tuple(entries), members=0)) if entries else ()
