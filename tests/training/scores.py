"""How well messages are understood: both readers, beside the grammar alone.

    python -m tests.training.scores [FILE ...]

A file holds lines in the open form of ``lines/``; by default those in ``held_out/`` are read, which
taught the second reader nothing. What taught either reader scores too well.
"""

import math
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from bot.understanding import understand
from bot.understanding.agreement import agreed, hazard_of
from bot.understanding.second_reader import second_reader
from scheduling.remark import (
    Expectation,
    Reading,
    Setting,
    Understood,
)
from tests.bot.understanding.corpus import NOW
from tests.training.open_form import rows_of

HELD_OUT = Path(__file__).parent / "held_out"
AT_THE_FIRE = Setting(unit="C", now=NOW, expect=Expectation.READING, last_top_c=120.0)


@dataclass(frozen=True)
class Told:
    """One line: what its writer says it tells."""

    text: str
    hazards: frozenset[str]
    reading: str | None
    """The figure, "no", or None where the writer did not say."""


def hazards_in(understood: Understood) -> list[str]:
    """The hazards heard, the first first."""
    told = (hazard_of(one) for one in understood.meanings)
    return [one.value for one in told if one is not None]


def asks(understood: Understood) -> bool:
    """Whether its sender is asked something back; beside a fire that holds the wood."""
    return bool(understood.unheard) or understood.doubt is not None


def wrong_number(told: Told, understood: Understood) -> bool:
    """Whether a temperature was taken that the message does not state."""
    taken = [
        c
        for one in understood.meanings
        if isinstance(one, Reading)
        for c in (one.top_c, one.hearth_c, *one.sides_c)
        if c is not None
    ]
    if told.reading is None or not taken:
        return False
    if told.reading == "no":
        return True
    wanted = float(told.reading)
    return not any(min(abs(c - wanted), abs(c - (wanted - 32) / 1.8)) < 0.11 for c in taken)


def right_reading(told: Told, understood: Understood) -> bool:
    """Whether a reading was taken exactly where there is one, and it is the one."""
    took = any(isinstance(one, Reading) for one in understood.meanings)
    return took == (told.reading != "no") and not wrong_number(told, understood)


Measure = Callable[[Told, Understood], bool]
OF_DANGERS: dict[str, Measure] = {
    "right at once": lambda t, u: hazards_in(u)[:1] != [] and hazards_in(u)[0] in t.hazards,
    "right among those heard": lambda t, u: bool(t.hazards & set(hazards_in(u))),
    "one tap away": lambda t, u: not hazards_in(u) and asks(u),
    "heard as another": lambda t, u: bool(hazards_in(u)) and not t.hazards & set(hazards_in(u)),
    "missed": lambda _, u: not hazards_in(u) and not asks(u),
    "wrong number": wrong_number,
}
OF_OTHERS: dict[str, Measure] = {
    "reading right at once": lambda t, u: right_reading(t, u) and not asks(u),
    "false alarm": lambda _, u: bool(hazards_in(u)),
    "held and asked": lambda _, u: not hazards_in(u) and bool(u.unheard),
    "asked": lambda _, u: not hazards_in(u) and asks(u),
    "wrong number": wrong_number,
}


def told_in(file: Path) -> Iterator[Told]:
    """Every line of the file whose label nobody disputes."""
    for row in rows_of(file):
        if row.hazards is not None:
            yield Told(row.text, frozenset(row.hazards), row.reading)


def share(lines: list[Told], read: dict[str, Understood], measure: Measure) -> str:
    """Per cent with its standard error."""
    part = sum(measure(one, read[one.text]) for one in lines) / len(lines)
    return f"{100 * part:5.1f} ± {100 * math.sqrt(part * (1 - part) / len(lines)):.1f}"


def table(name: str, lines: list[Told], measures: dict[str, Measure]) -> None:
    """Print one sort of line: a row a measure, the grammar alone beside both readers."""
    second = second_reader()
    alone = {one.text: understand(one.text, AT_THE_FIRE) for one in lines}
    both = {
        text: agreed(text, read, second.read(text) if second else None)
        for text, read in alone.items()
    }
    print(f"\n{name}: {len(lines)} lines{'':<18} grammar       both")
    for measured, measure in measures.items():
        row = share(lines, alone, measure), share(lines, both, measure)
        print(f"  {measured:<26} {row[0]:>14} {row[1]:>14}")


def main() -> None:
    """Score the files named, each sort of line by itself."""
    files = [Path(one) for one in sys.argv[1:]] or sorted(HELD_OUT.glob("*.txt"))
    for file in files:
        lines = list(told_in(file))
        dangers = [one for one in lines if one.hazards]
        others = [one for one in lines if not one.hazards]
        if dangers:
            table(f"{file.stem}, dangers", dangers, OF_DANGERS)
        if others:
            table(f"{file.stem}, no danger", others, OF_OTHERS)


if __name__ == "__main__":
    main()
