"""The text files of ``book/``: sections headed ``== so ==``, notes after ``--``.

An indented line goes on from the one above it. Words are parted by spaces, pairs by ``=``.
"""

from collections.abc import Iterable
from importlib.resources import files


def shelf(name: str) -> dict[str, tuple[str, ...]]:
    """Sections of ``book/NAME.txt`` in their order, each with its lines.

    Raises:
        ValueError: for a line before the first heading, or a heading that comes twice.
    """
    sections: dict[str, list[str]] = {}
    title = ""
    for line in (
        files("bot.understanding").joinpath("book", f"{name}.txt").read_text("utf-8").splitlines()
    ):
        if line.startswith("== "):
            title = line.strip("= ")
            if title in sections:
                raise ValueError(f"{name}.txt has two sections called {title!r}")
            sections[title] = []
        elif line.strip() and not line.startswith("-- "):
            if not title:
                raise ValueError(f"{name}.txt begins without a heading: {line!r}")
            sections[title].append(line.rstrip())
    return {title: tuple(lines) for title, lines in sections.items()}


def joined_lines(lines: Iterable[str]) -> list[str]:
    """``lines`` with each indented one joined to the one above."""
    out: list[str] = []
    for line in lines:
        if line.startswith(" "):
            gap = "" if out[-1].endswith("|") else " "
            out[-1] += gap + line.strip()
        else:
            out.append(line)
    return out


def word_list(lines: Iterable[str]) -> tuple[str, ...]:
    """All words of ``lines`` in their order."""
    return tuple(" ".join(lines).split())


def pairs(lines: Iterable[str]) -> dict[str, str]:
    """Lines of the form ``typed = meant``."""
    return {typed.strip(): meant.strip() for typed, meant in (line.split(" = ") for line in lines)}
