"""Own ways in the units they are written in: °F and inches beside °C and millimetres.

What is kept is °C, K and mm, to a hundredth; what is written is the reader's own, finer, so that a
file comes back as it went out.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from bot.ways.lines import line_of
from scheduling.meaning.ways import WayFault

Unit = Literal["C", "F"]
Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Spelling:
    """A key in another unit: ``own`` = (``theirs`` - ``zero``) * ``scale``."""

    theirs: str
    own: str
    scale: float
    zero: float = 0.0
    sign: str = "°F"

    def read(self, value: float) -> float:
        """From their unit to ours."""
        return round((value - self.zero) * self.scale, 2)

    def shown(self, value: float) -> float:
        """From our unit to theirs."""
        return round(value / self.scale + self.zero, 4)


SPELLINGS: Final = (
    Spelling("step_f", "step_k", 1 / 1.8),
    Spelling("climb_low_f_h", "climb_low_k_h", 1 / 1.8, sign="°F/h"),
    Spelling("climb_high_f_h", "climb_high_k_h", 1 / 1.8, sign="°F/h"),
    Spelling("final_f", "final_c", 1 / 1.8, 32.0),
    Spelling("thermometer_f", "thermometer_c", 1 / 1.8, 32.0),
    Spelling("diameter_in", "diameter_mm", 25.4, sign="in"),
    Spelling("shell_in", "shell_mm", 25.4, sign="in"),
    Spelling("thickness_in", "thickness_mm", 25.4, sign="in"),
)

BY_THEIRS: Final[Mapping[str, Spelling]] = {one.theirs: one for one in SPELLINGS}
BY_OWN: Final[Mapping[str, Spelling]] = {one.own: one for one in SPELLINGS}


@dataclass(frozen=True, slots=True)
class Spelt:
    """A decoded file with every key as ours; ``typed`` says where another was written."""

    told: dict[str, Any]
    typed: Mapping[Path, Spelling]
    faults: tuple[WayFault, ...]


def as_ours(told: Mapping[str, Any], text: str) -> Spelt:
    """The same in °C, K and mm. A limit that is told in both units is a fault. What is no number
    stays, for whoever checks it."""
    typed: dict[Path, Spelling] = {}
    faults: list[WayFault] = []
    out: dict[str, Any] = _copied(told)
    for path, table in tuple(_tables(out, ())):
        for key in tuple(table):
            spelling = BY_THEIRS.get(key)
            if spelling is None:
                continue
            if spelling.own in table:
                line = line_of(text, (*path, key))
                faults.append(WayFault(what="both", line=line, field=key, near=spelling.own))
                table.pop(key)
                continue
            value = table.pop(key)
            number = isinstance(value, int | float) and not isinstance(value, bool)
            table[spelling.own] = spelling.read(value) if number else value
            typed[(*path, spelling.own)] = spelling
    return Spelt(out, typed, tuple(faults))


def as_typed(fault: WayFault, path: Path, spelt: Spelt, text: str) -> WayFault:
    """A fault of one of our keys, told of the key that was typed and in its unit."""
    spelling = spelt.typed.get(path)
    if spelling is None:
        return fault
    changed: dict[str, Any] = {
        name: spelling.shown(value)
        for name in ("low", "high")
        if (value := getattr(fault, name)) is not None
    }
    try:
        changed["value"] = f"{spelling.shown(float(fault.value)):g}"
    except ValueError:
        changed["value"] = fault.value
    line = line_of(text, (*path[:-1], spelling.theirs))
    return fault.model_copy(update=changed | {"field": spelling.theirs, "line": line})


def _copied(told: Any) -> Any:
    match told:
        case Mapping():
            return {key: _copied(one) for key, one in told.items()}
        case list() | tuple():
            return [_copied(one) for one in told]
    return told


def _tables(told: Any, path: Path) -> Iterator[tuple[Path, dict[str, Any]]]:
    """Every table, with where it stands. A remark or a sentence may say what it likes."""
    match told:
        case dict():
            yield path, told
            for key, one in told.items():
                if key not in ("words", "checklist", "sources"):
                    yield from _tables(one, (*path, key))
        case list():
            for index, one in enumerate(told):
                yield from _tables(one, (*path, index))
