"""The journal file: what happened to an oven so far, one JSON object a line, oldest first."""

import json
from datetime import datetime
from typing import Any, NoReturn, get_args

from pydantic import TypeAdapter, ValidationError

from bot.papers.ovenjournal import OvenJournalError, facts_until, is_own_journal
from scheduling.oven.history import DisorderError, Fact, in_order

YEARS = range(1950, 2101)
LONGEST_D = 3 * 365
"""A wall is followed hour by hour; longer ago nothing is left of it but what it is made of."""

MOST_FAULTS = 8
"""After so many the rest would only be noise."""

_FACT: TypeAdapter[Fact] = TypeAdapter(Fact)
_KINDS: tuple[str, ...] = tuple(
    one.model_fields["kind"].default for one in get_args(get_args(Fact)[0])
)


class JournalError(ValueError):
    """A journal that cannot be followed. Its sentences are meant for the person who wrote it."""

    def __init__(self, *sentences: str) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


def read_journal(text: str, after: datetime, until: datetime) -> tuple[Fact, ...]:
    """The facts of a journal, which must lie in order within ``after``-``until``.

    An oven's own journal is taken as well; what it tells after ``until`` is left out. Raises
    JournalError with a sentence for every line that cannot be read.
    """
    if is_own_journal(text):
        return _own(text, after, until)
    facts: list[Fact] = []
    faults: list[str] = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            facts.append(_fact(line))
        except JournalError as error:
            faults += [f"Journal, line {number}: {said}" for said in error.sentences]
        if len(faults) >= MOST_FAULTS:
            break
    if faults:
        raise JournalError(*faults)
    if not facts:
        raise JournalError("The journal is empty; leave it out for an oven that was never fired.")
    if facts[0].at < after:
        raise JournalError(
            f"The journal begins on {facts[0].at:%Y-%m-%d}, before the oven's wet work ended; "
            "leave that out, or put wet_work_ended right in the oven file."
        )
    if (until - facts[0].at).days > LONGEST_D:
        raise JournalError(
            f"The journal begins on {facts[0].at:%Y-%m-%d}, more than three years before the time "
            "to plan from; leave out what is older, or give a nearer time with --at."
        )
    try:
        return in_order(facts, after, until)
    except DisorderError as error:
        raise JournalError(f"The journal: {error}.") from None


def _own(text: str, after: datetime, until: datetime) -> tuple[Fact, ...]:
    try:
        return in_order(facts_until(text, until), after, until)
    except OvenJournalError as error:
        raise JournalError(str(error)) from None
    except DisorderError as error:
        raise JournalError(f"The journal: {error}.") from None


def _fact(line: str) -> Fact:
    try:
        told = json.loads(line, parse_constant=_no_number)
    except JournalError:
        raise
    except json.JSONDecodeError as error:
        raise JournalError(f"this is not JSON ({error.msg}, column {error.colno}).") from None
    except RecursionError:
        raise JournalError("this is too deeply nested to be a line of a journal.") from None
    except ValueError:
        raise JournalError("there is a number in it that no number can be.") from None
    if not isinstance(told, dict):
        raise JournalError('a line is one object, like {"at": ..., "kind": ...}.')
    kind = told.get("kind")
    if kind not in _KINDS:
        kinds = ", ".join(_KINDS)
        raise JournalError(
            f"kind is missing; it is one of {kinds}."
            if kind is None
            else f"{json.dumps(kind)} is no kind of entry known here; use one of {kinds}."
        )
    _check_instant(told, "at")
    if kind == "unwatched":
        _check_instant(told, "until")
    try:
        return _FACT.validate_json(line, strict=True)
    except ValidationError as error:
        raise JournalError(*(_sentence(one) for one in error.errors(include_url=False))) from None


def _no_number(word: str) -> NoReturn:
    raise JournalError(f"{word} is not a number; leave out what was not measured.")


def _check_instant(told: dict[str, Any], key: str) -> None:
    """Refuse what is no instant with a zone before it is taken for seconds since 1970."""
    written = told.get(key)
    if written is None:
        raise JournalError(f"{key} is missing; write it like 2026-05-30T09:15+01:00.")
    try:
        instant = datetime.fromisoformat(written)
    except (TypeError, ValueError):
        raise JournalError(
            f"{key}: {json.dumps(written)} is no time; write it like 2026-05-30T09:15+01:00."
        ) from None
    if instant.tzinfo is None:
        raise JournalError(
            f"{key}: {written} does not say its time zone; write it like 2026-05-30T09:15+01:00."
        )
    if instant.year not in YEARS:
        raise JournalError(f"{key}: the year {instant.year} cannot be right.")


def _sentence(one: Any) -> str:
    """What pydantic found, in words; the first part of the place is the kind."""
    where = ", ".join(str(part) for part in one["loc"][1:])
    match one["type"]:
        case "missing":
            return f"{where} is missing."
        case "extra_forbidden":
            return f"{where} does not belong to {one['loc'][0]}."
        case "float_type" | "finite_number" | "float_parsing":
            return f"{where}: {repr(one['input'])[:40]} is not a number."
        case "greater_than" | "greater_than_equal" | "less_than" | "less_than_equal":
            bound = one["msg"].removeprefix("Input should be ")
            return f"{where}: {one['input']:g} cannot be right; it should be {bound}."
        case "value_error":
            return f"{one['ctx']['error']}."
        case _:
            return f"{where}: {one['msg'][:1].lower()}{one['msg'][1:]}."
