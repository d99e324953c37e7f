"""What the second reader learns from: every labelled line, with its hazards, kinds and roles.

Three sorts of lines come together. The sets beside the grammar (``tests/bot/understanding``) give
kinds and the role of each number; ``lines/retold.txt`` says which of them tell of a hazard. The
other files in ``lines/`` give hazards, and the reading where there is one. A line is
``message => hazard; hazard; reading 148``; ``fine`` is no hazard, ``?`` one that people would
dispute: it teaches neither. ``python -m tests.training.examples FILE`` writes them as JSON lines.
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import get_args

from bot.understanding.normalise import normalise
from bot.understanding.numbers import joined_value
from bot.understanding.tokens import Token, TokenKind, tokenise
from scheduling.remark import Remark
from tests.bot.understanding import corpus

LINES = Path(__file__).parent / "lines"
KINDS = sorted(
    kind
    for remark in get_args(get_args(Remark)[0])
    for kind in get_args(remark.model_fields["kind"].annotation)
)
HAZARDS = (
    "burnt",
    "unwell",
    "fire_indoors",
    "fire_spreading",
    "cry_for_help",
    "flue_flames",
    "collapse",
    "accelerant",
    "popping",
    "flue_blocked",
    "water_on_hot",
    "glowing",
    "crack",
    "out_of_control",
    "ban",
    "child_near",
    "drunk",
    "asleep",
    "unattended",
    "unnamed",
)
SETS = sorted(one.name for one in corpus.HERE.glob("*.txt"))


@dataclass(frozen=True)
class Example:
    """One message. ``None`` stands for what its writer did not say."""

    text: str
    """As the encoder reads it: normalised."""
    writer: str
    hazards: list[str] | None
    kinds: list[str]
    unknown_kinds: list[str]
    """Of these its writer did not say whether it has them; all others it has not."""
    numbers: list[tuple[int, int, str | None]] = field(default_factory=list)
    """Start, end and role of each number."""


def every_example() -> Iterator[Example]:
    """All of them, each text once a writer."""
    seen: set[tuple[str, str]] = set()
    for one in (*_sets(), *_lines()):
        key = (one.text, "stranger" if one.writer.startswith("stranger") else "house")
        if key not in seen:
            seen.add(key)
            yield one


def _sets() -> Iterator[Example]:
    told = {text.lower(): hazards for text, hazards, _ in _rows(LINES / "retold.txt")}
    for name in SETS:
        for one in corpus.examples(name):
            yield _of_a_set(one, told.get(one.text.lower(), []), name.removesuffix(".txt"))


def _of_a_set(one: corpus.Example, hazards: list[str] | None, name: str) -> Example:
    text = normalise(one.text)
    tokens = [token for token in tokenise(text) if token.kind is TokenKind.NUMBER]
    answers = [
        None if any(told.startswith("ask") for told in wanted) else wanted for wanted in one.wanted
    ]
    kinds = [{told.split()[0] for told in answer or ()} for answer in answers]
    held = set.intersection(*kinds)
    # A doubt alone says nothing about kinds.
    alone = all(answer is None for answer in answers)
    unknown = set(KINDS) if alone else set().union(*kinds) - held
    roles = [_roles(tokens, answer) for answer in answers]
    agreed = [each[0] if len(set(each)) == 1 else None for each in zip(*roles, strict=True)]
    return Example(
        text,
        name,
        hazards,
        sorted(held),
        sorted(unknown),
        [(t.start, t.end, role) for t, role in zip(tokens, agreed, strict=True)],
    )


def _roles(tokens: list[Token], wanted: object) -> tuple[str | None, ...]:
    """The role of each number in one answer; None of all where the answer is a doubt."""
    if wanted is None:
        return tuple(None for _ in tokens)
    roles: list[str | None] = ["none"] * len(tokens)
    assert isinstance(wanted, dict)
    for told in wanted:
        kind, *parts = told.split()
        if kind == "stoked" and parts and parts[0].isdigit():
            _mark(tokens, roles, float(parts[0]), "wood")
        elif kind == "reading":
            for part in parts:
                place, _, values = part.partition("=")
                role = {"top": "top", "sides": "side", "hearth": "floor"}.get(place)
                for value in values.split(",") if role else ():
                    _mark(tokens, roles, float(value), role)
    return tuple(roles)


def _mark(tokens: list[Token], roles: list[str | None], value: float, role: str | None) -> None:
    """Give ``role`` to the first free number that is ``value``, in °C or °F, whole or in parts."""
    for count in (1, 2, 3):
        for first in range(len(tokens) - count + 1):
            run = tokens[first : first + count]
            said = run[0].value if count == 1 else joined_value([t.text for t in run])
            free = all(roles[first + step] == "none" for step in range(count))
            if said is not None and free and _is_same(said, value, role):
                roles[first : first + count] = [role] * count
                return


def _is_same(said: float, value: float, role: str | None) -> bool:
    in_celsius = (said - 32) / 1.8
    return abs(said - value) < 0.06 or (role != "wood" and abs(in_celsius - value) < 0.06)


def _lines() -> Iterator[Example]:
    for file in sorted(LINES.glob("*.txt")):
        if file.name == "retold.txt":
            continue
        writer = file.stem.rpartition("_")[0]
        for written, hazards, reading in _rows(file):
            yield _of_a_line(written, writer, hazards, reading)


_ELSEWHERE = ("side", "left", "right", "wall", "floor", "hearth", "base", "bottom")


def _of_a_line(
    written: str, writer: str, hazards: list[str] | None, reading: str | None
) -> Example:
    text = normalise(written)
    tokens = [token for token in tokenise(text) if token.kind is TokenKind.NUMBER]
    roles: list[str | None] = [None] * len(tokens)
    if reading not in (None, "no") and not any(word in text for word in _ELSEWHERE):
        found: list[str | None] = ["none"] * len(tokens)
        _mark(tokens, found, float(str(reading)), "top")
        roles = [role if role == "top" else None for role in found]
    kinds = ["reading"] if reading not in (None, "no") else []
    unknown = [kind for kind in KINDS if kind != "reading" or reading is None]
    numbers = [(t.start, t.end, role) for t, role in zip(tokens, roles, strict=True)]
    return Example(text, writer, hazards, kinds, unknown, numbers)


def _rows(file: Path) -> Iterator[tuple[str, list[str] | None, str | None]]:
    """Message, hazards (None where disputed), and the reading: its figure, "no", or None."""
    for row in file.read_text("utf-8").splitlines():
        if not row.strip() or row.startswith("# "):
            continue
        text, told = row.rsplit(" => ", 1)
        parts = [part.strip() for part in told.split(";")]
        reading = next(
            (p.removeprefix("reading ") for p in parts if p.startswith("reading ")), None
        )
        if "no reading" in parts:
            reading = "no"
        hazards = [p for p in parts if p in HAZARDS]
        yield text.replace("\\n", "\n"), None if "?" in parts else hazards, reading


def main() -> None:
    """Write every example to the file named."""
    with Path(sys.argv[1]).open("w", encoding="utf-8") as out:
        for one in every_example():
            out.write(json.dumps(asdict(one), ensure_ascii=False) + "\n")


if __name__ == "__main__":
    main()
