"""Lengths and the reach of a thermometer as people type them."""

import re
from typing import Literal

from scheduling.choice import About

Unit = Literal["C", "F"]

NUMBER = r"(\d+(?:[.,]\d+)?)"
UNKNOWN = re.compile(
    r"\b(don'?t know|dunno|do not know|no idea|not sure|unsure|unknown|can'?t (tell|remember)|"
    r"haven'?t a clue)\b|^\?+$"
)


def length(about: About, said: str, unit: Unit) -> str | None:
    """Millimetres; a bare number is read in the unit in which it is plausible."""
    if UNKNOWN.search(said):
        return "unknown"
    feet = re.search(rf"{NUMBER}\s*(?:ft|feet|foot|')(?:\s*{NUMBER})?", said)
    if feet:
        return f"{(_n(feet[1]) * 12 + (_n(feet[2]) if feet[2] else 0)) * 25.4:g}"
    found = re.search(rf"{NUMBER}\s*(mm|millimet\w*|cm|centimet\w*|m|met\w*|in|inch\w*|\")?", said)
    if found is None:
        return None
    number, name = _n(found[1]), found[2] or ""
    if name.startswith(("mm", "milli")):
        return f"{number:g}"
    if name.startswith(("cm", "centi")):
        return f"{number * 10:g}"
    if name.startswith("m"):
        return f"{number * 1000:g}"
    if name:
        return f"{number * 25.4:g}"
    return f"{_bare_length(about, number, unit):g}"


def _bare_length(about: About, number: float, unit: Unit) -> float:
    if about is About.THICKNESS:
        if unit == "F" and number <= 12:
            return number * 25.4
        return number * 10 if 2 <= number < 20 else number
    if number < 3:
        return number * 1000
    if unit == "F" and 15 <= number <= 60:
        return number * 25.4
    return number * 10 if 45 <= number <= 250 else number


def instrument(said: str, unit: Unit) -> str | None:
    """Its highest °C."""
    if re.search(
        r"\b(no|none|haven'?t|don'?t have|do not have|without|don'?t own|nope|not got)\b", said
    ) and not re.search(rf"{NUMBER}", said):
        return "unknown" if UNKNOWN.search(said) else "none"
    numbers = [
        (_n(hit[1]), hit[2] or "")
        for hit in re.finditer(rf"(?<![\w.,-]){NUMBER}\s*(?:°|deg\w*)?\s*([cf])?\b", said)
    ]
    if not numbers:
        return "unknown" if UNKNOWN.search(said) or _one(said, ("yes", "yep")) else None
    # "-50 to 550": the upper end. "550 C (1022 F)": the one with our unit on it.
    named = [(n, u) for n, u in numbers if u == unit.lower()]
    number, name = max(named or numbers)
    fahrenheit = name == "f" or (not name and unit == "F")
    return f"{round((number - 32) / 1.8) if fahrenheit else number:g}"


def _one(said: str, words: tuple[str, ...]) -> bool:
    return any(re.search(rf"\b{word}\b", said) for word in words)


def _n(text: str) -> float:
    return float(text.replace(",", "."))
