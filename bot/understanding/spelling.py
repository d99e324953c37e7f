"""Short forms spelt out and typing slips mended, towards the words this chat is about.

A word is only mended when it is close to one worth mending, begins with its letter and is not
itself an everyday word: "steem" is steam, "stream" is not. The words stand in
``book/spelling.txt``.
"""

from collections.abc import Sequence
from functools import lru_cache

from rapidfuzz.distance import OSA

from bot.understanding.shelf import pairs, shelf, word_list

_SPELLING = shelf("spelling")
_SHORT_FORMS = pairs(_SPELLING["short forms"])
_AFTER_A_NUMBER = pairs(_SPELLING["after a number"])
_WORTH_MENDING = word_list(_SPELLING["worth mending"])
_WORTH = frozenset(_WORTH_MENDING)
_EVERYDAY = frozenset(word_list(_SPELLING["everyday"]))
_SOMETHING_IS = pairs(_SPELLING["something is"])
_BEFORE_IS = frozenset(word_list(_SPELLING["before is"]))
_FEELING = frozenset(word_list(_SPELLING["feeling"]))
_BEFORE_ILL = frozenset(word_list(_SPELLING["before ill"]))
_FEELINGS = word_list(_SPELLING["feelings"])


POSSESSIVE = "'s"
"""Of "sun's", until the word after it tells whether it is an "is"."""


def expand(raw: str, *, after_number: bool, before: str = "") -> list[str]:
    """The words behind one typed word; ``after_number`` when glued to figures ("10m")."""
    if after_number and raw in _AFTER_A_NUMBER:
        return [_AFTER_A_NUMBER[raw]]
    if raw == "ill" and before in _BEFORE_ILL:
        return [raw]
    if raw in _SHORT_FORMS:
        return _SHORT_FORMS[raw].split()
    if raw.endswith("'s") and len(raw) > 3:
        spoken = raw[:-2] in ("it", "that", "there", "he", "she")
        return [raw[:-2], "is" if spoken else POSSESSIVE]
    return [raw.replace("'", "")] if raw != "o'clock" else [raw]


@lru_cache(maxsize=4096)
def spell(word: str) -> str:
    """``word``, or the word worth mending that it was most likely meant to be."""
    if len(word) < 5 or len(word) > 14 or word in _WORTH or word in _EVERYDAY:
        return word
    allowed = 1 if len(word) < 8 else 2
    best, best_distance = word, allowed + 1
    for candidate in _WORTH_MENDING:
        if abs(len(candidate) - len(word)) > allowed or not _same_start(word, candidate):
            continue
        distance = OSA.distance(word, candidate, score_cutoff=allowed)
        if distance < best_distance:
            best, best_distance = candidate, distance
    return best


def is_meant(after: str) -> bool:
    """Whether the "'s" before ``after`` is an "is": "sun's out", but not "Dave's oven"."""
    return after in _BEFORE_IS


def something_is(word: str, after: str) -> str | None:
    """The noun behind an "is" whose apostrophe is missing ("fires going"), if it is one."""
    return _SOMETHING_IS.get(word) if after in _BEFORE_IS else None


def feeling(before: Sequence[str], word: str) -> str:
    """``word``, or the feeling meant: after "feel" short words and long slips are mended too."""
    if len(word) < 3 or word in _EVERYDAY or word in _FEELINGS or not _FEELING & set(before):
        return word
    allowed = 1 if len(word) < 6 else 2
    near = {name: OSA.distance(word, name, score_cutoff=allowed) for name in _FEELINGS}
    best = min(near, key=lambda name: near[name])
    return best if near[best] <= allowed and word[0] == best[0] else word


def _same_start(word: str, candidate: str) -> bool:
    return word[0] == candidate[0] or word[:2] == candidate[1::-1]
