"""The words, numbers and signs of a message, in order, each with its place in the text."""

import re
from dataclasses import dataclass, replace
from enum import StrEnum

from bot.understanding.numbers import HYPHENATED, is_number_word, value_of
from bot.understanding.spelling import POSSESSIVE, expand, feeling, is_meant, something_is, spell


class TokenKind(StrEnum):
    """What a token is."""

    WORD = "word"
    NUMBER = "number"
    CLOCK = "clock"  # 9:15
    SIGN = "sign"
    BREAK = "break"  # the end of a line


@dataclass(frozen=True, slots=True)
class Token:
    """One word, number or sign. ``text`` is its canonical form, ``start``/``end`` its place."""

    kind: TokenKind
    text: str
    start: int
    end: int
    value: float = 0.0
    glued: bool = False
    """No space stood before it: the "f" of "300f", the second number of "150-160"."""
    spoken: bool = False
    """A number said in words."""


_PIECES = re.compile(
    r"(?P<clock>(?<!\d)\d{1,2}[:h]\d{2}(?!\d))"
    r"|(?P<number>\d+(?:[.,]\d+)*)"
    r"|(?P<word>[^\W\d_]+(?:'[^\W\d_]+)*)"
    r"|(?P<line>\n)"
    r"|(?P<sign>-{2,}|[^\w\s]|_)"
)


NO_MEASURE = 1e12
"""Value of figures that are no number anybody measures: 1.2.3.4, a card number."""


def tokenise(text: str) -> tuple[Token, ...]:
    """Tokens of normalised ``text``: short forms spelt out, typos mended, number words read."""
    tokens: list[Token] = []
    end = 0
    for found in _PIECES.finditer(HYPHENATED.sub(r"\1 ", text)):
        glued = found.start() == end and end > 0
        end = found.end()
        tokens += _token(found, glued=glued, before=tokens[-1].text if tokens else "")
    return _number_words(_in_context(tokens))


def _token(found: re.Match[str], *, glued: bool, before: str) -> list[Token]:
    raw, start, end = found.group(), found.start(), found.end()
    match found.lastgroup:
        case "clock":
            return [Token(TokenKind.CLOCK, raw.replace("h", ":"), start, end, glued=glued)]
        case "number":
            return [Token(TokenKind.NUMBER, raw, start, end, _value(raw), glued)]
        case "line":
            return [Token(TokenKind.BREAK, "\n", start, end)]
        case "sign":
            return [Token(TokenKind.SIGN, raw, start, end, glued=glued)]
        case _:
            words = expand(raw, after_number=glued, before=before)
            return [
                Token(TokenKind.WORD, spell(word), start, end, glued=glued and position == 0)
                for position, word in enumerate(words)
            ]


def _in_context(tokens: list[Token]) -> list[Token]:
    """Words that only those around them can mend: "fires going", "feel sck"."""
    out: list[Token] = []
    for position, token in enumerate(tokens):
        after = tokens[position + 1].text if position + 1 < len(tokens) else ""
        if token.text == POSSESSIVE and token.kind is TokenKind.WORD:
            if is_meant(after):
                out.append(replace(token, text="is"))
            continue
        noun = something_is(token.text, after)
        if noun is not None:
            out += [replace(token, text=noun), replace(token, text="is", glued=False)]
        elif token.kind is TokenKind.WORD:
            before = [one.text for one in out[-2:]]
            out.append(replace(token, text=feeling(before, token.text)))
        else:
            out.append(token)
    return out


def _value(raw: str) -> float:
    """A decimal comma is a point; a comma before three figures parts thousands."""
    if re.fullmatch(r"\d{1,3}(,\d{3}){1,2}(\.\d{1,3})?", raw):
        return float(raw.replace(",", ""))
    plain = raw.replace(",", ".")
    if plain.count(".") > 1 or len(plain) > 12:
        return NO_MEASURE
    return float(plain)


def _number_words(tokens: list[Token]) -> tuple[Token, ...]:
    out: list[Token] = []
    position = 0
    while position < len(tokens):
        token = tokens[position]
        if token.kind is TokenKind.WORD and (is_number_word(token.text) or token.text == "a"):
            run = _words_from(tokens, position)
            said = value_of(run)
            if said is not None:
                value, length = said
                out.append(
                    replace(
                        token,
                        kind=TokenKind.NUMBER,
                        text=f"{value:g}",
                        value=value,
                        end=tokens[position + length - 1].end,
                        spoken=True,
                    )
                )
                position += length
                continue
        out.append(token)
        position += 1
    return _with_zeros(out)


def _words_from(tokens: list[Token], position: int) -> list[str]:
    words: list[str] = []
    for token in tokens[position : position + 8]:
        if token.kind is not TokenKind.WORD:
            break
        words.append(token.text)
    return words


def _with_zeros(tokens: list[Token]) -> tuple[Token, ...]:
    """ "Three oh five": an "oh" between two figures is a nought."""
    out = list(tokens)
    for position in range(1, len(out) - 1):
        before, token, after = out[position - 1 : position + 2]
        if (
            token.text in ("oh", "o")
            and before.kind is TokenKind.NUMBER
            and after.kind is TokenKind.NUMBER
            and before.value < 10
            and after.value < 10
        ):
            out[position] = replace(token, kind=TokenKind.NUMBER, text="0", value=0.0, spoken=True)
    return tuple(out)
