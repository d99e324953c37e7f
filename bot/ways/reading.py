"""Reads a file of own ways. Every fault tells its line, what is wrong and what would be plausible.

Nothing of a file with a fault is taken: a builder must not have to guess which half counts.
"""

import difflib
import tomllib
from collections.abc import Mapping
from typing import Any, Final

from pydantic import ValidationError

from bot.ways.lines import line_in, line_of
from bot.ways.models import faults_of
from bot.ways.shape import Model, OwnPaper, OwnWays, catalogue_of, less_gentle
from bot.ways.units import BY_THEIRS, Path, Spelt, as_ours, as_typed
from scheduling.advance.orders import PLAUSIBLE
from scheduling.journal import OwnLimits
from scheduling.meaning.ways import WayFault
from scheduling.oven.makeup import plain_sentences
from scheduling.oven.materials import Material
from scheduling.oven.preset import DescriptionError, Preset, PresetLayer, shipped

MOST_LETTERS: Final = 60_000
MOST_FAULTS: Final = 6
MOST_PRESETS: Final = 12
PRESET_FIELDS: Final = (
    *Preset.model_fields, *PresetLayer.model_fields, *Material.model_fields, "presets", "materials",
    "thickness_in",
)  # fmt: skip
KNOWN: Final = (
    *OwnWays.model_fields, *OwnLimits.model_fields, "greeting", "cautions", "before", "after",
    *OwnPaper.model_fields, *Model.model_fields, *BY_THEIRS,
)  # fmt: skip


class WaysError(ValueError):
    """A file that cannot be taken; ``faults`` say why."""

    def __init__(self, faults: tuple[WayFault, ...]) -> None:
        super().__init__(f"{len(faults)} faults")
        self.faults = faults


