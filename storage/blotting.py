"""Blotting out in what is stored, where a letter may be written as its escape."""

import json
import re
from collections.abc import Mapping, Sequence

from sqlalchemy import Column, ColumnElement, false, or_

from scheduling.blotting import CUT_AT, SHORTEST, blotted
from scheduling.ports import Parcel

TEXTS = frozenset(
    {"text", "alt", "rest", "why", "detail", "oven", "title", "titles", "notes", "words"}
)
"""Fields of a parcel that hold words whatever these look like."""

_NAME_OF_OURS = re.compile(r"[a-z_]+")
"""What a field of another name may hold without being anybody's words: a kind, a state."""


def blotted_text(text: str, words: Sequence[str]) -> str:
    """Stored text, such as JSON that nobody reads again, without these words however written."""
    return blotted(text, _written(words))


def blotted_parcel(parcel: Parcel, words: Sequence[str]) -> Parcel:
    """A parcel that can still be sent and whose buttons still work."""
    told = parcel.model_dump(mode="json")
    choices = {
        blotted(label, words): _walked(choice, words, "choice")
        for label, choice in told.pop("choices").items()
    }
    chats = {
        blotted(label, words): blotted(address, words)
        for label, address in told.pop("chats").items()
    }
    rows = [[blotted(label, words) for label in row] for row in told.pop("buttons")]
    rest = {name: _walked(value, words, name) for name, value in told.items()}
    return Parcel.model_validate(rest | {"choices": choices, "chats": chats, "buttons": rows})


def blotted_labels(keys: Mapping[str, str], words: Sequence[str]) -> dict[str, str]:
    """Labels with their keys."""
    return {blotted(label, words): key for label, key in keys.items()}


def named_in(column: Column[str], words: Sequence[str]) -> ColumnElement[bool]:
    """Whether a text column may hold one of these words; never False where one is held."""
    found = (column.icontains(word[:CUT_AT], autoescape=True) for word in _written(words))
    return or_(false(), *found)


def _walked(value: object, words: Sequence[str], name: str) -> object:
    match value:
        case dict():
            return {key: _walked(one, words, _nearest(name, key)) for key, one in value.items()}
        case list():
            return [_walked(one, words, name) for one in value]
        case str() if name in TEXTS or not _NAME_OF_OURS.fullmatch(value):
            return blotted(value, words)
        case _:
            return value


def _nearest(outer: str, inner: str) -> str:
    """Within titles and notes every key is a text's own."""
    return outer if outer in ("titles", "notes") else inner


def _written(words: Sequence[str]) -> list[str]:
    wanted = [word.strip() for word in words if len(word.strip()) >= SHORTEST]
    forms = {form for w in wanted for form in (w, json.dumps(w)[1:-1], *_as_shown(w))}
    return sorted(forms)


def _as_shown(word: str) -> tuple[str, str]:
    """As sentences show words of others: without angle brackets, and in one line."""
    plain = " ".join(word.replace("<", "‹").replace(">", "›").split())
    return plain, json.dumps(plain, ensure_ascii=False)[1:-1]
