"""Writes own ways as the file that a builder edits. What is written reads back the same."""

from collections.abc import Iterable, Mapping
from typing import Any

from bot.ways import examples
from bot.ways.shape import PROJECT, OwnWays
from bot.ways.units import BY_OWN, Unit

HEAD = """\
# How we break ovens in. Send this file back, changed, and new clients begin with it.
# What stands behind a # is a remark. A limit that is left out stays as it usually is."""

LIMIT_NOTES: Mapping[str, str] = {
    "step_k": "most above the heat reached before",
    "climb_low_k_h": "climb while the dome is below 200 °C (392 °F)",
    "climb_high_k_h": "climb above that",
    "stoke_min_minutes": "least between two stokings",
    "stoke_max_minutes": "most between two stokings",
    "cure_floor_d": "least days from the last wet work to the first fire",
    "session_h": "longest firing",
    "final_c": "the last firing",
}


def written(ways: OwnWays, unit: Unit = "C") -> str:
    """The file, in the unit of who is to read it."""
    reason = f"reason = {_value(ways.reason)}  # stands beside the limits in every record"
    learn = f"learn = {_value(ways.learn)}  # whether finished ovens teach the next of their model"
    parts = [HEAD, examples.UNITS[unit], "", reason, learn, ""]
    parts += ["[limits]", *_limits(ways, unit), ""]
    if told := ways.less_gentle.told():
        parts += ["[less_gentle]", "# Said twice, because it allows more than is usual."]
        parts += [*(_figure(name, value, unit) for name, value in told.items()), ""]
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
        *_models(ways, unit),
        *_constructions(ways, unit),
    ]
    return "\n".join(parts).rstrip() + "\n"


def _limits(ways: OwnWays, unit: Unit) -> Iterable[str]:
    """All of them: those that are not set as a remark with what holds instead."""
    told = ways.limits.told()
    for name, note in LIMIT_NOTES.items():
        usual = PROJECT[name]
        if name in told:
            other = _in_other(name, told[name], unit)
            beside = f"{note}{other}; usually {_shown(name, usual, unit):g}"
            yield f"{_figure(name, told[name], unit)}  # {beside}"
        else:
            yield f"# {_figure(name, usual, unit)}  # {note}{_in_other(name, usual, unit)}"


def _models(ways: OwnWays, unit: Unit) -> Iterable[str]:
    """Models, or how one would be written."""
    yield examples.MODELS
    if not ways.models:
        yield from (*examples.remarked(examples.MODEL[unit]), "")
    for key, model in ways.models.items():
        yield f"[models.{_key(key)}]"
        yield from (*_table(model.model_dump(mode="json"), unit), "")


def _constructions(ways: OwnWays, unit: Unit) -> Iterable[str]:
    """Materials and constructions, or how they would be written."""
    yield from examples.constructions()
    if not ways.presets:
        yield from (*examples.remarked(examples.CONSTRUCTION[unit]), "")
    for key, material in ways.materials.items():
        yield f"[materials.{_key(key)}]"
        yield from (*_table(material.model_dump(mode="json"), unit), "")
    for key, preset in ways.presets.items():
        yield f"[presets.{_key(key)}]"
        yield from (*_table(preset.model_dump(mode="json"), unit), "")


def _figure(name: str, value: float, unit: Unit) -> str:
    """A key and its value, where there are two in the unit that is wanted."""
    spelling = BY_OWN.get(name) if unit == "F" else None
    if spelling is None:
        return f"{name} = {_value(value)}"
    return f"{spelling.theirs} = {_value(spelling.shown(value))}"


def _shown(name: str, value: float, unit: Unit) -> float:
    spelling = BY_OWN.get(name) if unit == "F" else None
    return value if spelling is None else spelling.shown(value)


def _in_other(name: str, value: float, unit: Unit) -> str:
    """The same in the other unit, as a remark; nothing where there is only one."""
    spelling = BY_OWN.get(name)
    if spelling is None:
        return ""
    if unit == "F":
        return f", {value:.0f} {spelling.sign.replace('F', 'C')}"
    return f", {spelling.shown(value):.0f} {spelling.sign}"


def _list(name: str, lines: Iterable[str]) -> Iterable[str]:
    kept = tuple(lines)
    if not kept:
        yield f"{name} = []"
        return
    yield f"{name} = ["
    yield from (f"    {_value(line)}," for line in kept)
    yield "]"


def _table(told: Mapping[str, Any], unit: Unit) -> Iterable[str]:
    """Plain values, lists an item a line, and tables within by dotted keys."""
    for name, value in told.items():
        if isinstance(value, dict):
            yield from (f"{name}.{_key(key)} = {_value(one)}" for key, one in value.items())
        elif isinstance(value, list):
            yield f"{name} = ["
            yield from (f"    {_value(_in_unit(one, unit))}," for one in value)
            yield "]"
        elif isinstance(value, float):
            yield _figure(name, value, unit)
        elif value is not None:
            yield f"{name} = {_value(value)}"


def _in_unit(one: Any, unit: Unit) -> Any:
    if not isinstance(one, dict):
        return one
    return {
        BY_OWN[key].theirs if unit == "F" and key in BY_OWN else key: _shown(key, value, unit)
        if key in BY_OWN
        else value
        for key, value in one.items()
    }


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case float() if value.is_integer() and abs(value) < 1e9:
            return str(int(value))
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
