"""Other ways of typing the same: slips, no points, other numbers, two messages in one."""

import random
from dataclasses import dataclass, replace

_NEAR = {
    a: near
    for row in ("qwertyuiop", "asdfghjkl", "zxcvbnm")
    for a, near in zip(row, zip(row[1:] + row[-2], row[0] + row[:-1], strict=True), strict=True)
}
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


@dataclass(frozen=True)
class Piece:
    """A stretch of a message: words between numbers, or one number with its role."""

    text: str
    number: bool = False
    role: str | None = None


def pieces_of(text: str, numbers: list[tuple[int, int, str | None]]) -> list[Piece]:
    """The message cut at its numbers."""
    out: list[Piece] = []
    end = 0
    for start, stop, role in numbers:
        out += [Piece(text[end:start]), Piece(text[start:stop], True, role)]
        end = stop
    return [*out, Piece(text[end:])]


def joined(pieces: list[Piece]) -> tuple[str, list[tuple[int, int, str | None]]]:
    """The message again, and where its numbers stand now."""
    text, numbers = "", []
    for one in pieces:
        if one.number:
            numbers.append((len(text), len(text) + len(one.text), one.role))
        text += one.text
    return text, numbers


def retyped(pieces: list[Piece], dice: random.Random) -> list[Piece]:
    """The same message from another thumb."""
    out = [_other_number(p, dice) if p.number else p for p in pieces]
    if dice.random() < 0.25:
        out = [p if p.number else replace(p, text=_without_points(p.text)) for p in out]
    if dice.random() < 0.35:
        rate = dice.choice((0.01, 0.03, 0.06))
        out = [p if p.number else replace(p, text=_slips(p.text, rate, dice)) for p in out]
    if dice.random() < 0.1:
        out = [p if p.number else replace(p, text=_words_lost(p.text, dice)) for p in out]
    return out


def _without_points(text: str) -> str:
    return "".join(" " if c in ".,;:!?" else c for c in text if c != "'")


def _words_lost(text: str, dice: random.Random) -> str:
    small = {"a", "the", "is", "was", "it", "of", "to", "in", "on", "and", "its", "has", "have"}
    kept = [w for w in text.split(" ") if w not in small or dice.random() < 0.5]
    return " ".join(kept)


def _slips(text: str, rate: float, dice: random.Random) -> str:
    out: list[str] = []
    for char in text:
        if char.isalpha() and dice.random() < rate:
            match dice.randrange(4):
                case 0:
                    continue
                case 1:
                    out.append(char)
                case 2 if out:
                    out.insert(-1, char)
                    continue
                case _:
                    char = dice.choice(_NEAR.get(char, (char,)))
        out.append(char)
    return "".join(out)


def _other_number(piece: Piece, dice: random.Random) -> Piece:
    """Another figure for a reading, or the same in words; what is no reading stays in its range."""
    if not piece.text.isdigit() or dice.random() < 0.4:
        return piece
    value = int(piece.text)
    if piece.role in ("top", "side", "floor") and 50 <= value <= 750:
        value = max(40, value + dice.randint(-40, 60))
    said = _said(value, dice) if value < 1000 and dice.random() < 0.4 else str(value)
    return replace(piece, text=said)


def _said(value: int, dice: random.Random) -> str:
    hundreds, rest = divmod(value, 100)
    small = _below_hundred(rest)
    if not hundreds:
        return small
    if not rest:
        return f"{_UNITS[hundreds]} hundred"
    if dice.random() < 0.5:
        return f"{_UNITS[hundreds]} {'oh ' if rest < 10 else ''}{small}"
    return f"{_UNITS[hundreds]} hundred {dice.choice(('and ', ''))}{small}"


def _below_hundred(value: int) -> str:
    if value < 10:
        return _UNITS[value]
    if value < 20:
        return _TEENS[value - 10]
    tens, units = divmod(value, 10)
    return _TENS[tens - 2] + (f" {_UNITS[units]}" if units else "")
