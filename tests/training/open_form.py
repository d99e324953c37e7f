"""The form in which people's lines are kept: one message a line, with what it tells.

``message => hazard; hazard; reading 148; embers``. ``fine`` is no hazard, ``?`` one that people
would dispute, ``no reading`` says that no temperature of the top is told, and the last part, where
there is one, when it was typed. ``\\n`` stands for a new line; a line that begins with ``# `` is a
remark.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from scheduling.hazard import TOLD

HAZARDS = tuple(one.value for one in TOLD)
MOMENTS = ("laid", "burning", "embers", "after")


@dataclass(frozen=True)
class Row:
    """One message."""

    text: str
    hazards: list[str] | None
    """None where they are disputed."""
    reading: str | None
    """Its figure, "no", or None where nobody said."""
    when: str = "burning"


def rows_of(file: Path) -> Iterator[Row]:
    """Every line of the file. A part that is none of the form's raises ValueError."""
    for line in file.read_text("utf-8").splitlines():
        if not line.strip() or line.startswith("# "):
            continue
        text, told = line.rsplit(" => ", 1)
        yield _row(text.replace("\\n", "\n"), [part.strip() for part in told.split(";")])


def _row(text: str, parts: list[str]) -> Row:
    hazards: list[str] = []
    reading, when = None, "burning"
    for part in parts:
        match part.split():
            case ["fine"] | ["?"]:
                pass
            case ["no", "reading"]:
                reading = "no"
            case ["reading", figure]:
                reading = figure
            case [moment] if moment in MOMENTS:
                when = moment
            case [hazard] if hazard in HAZARDS:
                hazards.append(hazard)
            case _:
                raise ValueError(f"{part!r} is no part of the form: {text!r}")
    return Row(text, None if "?" in parts else hazards, reading, when)
