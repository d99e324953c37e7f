"""Blotting out: words that name somebody, taken out of text that stays."""

import json
import re
from collections.abc import Iterable, Sequence
from typing import Any

BLOT = "–"
SHORTEST = 2
"""A name of one letter stands in too many texts to be taken out of them."""

CUT_AT = 12
"""A label may show no more of a name than this, and an ellipsis."""


def blotted(text: str, words: Iterable[str]) -> str:
    """``text`` without these words, whole or cut short by an ellipsis, in whatever case."""
    found = pattern_of(words)
    return found.sub(BLOT, text) if found is not None else text


def without_name(name: str, words: Iterable[str]) -> str:
    """A name without these words; "" where it was nothing else."""
    left = blotted(name, words)
    return "" if left == BLOT else left


def pattern_of(words: Iterable[str]) -> re.Pattern[str] | None:
    """What finds them; None for no words worth finding."""
    wanted = sorted({w.strip() for w in words if len(w.strip()) >= SHORTEST}, key=len, reverse=True)
    if not wanted:
        return None
    shown = [re.escape(word) for word in wanted]
    for word in wanted:
        shown += [re.escape(word[:end].rstrip()) + "…" for end in range(len(word), CUT_AT, -1)]
    return re.compile(rf"(?<!\w)(?:{'|'.join(shown)})(?!\w)", re.IGNORECASE)


def blotted_json(text: str, words: Sequence[str]) -> str:
    """JSON whose texts are without these words; its keys and figures stay. The same text where
    nothing was found."""
    told = json.loads(text)
    bare = _blotted_in(told, words)
    return text if bare == told else json.dumps(bare, ensure_ascii=False)


def _blotted_in(told: Any, words: Sequence[str]) -> Any:
    match told:
        case str():
            return blotted(told, words)
        case list():
            return [_blotted_in(one, words) for one in told]
        case dict():
            return {key: _blotted_in(one, words) for key, one in told.items()}
    return told
