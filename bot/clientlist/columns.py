"""The columns of a file of clients, which are also the keys of a line typed about one oven."""

import re
from collections.abc import Mapping
from typing import Final

from scheduling.choice import About

NAME, PHONE, MODEL, TOWN = "name", "phone", "model", "town"
LATITUDE, LONGITUDE = "latitude", "longitude"

ANSWERS: Final[Mapping[str, About]] = {
    TOWN: About.PLACE,
    "built": About.CONSTRUCTION,
    "size": About.SIZE,
    "shell": About.THICKNESS,
    "finished": About.WET_WORK,
    "stands": About.STANDS,
    "door": About.OPENINGS,
    "shelter": About.SHELTER,
    "thermometer": About.INSTRUMENT,
}
"""Columns that answer a question of the set-up."""

COLUMNS: Final = (
    NAME, PHONE, MODEL, TOWN, LATITUDE, LONGITUDE, "built", "size", "shell", "finished", "stands",
    "door", "shelter", "thermometer",
)  # fmt: skip
"""What can be filled in, in the order in which it is written."""

TOLD: Final = ("owner", "state", "next fire")
"""Columns that are only written: what they say cannot be brought along."""

_OTHERWISE: Final[Mapping[str, str]] = {
    "client": NAME,
    "telephone": PHONE,
    "mobile": PHONE,
    "phone number": PHONE,
    "place": TOWN,
    "city": TOWN,
    "lat": LATITUDE,
    "lon": LONGITUDE,
    "long": LONGITUDE,
    "construction": "built",
    "made of": "built",
    "make": "built",
    "how it was built": "built",
    "diameter": "size",
    "width": "size",
    "inner width": "size",
    "wall": "shell",
    "wall thickness": "shell",
    "thickness": "shell",
    "wet work": "finished",
    "last wet work": "finished",
    "where it stands": "stands",
    "where": "stands",
    "door and flue": "door",
    "wind": "shelter",
    "wind shelter": "shelter",
}
"""Other names that people give them."""

_LINE = re.compile(r"\s*(?P<key>[A-Za-z][A-Za-z ]*?)\s*[:=]\s*(?P<value>\S.*?)\s*")
_OF_LINES = (*ANSWERS, MODEL)


def column(written: str) -> str | None:
    """The column that a heading means; None for none."""
    plain = " ".join(written.replace("_", " ").lower().split()).strip(" .:")
    if plain in (*COLUMNS, *TOLD):
        return plain
    return _OTHERWISE.get(plain)


def about_of(key: str) -> About:
    """The question that a column answers. Raises KeyError for one that answers none."""
    return ANSWERS[key]


def lines_in(text: str) -> tuple[tuple[str, str], ...]:
    """Lines like ``size: 80 cm`` as keys and values; nothing unless every line is such a one."""
    found: list[tuple[str, str]] = []
    for line in text.splitlines():
        if not line.strip():
            continue
        told = _LINE.fullmatch(line)
        key = column(told["key"]) if told is not None else None
        if told is None or key not in _OF_LINES:
            return ()
        found.append((key, told["value"]))
    return tuple(found)
