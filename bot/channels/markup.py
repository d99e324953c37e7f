"""Text with bold and italics, as wording writes it, and what channels make of it.

Wording marks with <b> and <i> alone; every other character stands for itself. What is not
balanced is mended here, so that no channel is ever handed broken markup.
"""

import html
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

_TAG = re.compile(r"<(/?)([bi])>")

_TURNS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Marks that set the direction of what follows (Unicode Standard Annex 9): in a name they could
turn the digits of a temperature around. Letters of every script have their direction without. And
the mark of byte order, which is none within a text."""

MOST_MARKS = 5
"""Marks on one letter; more of them reach over the lines above and below (own choice, two more
than any language is known to need, from memory)."""


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text in one style."""

    text: str
    bold: bool = False
    italic: bool = False


def clean(text: str) -> str:
    """``text`` without what nobody types and no channel or database takes.

    Lone surrogates become U+FFFD; control characters but newline and tab are dropped, so are marks
    that turn the direction of writing, and more marks on a letter than any language has.
    """
    whole = text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    kept = [c for c in whole if c in "\n\t" or (ord(c) >= 32 and not 127 <= ord(c) < 160)]
    return "".join(kept) if whole.isascii() else "".join(_unturned(kept))


def _unturned(signs: Iterable[str]) -> Iterator[str]:
    marks = 0
    for sign in signs:
        marks = marks + 1 if unicodedata.category(sign) in ("Mn", "Me") else 0
        if sign not in _TURNS and marks <= MOST_MARKS:
            yield sign


def runs(marked: str) -> tuple[Run, ...]:
    """Read wording's markup; a stray end tag is dropped, an open tag ends with the text."""
    marked = clean(marked)
    found: list[Run] = []
    bold = italic = 0
    start = 0
    for tag in _TAG.finditer(marked):
        found.append(Run(marked[start : tag.start()], bold > 0, italic > 0))
        start = tag.end()
        step = -1 if tag[1] else 1
        if tag[2] == "b":
            bold = max(0, bold + step)
        else:
            italic = max(0, italic + step)
    found.append(Run(marked[start:], bold > 0, italic > 0))
    return tuple(run for run in found if run.text)


def plain(marked: str) -> str:
    """The text without its markup, cleaned."""
    return "".join(run.text for run in runs(marked))


def to_html(styled: Iterable[Run]) -> str:
    """Escaped HTML, balanced by construction."""
    return "".join(_run_html(run) for run in styled)


def utf16_units(text: str) -> int:
    """Length in UTF-16 code units: never fewer than characters, so a limit kept in these holds
    in either."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def pieces(styled: Sequence[Run], limit: int) -> list[tuple[Run, ...]]:
    """Cut into pieces of at most ``limit`` UTF-16 units, at a line's end or a space if there is
    one in the second half of a piece. A piece is never blank."""
    done: list[tuple[Run, ...]] = []
    rest = tuple(styled)
    while rest:
        length = _cut_at("".join(run.text for run in rest), limit)
        piece, rest = _split(rest, length)
        if any(run.text.strip() for run in piece):
            done.append(piece)
    return done


def _cut_at(text: str, limit: int) -> int:
    """How many characters of ``text`` go into the next piece."""
    if utf16_units(text) <= limit:
        return len(text)
    units = fits = 0
    for character in text:
        units += 2 if ord(character) > 0xFFFF else 1
        if units > limit:
            break
        fits += 1
    for mark in ("\n", " "):
        at = text.rfind(mark, fits // 2, fits)
        if at > 0:
            return at + 1
    return fits


def _split(styled: Sequence[Run], length: int) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    first: list[Run] = []
    for index, run in enumerate(styled):
        if len(run.text) > length:
            head, tail = run.text[:length], run.text[length:]
            if head:
                first.append(replace(run, text=head))
            return tuple(first), (replace(run, text=tail), *styled[index + 1 :])
        first.append(run)
        length -= len(run.text)
    return tuple(first), ()


def _run_html(run: Run) -> str:
    text = html.escape(run.text, quote=False)
    if run.italic:
        text = f"<i>{text}</i>"
    return f"<b>{text}</b>" if run.bold else text
