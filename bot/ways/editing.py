"""Changes own ways by lines typed in the chat: ``cure_floor_d = 28``, ``greeting = Welcome``."""

import difflib
import re
import tomllib
from typing import Any, Final

from bot.ways.reading import WaysError, checked
from bot.ways.shape import Checklist, OwnPaper, OwnWays, OwnWords
from bot.ways.units import BY_OWN, BY_THEIRS
from scheduling.journal import OwnLimits
from scheduling.meaning.ways import WayFault

NOTHING: Final = ("none", "nothing", "usual", "-")
"""Words that take a limit, a greeting or a list back to what it usually is."""

LEARN: Final = "learn"
"""Whether finished ovens teach the next: said as yes or no."""

LIMITS: Final = (
    *OwnLimits.model_fields,
    *(one.theirs for one in BY_THEIRS.values() if one.own in OwnLimits.model_fields),
)

PARTS: Final = {
    **dict.fromkeys(LIMITS, "limits"),
    **dict.fromkeys(OwnWords.model_fields, "words"),
    **dict.fromkeys(Checklist.model_fields, "checklist"),
    **dict.fromkeys(OwnPaper.model_fields, "paper"),
}
"""The table that each key stands in: in the chat nobody has to write it."""

KNOWN: Final = (*PARTS, "reason", LEARN)
YES_NO: Final = {"yes": True, "on": True, "true": True, "no": False, "off": False, "false": False}
LISTS: Final = ("cautions", "address", *Checklist.model_fields)

NEAR: Final = 0.75
"""Least likeness, of 1, at which a word without an underscore may be a key mistyped."""

_LINE = re.compile(r"\s*[a-z][a-z_]*(?:\.[a-z][a-z_]*)?\s*=(?!=).*")


def is_edit(typed: str) -> bool:
    """Whether every line reads like a key, an equals sign and a value. Keys that nobody knows are
    among them, to be named as such; but what reads like one of a fire ("top = 152") is not."""
    lines = [line for line in typed.splitlines() if line.strip()]
    return bool(lines) and all(_LINE.fullmatch(line) and _is_key(_place(line)[1]) for line in lines)


def _is_key(key: str) -> bool:
    return key in KNOWN or "_" in key or bool(difflib.get_close_matches(key, KNOWN, 1, NEAR))


def edited(ways: OwnWays, typed: str) -> OwnWays:
    """The ways with what was typed, line by line. Raises WaysError with every fault."""
    told: dict[str, Any] = ways.model_dump(mode="json", exclude_none=True)
    faults: list[WayFault] = []
    for number, line in enumerate(typed.splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if fault := _change(told, line, number):
            faults.append(fault)
    if faults:
        raise WaysError(tuple(faults))
    return checked(told, typed)


def _place(line: str) -> tuple[str, str]:
    """The table and the key that a line is about; "" for what stands at the top."""
    table, _, key = line.partition("=")[0].strip().rpartition(".")
    if table == "less_gentle" and key in LIMITS:
        return table, key
    return PARTS.get(key, ""), key


def _change(told: dict[str, Any], line: str, number: int) -> WayFault | None:
    (table, key), value = _place(line), line.partition("=")[2].strip()
    if key not in KNOWN:
        near = difflib.get_close_matches(key, KNOWN, n=1)
        return WayFault(what="unknown", line=number, field=key[:40], near=near[0] if near else "")
    part = told[table] if table else told
    # Of a limit in another unit only the newer counts.
    for other in (BY_THEIRS.get(key), BY_OWN.get(key)):
        if other is not None:
            part.pop(other.own, None)
            part.pop(other.theirs, None)
    if value.strip("\"'").lower() in NOTHING:
        part.pop(key, None)
        return None
    try:
        part[key] = _read(key, value)
    except ValueError:
        return WayFault(what="not_toml", line=number, value=value[:60])
    return None


def _read(key: str, value: str) -> Any:
    """A value as TOML has it; words without their quotation marks are taken as they are. Raises
    ValueError for what is neither."""
    if key == LEARN and value.strip("\"'").lower() in YES_NO:
        return YES_NO[value.strip("\"'").lower()]
    try:
        read = tomllib.loads(f"v = {value}")["v"]
    except tomllib.TOMLDecodeError:
        if key in LIMITS or value[:1] in ('"', "'", "[", "{", ""):
            raise
        read = value
    return [read] if key in LISTS and isinstance(read, str) else read
