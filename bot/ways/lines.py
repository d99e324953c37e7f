"""Where in a TOML text a key stands: a fault is told with its line."""

import re
from collections.abc import Sequence

_TABLE = re.compile(r"^\s*\[+\s*([^\]]+?)\s*\]+")
_KEY = re.compile(r"^\s*([A-Za-z0-9_\-.\"' ]+?)\s*=")
_AT = re.compile(r"at line (\d+)")


def line_of(text: str, path: Sequence[str | int]) -> int | None:
    """The line of a key, or of the nearest table or key around it; None where none is written.

    ``path`` is as pydantic tells it: names, and numbers within lists.
    """
    wanted = [str(part) for part in path if isinstance(part, str)]
    best: tuple[int, int] | None = None
    table: list[str] = []
    for number, line in enumerate(text.splitlines(), 1):
        if head := _TABLE.match(line):
            table = _parts(head[1])
            found = table
        elif key := _KEY.match(line):
            found = [*table, *_parts(key[1])]
        else:
            continue
        if found == wanted[: len(found)] and (best is None or len(found) > best[0]):
            best = (len(found), number)
    return None if best is None else best[1]


def line_in(error: str) -> int | None:
    """The line that a decoder's error names."""
    told = _AT.search(error)
    return int(told[1]) if told else None


def _parts(name: str) -> list[str]:
    return [part.strip().strip("\"'") for part in name.split(".")]