def read_ways(text: str) -> OwnWays:
    """The ways that a text tells. Raises WaysError with every fault, the first ones first."""
    if len(text) > MOST_LETTERS:
        raise WaysError((WayFault(what="too_long", high=MOST_LETTERS),))
    try:
        told = tomllib.loads(text.lstrip("\ufeff").replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        raise WaysError((_not_toml(text, error),)) from None
    except RecursionError:
        raise WaysError((WayFault(what="not_toml"),)) from None
    return checked(told, text)


def checked(told: Mapping[str, Any], text: str) -> OwnWays:
    """The ways that a decoded file tells; ``text`` is where its lines are. Raises WaysError."""
    spelt = as_ours(told, text)
    try:
        ways = OwnWays.model_validate(spelt.told)
    except ValidationError as error:
        said = plain_sentences(error, PRESET_FIELDS)
        both = zip(error.errors(include_url=False), said, strict=True)
        faults = [_fault(one, sentence, text, spelt) for one, sentence in both]
        raise WaysError((*spelt.faults, *faults)[:MOST_FAULTS]) from None
    limits = _limits(ways, text) or _unconfirmed(ways, text)
    models = [as_typed(fault, path, spelt, text) for fault, path in faults_of(ways, text)]
    found = [as_typed(one, ("limits", one.field), spelt, text) for one in limits]
    faults_found = (*spelt.faults, *found, *_presets(ways, text), *models)
    if faults_found:
        in_order = sorted(faults_found, key=lambda one: one.line or 0)
        raise WaysError(tuple(in_order[:MOST_FAULTS]))
    # What is said again without need is dropped: it must not confirm another number some day.
    needed = {name: ways.limits.told()[name] for name in less_gentle(ways.limits)}
    return ways.model_copy(update={"less_gentle": OwnLimits.model_validate(needed)})


def _not_toml(text: str, error: tomllib.TOMLDecodeError) -> WayFault:
    """Often a sentence without its quotation marks."""
    number = line_in(str(error))
    lines = text.splitlines()
    written = lines[number - 1] if number is not None and number <= len(lines) else ""
    return WayFault(what="not_toml", line=number, value=written.strip()[:60])


def _limits(ways: OwnWays, text: str) -> list[WayFault]:
    found = [
        WayFault(
            what="out_of_range", line=line_of(text, ("limits", name)), field=name,
            value=f"{value:g}", low=PLAUSIBLE[name][0], high=PLAUSIBLE[name][1],
        )
        for name, value in ways.limits.told().items()
        if not PLAUSIBLE[name][0] <= value <= PLAUSIBLE[name][1]
    ]  # fmt: skip
    least = ways.limits.stoke_min_minutes or 30.0
    most = ways.limits.stoke_max_minutes or 60.0
    if not found and least > most:
        line = line_of(text, ("limits", "stoke_max_minutes"))
        line = line or line_of(text, ("limits", "stoke_min_minutes"))
        found.append(WayFault(what="no_window", line=line, low=least, high=most))
    return found


def _unconfirmed(ways: OwnWays, text: str) -> list[WayFault]:
    """Limits that allow more than the project's are said twice, and with a reason."""
    said_again, found = ways.less_gentle.told(), []
    for name, (usual, theirs) in less_gentle(ways.limits).items():
        what = "less_gentle" if said_again.get(name) != theirs else "no_reason"
        if what == "no_reason" and ways.reason:
            continue
        line = line_of(text, ("limits", name))
        told = {"what": what, "line": line, "field": name, "value": f"{theirs:g}", "low": usual}
        found.append(WayFault.model_validate(told))
    return found


def _presets(ways: OwnWays, text: str) -> list[WayFault]:
    """Constructions must stand, and may use the shipped materials."""
    if len(ways.presets) > MOST_PRESETS:
        line = line_of(text, ("presets",))
        return [WayFault(what="too_many", line=line, field="presets", high=MOST_PRESETS)]
    found: list[WayFault] = []
    known = catalogue_of(ways)
    for key in ways.presets:
        line = line_of(text, ("presets", key))
        if key in shipped().presets:
            found.append(WayFault(what="taken", line=line, field=key))
            continue
        try:
            known.make_up(key, name="?", inner_diameter_mm=800, wet_work_ended="2026-01-01")
        except DescriptionError as error:
            found += [
                WayFault(what="description", line=line, field=key, value=said)
                for said in error.sentences
            ]
    return found


def _fault(one: Any, sentence: str, text: str, spelt: Spelt) -> WayFault:
    """What pydantic found, with the line that it is about; ``sentence`` is how a description of
    an oven would put it."""
    path: Path = one["loc"]
    return as_typed(_found(one, path, sentence, text), path, spelt, text)


def _found(one: Any, path: Path, sentence: str, text: str) -> WayFault:
    kind = one["type"]
    name = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
    line = line_of(text, path)
    value = repr(one["input"]) if isinstance(one["input"], str) else str(one["input"])
    if path[0] in ("presets", "materials", "models") and kind != "extra_forbidden":
        return WayFault(what="description", line=line, field=str(path[-1]), value=sentence)
    told = {"line": line, "field": name, "value": value[:60]}
    match kind:
        case "extra_forbidden":
            known = PRESET_FIELDS if path[0] in ("presets", "materials") else KNOWN
            near = difflib.get_close_matches(name, known, n=1)
            return WayFault(what="unknown", near=near[0] if near else "", **told)
        case "string_too_long":
            return WayFault(what="too_long", high=one["ctx"]["max_length"], **told)
        case "string_too_short":
            return WayFault(what="empty", **told)
        case "too_long":
            return WayFault(what="too_many", high=one["ctx"]["max_length"], **told)
        case "string_type":
            return WayFault(what="not_text", **told)
        case "bool_type" | "bool_parsing":
            return WayFault(what="not_yes_no", **told)
        case "tuple_type" | "list_type":
            return WayFault(what="not_list", **told)
        case "model_type" | "dict_type" | "model_attributes_type":
            return WayFault(what="not_table", **told)
    low, high = PLAUSIBLE.get(name, (None, None))
    return WayFault(what="not_number", low=low, high=high, **told)
