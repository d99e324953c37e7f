"""Numbers in words: runs of number words read by ``text_to_num``, and the way people say them.

Spoken temperatures drop the word "hundred" ("one fifty two", "three oh five"), and voice
dictation writes what it hears ("1 60"). Those pairs are joined by ``joined_value``, but only
once the clock, the wood pile and the wind have taken the numbers that are theirs.
"""

import re
from collections.abc import Sequence

from text_to_num import text2num

_UNITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TEENS = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_MISSPELT = {
    "fourty": "forty",
    "fivty": "fifty",
    "fifthy": "fifty",
    "fity": "fifty",
    "sixy": "sixty",
    "sevnty": "seventy",
    "eigthy": "eighty",
    "eigty": "eighty",
    "ninty": "ninety",
    "ninetey": "ninety",
    "hunderd": "hundred",
    "hundered": "hundred",
    "hundrd": "hundred",
    "hunnerd": "hundred",
    "thirdy": "thirty",
    "twety": "twenty",
    "tweny": "twenty",
    "fiften": "fifteen",
    "fourteeen": "fourteen",
    "tow": "two",
    "thre": "three",
    "therty": "thirty",
    "threehundred": "three hundred",
}
NUMBER_WORDS = frozenset([*_UNITS, *_TEENS, *_TENS, "hundred", "thousand", *_MISSPELT])


HYPHENATED = re.compile(rf"\b({'|'.join(_TENS)})-(?=(?:{'|'.join(_UNITS)})\b)")
"""The hyphen of "ninety-eight" and the word before it."""


def is_number_word(word: str) -> bool:
    """Whether ``word`` is part of a number said in words."""
    return word in NUMBER_WORDS or ("-" in word and all(p in NUMBER_WORDS for p in word.split("-")))


def value_of(words: Sequence[str]) -> tuple[float, int] | None:
    """The number that the longest run of leading ``words`` says, and how many words it took."""
    run: list[str] = []
    for word in words:
        if not (is_number_word(word) or word == "and" or (word == "a" and not run)):
            break
        run.append(word)
    for length in range(len(run), 0, -1):
        if run[length - 1] in ("and", "a"):
            continue
        if _steals(run, length):
            continue
        value = _said(run[:length])
        if value is not None:
            return value, length
    return None


def _steals(run: list[str], length: int) -> bool:
    """Whether the last word begins the next figure: "one sixty | one sixty five"."""
    if length < 2 or length >= len(run) or run[length - 1] not in _UNITS:
        return False
    return run[length - 2] in _TENS and run[length] in (*_TENS, *_TEENS, "hundred")


def _said(run: list[str]) -> float | None:
    words = [_MISSPELT.get(word, word) for word in run]
    if words[0] == "a":
        words = (
            ["one", *words[1:]] if len(words) > 1 and words[1] in ("hundred", "thousand") else words
        )
    if words[0] in ("a", "and"):
        return None
    if "and" in words and not any(word in ("hundred", "thousand") for word in words):
        # "one and two" are two numbers
        return None
    try:
        return float(text2num(" ".join(words).replace("-", " "), "en"))
    except ValueError:
        return None


def joined_value(parts: Sequence[str]) -> float | None:
    """The three-figure number behind ``parts`` spoken one after another, or None.

    ``["1", "60"]`` is 160 and ``["3", "0", "5"]`` is 305; ``["15", "2"]`` stays two numbers,
    because nobody says a hundred and fifty-two that way.
    """
    if not all(part.isdigit() for part in parts):
        return None
    lengths = [len(part) for part in parts]
    if parts[0].startswith("0") or lengths not in ([1, 2], [1, 1, 1]):
        return None
    return float("".join(parts))
