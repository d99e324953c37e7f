"""Changes own ways by lines typed in the chat: ``cure_floor_d = 28``, ``greeting = Welcome``."""

import tomllib
from typing import Any, Final

from bot.ways.reading import WaysError, checked
from bot.ways.shape import Checklist, OwnPaper, OwnWays, OwnWords
from scheduling.journal import OwnLimits
from scheduling.meaning.ways import WayFault

NOTHING: Final = ("none", "nothing", "usual", "-")
"""Words that take a limit, a greeting or a list back to what it usually is."""

LEARN: Final = "learn"
"""Whether finished ovens teach the next: said as yes or no."""

PARTS: Final = {
    **dict.fromkeys(OwnLimits.model_fields, "limits"),
    **dict.fromkeys(OwnWords.model_fields, "words"),
    **dict.fromkeys(Checklist.model_fields, "checklist"),
    **dict.fromkeys(OwnPaper.model_fields, "paper"),
}
"""The table that each key stands in: in the chat nobody has to write it."""

KNOWN: Final = (*PARTS, "reason", LEARN)
YES_NO: Final = {"yes": True, "on": True, "true": True, "no": False, "off": False, "false": False}
LISTS: Final = ("cautions", "address", *Checklist.model_fields)


def is_edit(typed: str) -> bool:
    """Whether every line begins with a key that is known, and an equals sign."""
    lines = [line for line in typed.splitlines() if line.strip()]
    return bool(lines) and all("=" in line and _place(line)[1] in KNOWN for line in lines)


def edited(ways: OwnWays, typed: str) -> OwnWays:
    """The ways with what was typed, line by line. Raises WaysError."""
    told: dict[str, Any] = ways.model_dump(mode="json", exclude_none=True)
    for number, line in enumerate(typed.splitlines(), 1):
        if line.strip() and not line.lstrip().startswith("#"):
            _change(told, line, number)
    return checked(told, typed)


def _place(line: str) -> tuple[str, str]:
    """The table and the key that a line is about; "" for what stands at the top."""
    table, _, key = line.partition("=")[0].strip().rpartition(".")
    if table == "less_gentle" and key in OwnLimits.model_fields:
        return table, key
    return PARTS.get(key, ""), key


def _change(told: dict[str, Any], line: str, number: int) -> None:
    (table, key), value = _place(line), line.partition("=")[2].strip()
    if key not in KNOWN:
        raise WaysError((WayFault(what="unknown", line=number, field=key[:40]),))
    part = told[table] if table else told
    if value.strip("\"'").lower() in NOTHING:
        part.pop(key, None)
    else:
        part[key] = _read(key, value, number)


def _read(key: str, value: str, number: int) -> Any:
    """A value as TOML has it; words without their quotation marks are taken as they are."""
    if key == LEARN and value.strip("\"'").lower() in YES_NO:
        return YES_NO[value.strip("\"'").lower()]
    try:
        read = tomllib.loads(f"v = {value}")["v"]
    except tomllib.TOMLDecodeError:
        if key in OwnLimits.model_fields or value[:1] in ('"', "'", "[", "{", ""):
            raise WaysError((WayFault(what="not_toml", line=number, value=value[:60]),)) from None
        read = value
    return [read] if key in LISTS and isinstance(read, str) else read
