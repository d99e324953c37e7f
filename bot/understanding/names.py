"""Clients' names in what a builder types: which words are one, and the rest without them."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scheduling.ports import Called
from storage.roster import plain

MOST = 4
"""Names in one message; who means more says it of a group."""

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_OF_THEM = re.compile(r"['’]s?$")
_COMMON = frozenset({"the", "oven", "ovens", "of", "and", "a", "an", "at", "in", "on", "my", "our"})
"""Words that are nobody's name by themselves."""

_MARK = "\x00"
_BEFORE = r"(?:\b(?:for|at|to|of|from|with|and|or)\s+|[&+]\s*)*"
_BUT = (
    r"(?:,\s*)?\b(?:but|except|excepting|save|without|apart from|not|besides)"
    r"(?:\s+(?:for|from))?\s+"
)


@dataclass(frozen=True, slots=True)
class Name:
    """Words from ``start`` to ``stop`` of a text, by which these clients are called."""

    start: int
    stop: int
    ovens: frozenset[str]


@dataclass(frozen=True, slots=True)
class Without:
    """A text without some of its names; ``but`` are those who were left out of something."""

    text: str
    named: tuple[Name, ...]
    but: tuple[Name, ...]


def words_of(text: str) -> list[tuple[str, int, int]]:
    """Each word as it is searched, with its place."""
    return [
        (plain(_OF_THEM.sub("", found.group())), found.start(), found.end())
        for found in _WORD.finditer(text)
    ]


def names_in(text: str, clients: Iterable[Called]) -> tuple[Name, ...]:
    """The names in ``text``, in whole words, the longest there are."""
    typed = words_of(text)
    known = [(one.id, _names_of(one)) for one in clients]
    found: list[Name] = []
    at = 0
    while at < len(typed) and len(found) < MOST:
        runs = {oven: _run(typed, at, names) for oven, names in known}
        longest = max(runs.values(), default=0)
        if longest:
            ovens = frozenset(oven for oven, run in runs.items() if run == longest)
            found.append(Name(typed[at][1], typed[at + longest - 1][2], ovens))
        at += longest or 1
    return tuple(found)


def is_whole(text: str, names: Sequence[Name]) -> bool:
    """Whether ``text`` is one name and nothing else."""
    if len(names) != 1:
        return False
    around = text[: names[0].start] + " " + text[names[0].stop :]
    return all(word in _COMMON or word == "s" for word, _, _ in words_of(around))


def without(text: str, names: Sequence[Name]) -> Without:
    """``text`` without these names, and without the small words that tied them to it."""
    for one in sorted(names, key=lambda one: one.start, reverse=True):
        text = text[: one.start] + _MARK + text[one.stop :]
    ordered = sorted(names, key=lambda one: one.start)
    but: list[Name] = []
    index = 0

    def take(found: re.Match[str]) -> str:
        nonlocal index
        count = found.group().count(_MARK)
        if found.group("but") is not None:
            but.extend(ordered[index : index + count])
        index += count
        return " "

    mark = rf"{_MARK}(?:['’]s?\b)?(?:\s+ovens?\b)?"
    marks = rf"(?P<but>{_BUT})?{_BEFORE}{mark}(?:\s*(?:,|&|\+|\band\b|\bor\b)\s*{mark})*"
    text = re.sub(marks, take, text, flags=re.IGNORECASE)
    text = re.sub(r"^\s*[,:;–-]+|[,:;–-]+\s*$", " ", text)
    named = tuple(one for one in ordered if one not in but)
    return Without(" ".join(text.split()), named, tuple(but))


def _names_of(client: Called) -> frozenset[str]:
    return frozenset(
        word for text in (client.name, *client.people) for word, _, _ in words_of(text)
    )


def _run(typed: Sequence[tuple[str, int, int]], at: int, names: frozenset[str]) -> int:
    """How many words from there on are this client's, one of them at least neither a common one
    nor a number, which would be a temperature."""
    run: list[str] = []
    for word, _, _ in typed[at:]:
        if word not in names or word in run:
            break
        run.append(word)
    while run and run[-1] in _COMMON - {"oven", "ovens"}:
        run.pop()
    named = any(word not in _COMMON and not word.isdigit() for word in run)
    return len(run) if named and run[0] not in _COMMON else 0
