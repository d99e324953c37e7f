"""The small language in which the phrase book is written.

``stoked .. [with] # (log|logs|bit*)`` reads: the word "stoked", up to three words, perhaps
"with", a number, one of those nouns. ``*`` ends a word of which only the beginning matters.
A phrase matches whole words anywhere in a clause; ``^`` ties it to the start, ``$`` to the end.
"""

import re
from dataclasses import dataclass

_PART = re.compile(r"\([^)]*\)|\[[^\]]*\]|\S+")
_NESTED = re.compile(r"[(\[][^)\]]*[(\[]|^[^(\[]*[)\]]")
NUMBER = r"\d[\d.,:]*"
_END = r"(?:[,.!-] )*$"


@dataclass(frozen=True, slots=True)
class Pattern:
    """One phrase, compiled."""

    written: str
    regex: re.Pattern[str]

    def search(self, text: str) -> re.Match[str] | None:
        """The first match in a clause's text (one space around every token)."""
        return self.regex.search(text)

    def starts(self, text: str) -> bool:
        """Whether a clause's text begins with the phrase."""
        return self.regex.match(text) is not None


def pattern(written: str) -> Pattern:
    """Compile one phrase.

    Raises:
        ValueError: for a choice within a choice, which this language does not have.
    """
    if _NESTED.search(written):
        raise ValueError(f"a choice within a choice: {written!r}")
    out = " "
    parts = _PART.findall(written)
    tied_end = False
    for position, part in enumerate(parts):
        if part == "^":
            out = "^(?: (?:[,:(/-]|and|but|so|then|well|please|ok|hi|hello|also|oh|yes|no|hey))*? "
        elif part == "$":
            tied_end = position == len(parts) - 1
        elif part == "..":
            out += r"(?:\S+ ){0,3}?"
        elif part.startswith("["):
            out += f"{_choice(part[1:-1])}?"
        elif part.startswith("("):
            out += _choice(part[1:-1])
        else:
            out += f"{_word(part)} "
    if tied_end:
        out += _END
    return Pattern(written, re.compile(out))


def words(written: str) -> frozenset[str]:
    """The words of a blank-separated list."""
    return frozenset(written.split())


def _choice(inside: str) -> str:
    return "(?:" + "|".join(_words(one.split()) for one in inside.split("|")) + ")"


def _words(words: list[str]) -> str:
    if words == ["$"]:
        return _END
    return " ".join(map(_word, words)) + " "


def _word(word: str) -> str:
    if word == "#":
        return NUMBER
    if word == "..":
        return r"(?:\S+ ){0,3}?\S+"
    if word.endswith("*"):
        return re.escape(word[:-1]) + r"\S*"
    return re.escape(word)
