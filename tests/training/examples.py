"""What the second reader learns from: every labelled line, with its hazards, kinds and roles.

Three sorts of lines come together. The sets beside the grammar (``tests/bot/understanding``) give
kinds and the role of each number; ``lines/retold.txt`` says which of them tell of a hazard. The
other files in ``lines/`` give hazards, and the reading where there is one (``open_form.py``).
``python -m tests.training.examples FILE`` writes them as JSON lines.
"""

import json
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import get_args

from bot.understanding import understand
from bot.understanding.hazard_words import WORDS
from bot.understanding.numbers import joined_value
from bot.understanding.second_reader import SecondReader, second_reader
from bot.understanding.second_reader.spelling_out import numbers_in, spelt_out
from bot.understanding.tokens import Token
from scheduling.remark import Expectation, Remark, Setting, Stoked
from tests.bot.understanding import corpus
from tests.training.made import made_lines
from tests.training.open_form import HAZARDS, rows_of

LINES = Path(__file__).parent / "lines"
_OF_OTHERS = {"hazard", "looked", "misheard", "all_well", "something_wrong"}
"""Hazards have an output of their own; the rest lean on what was asked or come from buttons."""
KINDS = sorted(
    kind
    for remark in get_args(get_args(Remark)[0])
    for kind in get_args(remark.model_fields["kind"].annotation)
    if kind not in _OF_OTHERS
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
    for one in (*_sets(), *_book(), *_lines(), *_made()):
        key = (one.text, "stranger" if one.writer.startswith("stranger") else "house")
        if key not in seen:
            seen.add(key)
            yield one


def _sets() -> Iterator[Example]:
    told = {row.text.lower(): row.hazards for row in rows_of(LINES / "retold.txt")}
    for name in SETS:
        for one in corpus.examples(name):
            yield _of_a_set(one, told.get(one.text.lower(), []), name.removesuffix(".txt"))


def _of_a_set(one: corpus.Example, hazards: list[str] | None, name: str) -> Example:
    text, tokens = spelt_out(one.text), numbers_in(one.text)
    answers = [
        None if any(told.startswith("ask") for told in wanted) else wanted for wanted in one.wanted
    ]
    kinds = [{told.split()[0] for told in answer or ()} & set(KINDS) for answer in answers]
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


def _book() -> Iterator[Example]:
    """The examples that stand with the grammar's words of each hazard."""
    for hazard, words in WORDS.items():
        for text in words.examples:
            yield _of_a_line(text, "book", [hazard.value], None)
        for text in words.harmless:
            yield _of_a_line(text, "book", None, None)


def _made() -> Iterator[Example]:
    for text, hazards in made_lines():
        yield _of_a_line(text, "made", hazards, None)


def _lines() -> Iterator[Example]:
    for file in sorted(LINES.glob("*.txt")):
        if file.name == "retold.txt":
            continue
        writer = file.stem.rpartition("_")[0]
        for row in rows_of(file):
            yield _of_a_line(row.text, writer, row.hazards, row.reading)


_WOOD = ("log", "piece", "wood", "stick", "split", "put", "chuck", " on", " in", "bit", "more")
_ELSEWHERE = ("side", "left", "right", "wall", "floor", "hearth", "base", "bottom")


def _of_a_line(
    written: str, writer: str, hazards: list[str] | None, reading: str | None
) -> Example:
    text, tokens = spelt_out(written), numbers_in(written)
    roles = _roles_of_a_line(written, tokens, reading)
    kinds = ["reading"] if reading not in (None, "no") else []
    unknown = [kind for kind in KINDS if kind != "reading" or reading is None]
    numbers = [(t.start, t.end, role) for t, role in zip(tokens, roles, strict=True)]
    return Example(text, writer, hazards, kinds, unknown, numbers)


def _roles_of_a_line(written: str, tokens: list[Token], reading: str | None) -> list[str | None]:
    """Its writer told the reading and no more: what else is wood is taken from the grammar."""
    if reading is None:
        return [None] * len(tokens)
    roles: list[str | None] = ["none"] * len(tokens)
    if reading != "no":
        _mark(tokens, roles, float(reading), "top")
        if "top" not in roles or any(word in written.lower() for word in _ELSEWHERE):
            return [None] * len(tokens)
    setting = Setting(unit="C", now=corpus.NOW)
    for remark in understand(written, setting).meanings:
        if isinstance(remark, Stoked) and remark.pieces is not None:
            _mark(tokens, roles, float(remark.pieces), "wood")
    unsure = any(word in written.lower() for word in _WOOD)
    return [None if role == "none" and unsure else role for role in roles]


def agreed(one: Example, reader: SecondReader) -> Example:
    """Kinds and roles that its writer did not tell, where the grammar and ``reader`` agree.

    Where both of two readers of different kinds say the same they are right 99 times in 100;
    where they differ nothing is taught.
    """
    if not one.unknown_kinds:
        return one
    opinion = reader.read(one.text)
    understood = understand(one.text, Setting(unit="C", now=corpus.NOW, expect=Expectation.READING))
    said = {remark.kind for remark in understood.meanings}
    both = [k for k in one.unknown_kinds if k in said and opinion.kinds[k] >= _LIKELY]
    neither = [k for k in one.unknown_kinds if k not in said and opinion.kinds[k] < _UNLIKELY]
    by_grammar = _roles(numbers_in(one.text), corpus.notation(understood))
    numbers = [
        (start, end, role or (mine if mine == theirs.role else None))
        for (start, end, role), mine, theirs in zip(
            one.numbers, by_grammar, opinion.roles, strict=True
        )
    ]
    return replace(
        one,
        kinds=sorted({*one.kinds, *both}),
        unknown_kinds=[k for k in one.unknown_kinds if k not in both and k not in neither],
        numbers=numbers,
    )


_LIKELY, _UNLIKELY = 0.5, 0.1


def main() -> None:
    """Write every example to the file named, and beside it the names of what is told."""
    reader = second_reader() if "--agreed" in sys.argv else None
    names = {"hazards": HAZARDS, "kinds": KINDS}
    Path(sys.argv[1]).with_name("names.json").write_text(json.dumps(names), "utf-8")
    with Path(sys.argv[1]).open("w", encoding="utf-8") as out:
        for one in every_example():
            if reader is not None and len(one.numbers) == len(reader.read(one.text).roles):
                one = agreed(one, reader)
            out.write(json.dumps(asdict(one), ensure_ascii=False) + "\n")


if __name__ == "__main__":
    main()
