"""Writes own ways as the file that a builder edits. What is written reads back the same."""

from collections.abc import Iterable, Mapping
from typing import Any

from bot.ways.shape import PROJECT, OwnWays

HEAD = """\
# How we break ovens in. Send this file back, changed, and new clients begin with it.
# Degrees are °C, climbs °C an hour. A limit that is left out stays as it usually is.
"""

LIMIT_NOTES: Mapping[str, str] = {
    "step_k": "most above the heat reached before",
    "climb_low_k_h": "climb while the dome is below 200 °C",
    "climb_high_k_h": "climb above that",
    "stoke_min_minutes": "least between two stokings",
    "stoke_max_minutes": "most between two stokings",
    "cure_floor_d": "least days from the last wet work to the first fire",
    "session_h": "longest firing",
    "final_c": "the last firing",
}


def written(ways: OwnWays) -> str:
    """The file."""
    reason = f"reason = {_value(ways.reason)}  # stands beside the limits in every record"
    learn = f"learn = {_value(ways.learn)}  # whether finished ovens teach the next of their model"
    parts = [HEAD, reason, learn, "", "[limits]", *_limits(ways), ""]
    if told := ways.less_gentle.told():
        parts += ["[less_gentle]", "# Said twice, because it allows more than is usual."]
        parts += [*(f"{name} = {_value(value)}" for name, value in told.items()), ""]
    parts += [
        "[words]",
        "# Told beside my own sentences, never instead of them.",
        f"greeting = {_value(ways.words.greeting)}",
        *_list("cautions", ways.words.cautions),
        "",
        "[checklist]",
        *_list("before", ways.checklist.before),
        *_list("after", ways.checklist.after),
        "",
        "[paper]",
        "# The head of every record. For your logo send the picture with the word “logo” under it.",
        f"name = {_value(ways.paper.name)}  # where it differs from your team’s",
        *_list("address", ways.paper.address),
        f"logo = {_value(ways.paper.logo)}  # how I find the picture; leave it, or empty it",
        "",
    ]
    for key, material in ways.materials.items():
        parts += [f"[materials.{_key(key)}]", *_table(material.model_dump(mode="json")), ""]
    for key, preset in ways.presets.items():
        parts += [f"[presets.{_key(key)}]", *_table(preset.model_dump(mode="json")), ""]
    return "\n".join(parts).rstrip() + "\n"


def _limits(ways: OwnWays) -> Iterable[str]:
    """All of them: those that are not set as a remark with what holds instead."""
    told = ways.limits.told()
    for name, note in LIMIT_NOTES.items():
        if name in told:
            yield f"{name} = {_value(told[name])}  # {note}; usually {PROJECT[name]:g}"
        else:
            yield f"# {name} = {PROJECT[name]:g}  # {note}"


def _list(name: str, lines: Iterable[str]) -> Iterable[str]:
    kept = tuple(lines)
    if not kept:
        yield f"{name} = []"
        return
    yield f"{name} = ["
    yield from (f"    {_value(line)}," for line in kept)
    yield "]"


def _table(told: Mapping[str, Any]) -> Iterable[str]:
    """Plain values, lists an item a line, and tables within by dotted keys."""
    for name, value in told.items():
        if isinstance(value, dict):
            yield from (f"{name}.{_key(key)} = {_value(one)}" for key, one in value.items())
        elif isinstance(value, list):
            yield f"{name} = ["
            yield from (f"    {_value(one)}," for one in value)
            yield "]"
        elif value is not None:
            yield f"{name} = {_value(value)}"


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case dict():
            pairs = [f"{_key(key)} = {_value(one)}" for key, one in value.items()]
            return "{ " + ", ".join(pairs) + " }"
    return _quoted(str(value))


def _key(name: str) -> str:
    bare = name.replace("-", "").replace("_", "")
    return name if bare.isascii() and bare.isalnum() else _quoted(name)


def _quoted(text: str) -> str:
    """A basic string of TOML 1.0: quotation mark, backslash and controls are escaped."""
    kept = []
    for sign in text:
        if sign in '"\\':
            kept.append(f"\\{sign}")
        elif ord(sign) < 32 or ord(sign) == 127:
            kept.append(f"\\u{ord(sign):04x}")
        else:
            kept.append(sign)
    return '"' + "".join(kept) + '"'
