"""A journal without a person: the one case in which what is written changes.

Numbers stay (a reading taken back is found by its number), figures stay, and who said a thing is
``SOMEBODY``. Words, photos, names and chat addresses go; a place is left as the whole degree that
it lies in, which is a hundred kilometres wide.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from scheduling.blotting import blotted, without_name
from scheduling.choice import About
from scheduling.journal import (
    ENTRY,
    Answered,
    Asked,
    CaseClosed,
    CaseHandedBack,
    CaseTaken,
    Described,
    Entry,
    Foretold,
    Joined,
    Jotted,
    Left,
    Opened,
    Reached,
    TalkClosed,
    TalkOpened,
    TalkSaid,
    Worded,
)

SOMEBODY = "somebody"

WORDS = ("text", "words", "why", "what")
"""Fields that may hold somebody's own words; in entries of a fixed ``what`` they hold none."""

FIXED = frozenset({"reached", "promised", "firing_ended", "reopened", "undone", "settled", "asked"})
"""Kinds whose ``why`` and ``what`` are names of ours."""


@dataclass(frozen=True, slots=True)
class Forgotten:
    """Who is taken out: their ids, the ``words`` that name them (names, chat addresses).

    ``wholly``: nobody who tended the oven is left, so that its name, its place and all that
    anybody wrote of it go too. ``keys``: the keys of all messages go (they hold chat addresses).
    """

    people: frozenset[str]
    words: tuple[str, ...] = ()
    wholly: bool = False
    keys: bool = False


def without(entries: Sequence[Entry], gone: Forgotten) -> tuple[Entry, ...]:
    """As many entries, in which nothing is left of who is gone."""
    keys = {one.key for one in entries if one.by in gone.people and one.key is not None}
    return tuple(_without(entry, gone, keys) for entry in entries)


def tending(entries: Sequence[Entry]) -> tuple[str, ...]:
    """Who tends the oven after these entries, the owner first. (Coming and going is never
    undone.)"""
    people: dict[str, None] = {}
    for entry in entries:
        if isinstance(entry, Joined):
            people.setdefault(entry.person)
        elif isinstance(entry, Left):
            people.pop(entry.person, None)
    return tuple(people)


def ever_tending(entries: Sequence[Entry]) -> tuple[str, ...]:
    """Everybody who has tended the oven, whether or not they still do."""
    return tuple(dict.fromkeys(one.person for one in entries if isinstance(one, Joined)))


def _without(entry: Entry, gone: Forgotten, keys: Collection[str | None]) -> Entry:
    new: dict[str, Any] = {}
    theirs = entry.by in gone.people
    if theirs:
        new["by"] = SOMEBODY
    if gone.wholly or gone.keys or entry.key in keys:
        new["key"] = None
    if isinstance(entry, Joined | Left | Reached) and entry.person in gone.people:
        new["person"] = SOMEBODY
    if getattr(entry, "photo", None) is not None and (theirs or gone.wholly):
        new["photo"] = None
    if entry.kind not in FIXED:
        new |= _words(entry, gone, theirs)
    match entry:
        case Opened():
            new["name"] = "" if gone.wholly else without_name(entry.name, gone.words)
        case Asked():
            changes = (_without(ENTRY.validate_json(one), gone, keys) for one in entry.change)
            new["change"] = tuple(ENTRY.dump_json(one).decode() for one in changes)
        case Answered(about=About.PLACE) if gone.wholly:
            new["value"] = _far_off(entry.value)
        case Described():
            new["makeup"] = entry.makeup.model_copy(update=_makeup(entry, gone))
        case (
            CaseTaken()
            | CaseHandedBack()
            | CaseClosed()
            | Jotted()
            | TalkOpened()
            | TalkSaid()
            | TalkClosed()
        ):
            new["name"] = "" if theirs else blotted(entry.name, gone.words)
        case Worded() if gone.wholly:
            # The builder's own words stay, but for whom they name; not while somebody still goes
            # by them: a name may be a word of a caution.
            new["greeting"] = blotted(entry.greeting, gone.words)
            for lines in ("cautions", "before", "after"):
                new[lines] = tuple(blotted(one, gone.words) for one in getattr(entry, lines))
        case Foretold() if gone.wholly:
            rounded = {name: float(round(getattr(entry.forecast, name))) for name in _DEGREES}
            new["forecast"] = entry.forecast.model_copy(update=rounded)
        case _:
            pass
    return entry.model_copy(update=new)


_DEGREES = ("latitude", "longitude")


def _words(entry: Entry, gone: Forgotten, theirs: bool) -> dict[str, str]:
    """Free text of an entry: all of it goes, or what names them."""
    found: dict[str, str] = {}
    for field in WORDS:
        said = getattr(entry, field, None)
        if type(said) is str and said and not _is_ours(entry, field):
            found[field] = "" if theirs or gone.wholly else blotted(said, gone.words)
    return found


def _is_ours(entry: Entry, field: str) -> bool:
    """A field that holds one of a few names of ours, whoever said it."""
    return field == "what" and entry.kind != "repaired"


def _makeup(entry: Described, gone: Forgotten) -> dict[str, object]:
    makeup = entry.makeup
    if not gone.wholly:
        return {"name": without_name(makeup.name, gone.words) or "oven"}
    found: dict[str, object] = {"name": "oven"}
    for name in _DEGREES:
        if (degrees := getattr(makeup, name)) is not None:
            found[name] = float(round(degrees))
    return found


def _far_off(place: str) -> str:
    """A place in the notation of ``About.PLACE``, as its whole degree and its zone."""
    parts = [part.strip() for part in place.split(",", 3)]
    return f"{round(float(parts[0])):d},{round(float(parts[1])):d},{parts[2]}"
