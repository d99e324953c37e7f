"""A message as the encoder reads it, and the numbers in it."""

import unicodedata

from bot.understanding.normalise import normalise
from bot.understanding.numbers import is_number_word
from bot.understanding.tokens import Token, TokenKind, tokenise

_PICTURES = range(0x2190, 0x1FBFF)
_MOST_NAMED = 6


def spelt_out(text: str) -> str:
    """``text`` normalised as for the grammar, and after it the names of its pictures.

    What stands before them keeps its place, so that the numbers stand where the grammar's tokens
    have them. A picture's name never adds a number.
    """
    names: list[str] = []
    for char in text:
        if ord(char) in _PICTURES and unicodedata.category(char) == "So":
            name = unicodedata.name(char, "").lower().replace("-", " ")
            words = [word for word in name.split() if word.isalpha() and not is_number_word(word)]
            names += [" ".join(words)] if words else []
    pictures = ", ".join(dict.fromkeys(names[:_MOST_NAMED]))
    plain = normalise(text)
    return f"{plain} ({pictures})" if pictures else plain


def numbers_in(text: str) -> list[Token]:
    """The numbers of the message, in digits or said in words, as the grammar has them."""
    return [one for one in tokenise(normalise(text)) if one.kind is TokenKind.NUMBER]
