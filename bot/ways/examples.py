"""Remarks in a file of own ways: its units, and how a model and a construction would be written.

Every example reads as it stands once its # is taken away.
"""

from collections.abc import Iterator, Mapping
from typing import Final

from bot.ways.units import Unit
from scheduling.oven.preset import shipped

UNITS: Final[Mapping[Unit, str]] = {
    "C": """\
# Degrees are °C and sizes millimetres. Keys that end in _f or _f_h are read as °F: step_f,
# climb_low_f_h, climb_high_f_h, final_f, thermometer_f; those that end in _in as inches.""",
    "F": """\
# Degrees are °F and sizes inches. Keys that end in _c, _k or _k_h are read as °C: step_k,
# climb_low_k_h, climb_high_k_h, final_c, thermometer_c; those that end in _mm as mm.""",
}

MODELS: Final = """\
# Models: ovens that you build again and again. One tap fills a client’s oven in from one.
# What you leave out, the owner is asked. door is none, plain or insulated; the thermometer is
# one that you hand over, by the highest that it shows."""

MODEL: Final[Mapping[Unit, str]] = {
    "C": """\
[models.garden-80]
title = "Garden 80"
construction = "cast-dense"
diameter_mm = 800
shell_mm = 75
door = "insulated"
flue = true
thermometer_c = 550""",
    "F": """\
[models.garden-32]
title = "Garden 32"
construction = "cast-dense"
diameter_in = 32
shell_in = 3
door = "insulated"
flue = true
thermometer_f = 1000""",
}

_PRESET = """\
[materials.our-castable]
label = "our own castable"
density_kg_m3 = 2150
conductivity_w_mk = 1.0
heat_capacity_j_kgk = 1000
permeability_m2 = 1e-16
uptake_kg_m2_h05 = 4.0

[presets.our-mix]
title = "Our own mix"
told = "The heavy mix that we cast at the yard, blanket and render over it."
cement_class = "N"
characteristic_strength_mpa = 6
layers = [
    {{ kind = "shell", material = "our-castable", {0}, free_water_kg_m3 = 60 }},
    {{ kind = "insulation", material = "ceramic-blanket", {1}, free_water_kg_m3 = 0 }},
    {{ kind = "render", material = "render", {2}, free_water_kg_m3 = 60 }},
]"""

CONSTRUCTION: Final[Mapping[Unit, str]] = {
    "C": _PRESET.format("thickness_mm = 90", "thickness_mm = 50", "thickness_mm = 40"),
    "F": _PRESET.format("thickness_in = 3.5", "thickness_in = 2", "thickness_in = 1.5"),
}


def constructions() -> Iterator[str]:
    """What constructions and materials there are to begin with."""
    yield "# Constructions that I know:"
    yield from (f"#   {key}: {one.title}" for key, one in shipped().presets.items())
    yield "# Add your own, with its layers from the fire outward: shell, insulation, render, each"
    yield "# with the water it still holds when the wet work ends. Materials that I know:"
    yield from (f"#   {key}: {one.label}" for key, one in shipped().materials.items())


def remarked(text: str) -> Iterator[str]:
    """The same, each line as a remark."""
    yield from (f"# {line}".rstrip() for line in text.splitlines())
