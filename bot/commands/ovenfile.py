"""The oven file: an oven described by hand, in TOML, as ``plan`` and ``rehearse`` read it."""

import textwrap
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from scheduling.oven.makeup import MakeUp, plain_sentences
from scheduling.oven.materials import Mix
from scheduling.oven.preset import Catalogue, DescriptionError, shipped

EXAMPLE = """\
# An oven, described for stokewatch. Lines that begin with # are remarks and may go.
# Lengths are in millimetres, temperatures in °C, dates as year-month-day.

name = "Orchard oven"

# How the dome is built. Known here:
{constructions}
construction = "cast-dense"

inner_diameter_mm = 800
wet_work_ended = 2026-05-02        # the last day anything wet went onto it

# The mouth. Left out, it is taken from the usual proportions.
mouth_height_mm = 250
mouth_width_mm = 400

cover = "sheet"                    # open, sheet (put over it between fires) or roof
door = "plain"                     # none, plain or insulated
shelter = "part"                   # exposed, part or sheltered from wind

# Cement: S sets slowly, N normally, R rapidly. On the bag: 32.5 N is S; 32.5 R and
# 42.5 N are N; 42.5 R and 52.5 are R. In doubt write S, which waits longest.
cement_class = "N"

# Thicknesses, where they differ from the construction's own. 0 leaves a layer out.
[thickness_mm]
shell = 90
insulation = 50
render = 40

# The infrared thermometer: its highest reading and the emissivity it is set to.
# Without one, leave this part out: there will be more and gentler fires.
[instrument]
max_c = 550
emissivity = 0.95

# Where it stands, for the weather and the time of day.
[place]
latitude = 52.2
longitude = -1.5
zone = "Europe/London"

# What the builder allows. It can only make the plan gentler.
[limits]
{limits}

# If the mix of the shell is known, its water can be reckoned from it:
# [mix]
# cement_kg_m3 = 350
# water_cement = 0.5
#
# The mean temperature at the oven since the wet work ended, if it was watched, and the
# coldest night of the first three days:
# [air]
# mean_c = 14
# coldest_c = 5
#
# Layers can be told one by one instead, from the fire outward:
# [[layers]]
# kind = "shell"                   # shell, insulation or render
# material = "dense-castable"      # known, so that the rest need not be told:
{materials}
# thickness_mm = 90
# free_water_kg_m3 = 60
"""


@dataclass(frozen=True, slots=True)
class OvenFile:
    """What an oven file says. ``limits`` is left to the planner's own model to judge.

    ``air_c`` is the mean since the wet work ended, ``coldest_c`` the lowest of its first days.
    """

    make_up: MakeUp
    limits: Mapping[str, Any] = field(default_factory=dict)
    air_c: float | None = None
    coldest_c: float | None = None


def read_oven(text: str, catalogue: Catalogue | None = None) -> OvenFile:
    """Read an oven file. Raises DescriptionError with every sentence there is to say."""
    known = shipped() if catalogue is None else catalogue
    try:
        told: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise DescriptionError((f"The oven file cannot be read as TOML: {error}.",)) from None
    if not told:
        raise DescriptionError(
            ("The oven file is empty. `stokewatch plan --example` prints one to start from.",)
        )
    limits = _table(told, "limits")
    air_c, coldest_c = _air(_table(told, "air"))
    told.update(_table(told, "place"))
    told_mix, thickness_mm = _table(told, "mix"), _table(told, "thickness_mm")
    construction = told.pop("construction", None)
    if not isinstance(construction, str):
        keys = ", ".join(known.presets)
        raise DescriptionError((f"construction is missing; it is one of {keys}.",))
    if "layers" in told:
        told["layers"] = _layers(told["layers"], known)
    make_up = known.make_up(
        construction,
        thickness_mm=_thicknesses(thickness_mm),
        mix=_mix(told_mix) if told_mix else None,
        **told,
    )
    return OvenFile(make_up, limits, air_c, coldest_c)


def example(limits: Mapping[str, tuple[object, str]]) -> str:
    """An oven file to start from; ``limits`` gives each limit's usual value and a remark."""
    catalogue = shipped()
    told = ((key, preset.told) for key, preset in catalogue.presets.items())
    return EXAMPLE.format(
        constructions="\n".join(_remark(f"{key:<14} {words}", " " * 17) for key, words in told),
        limits="\n".join(
            f"{f'{key} = {value}':<35}# {why}" for key, (value, why) in limits.items()
        ),
        materials=_remark("  " + ", ".join(catalogue.materials), " " * 4),
    )


def _remark(words: str, indent: str) -> str:
    return textwrap.fill(
        words,
        80,
        initial_indent="#  ",
        subsequent_indent=f"#  {indent[2:]}",
        break_on_hyphens=False,
    )


def _table(told: dict[str, Any], key: str) -> dict[str, Any]:
    table = told.pop(key, {})
    if not isinstance(table, dict):
        raise DescriptionError((f"{key} is a part of its own; write [{key}] above its lines.",))
    return table


def _air(table: Mapping[str, Any]) -> tuple[float | None, float | None]:
    known = ("mean_c", "coldest_c")
    if extra := table.keys() - set(known):
        raise DescriptionError(
            (f"air, {sorted(extra)[0]} is not known here; it has {' and '.join(known)}.",)
        )
    for key, value in table.items():
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not number or not -50 <= value <= 50:
            raise DescriptionError(
                (f"air, {key}: {value!r} cannot be right; -50 to 50 °C would be plausible.",)
            )
    mean_c, coldest_c = (None if table.get(key) is None else float(table[key]) for key in known)
    if mean_c is not None and coldest_c is not None and coldest_c > mean_c:
        raise DescriptionError(
            (f"air: the coldest night ({coldest_c:g} °C) is warmer than the mean ({mean_c:g} °C).",)
        )
    return mean_c, coldest_c


def _thicknesses(table: Mapping[str, Any]) -> dict[str, float]:
    for kind, value in table.items():
        if kind not in ("shell", "insulation", "render"):
            raise DescriptionError(
                (f"thickness_mm, {kind} is not known here; use shell, insulation or render.",)
            )
        if isinstance(value, bool) or not isinstance(value, int | float) or not value >= 0:
            raise DescriptionError((f"thickness_mm, {kind}: {value!r} is not a thickness.",))
    return dict(table)


def _mix(table: Mapping[str, Any]) -> Mix:
    try:
        return Mix.model_validate(table)
    except ValidationError as error:
        raise DescriptionError(plain_sentences(error, Mix.model_fields)) from None


def _layers(told: Any, catalogue: Catalogue) -> list[dict[str, Any]]:
    """Layers told one by one; what a known material is like need not be told again."""
    if not isinstance(told, list) or not all(isinstance(layer, dict) for layer in told):
        raise DescriptionError(("layers are told one by one; write [[layers]] above each.",))
    layers: list[dict[str, Any]] = []
    for layer in told:
        material = catalogue.materials.get(str(layer.get("material")))
        if material is None:
            layers.append(layer)
            continue
        usual = material.model_dump(exclude={"label", "sources"})
        layers.append({**usual, **layer, "material": material.label})
    return layers
