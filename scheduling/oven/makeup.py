"""What an oven is made of, as its owner or builder knows it.

Everything the wall needs follows from a ``MakeUp``. Lengths are in mm, everything else in SI
with the unit in the name. Each bound carries the reason for it, and a value outside is refused
with a sentence that says what would be plausible; ``plain_sentences`` turns what pydantic
raises into those sentences.
"""

import difflib
import math
from collections.abc import Iterable
from datetime import date
from enum import StrEnum
from functools import cache
from itertools import pairwise
from typing import Annotated, Any, Literal, Self
from zoneinfo import available_timezones

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    ValidationError,
    field_validator,
    model_validator,
)

from scheduling.oven.stands import Stands

CementClass = Literal["S", "N", "R"]
"""Slow, normal or rapid hardening, as EN 1992-1-1 3.1.2(6) sorts cements."""

LAYER_ORDER = ("shell", "insulation", "render")

DENSEST_SOLID_KG_M3 = 3600.0
"""Pore-free density of the heaviest castable aggregate in use, bauxite (from memory)."""


class Cover(StrEnum):
    """What keeps rain off the dome."""

    OPEN = "open"  # nothing
    SHEET = "sheet"  # a sheet put over it between fires
    ROOF = "roof"  # a roof that stays


class Door(StrEnum):
    """What can be stood in the mouth."""

    NONE = "none"
    PLAIN = "plain"  # sheet steel or boards
    INSULATED = "insulated"


class Shelter(StrEnum):
    """How much wind reaches the dome."""

    EXPOSED = "exposed"
    PART = "part"  # walls or hedges on some sides
    SHELTERED = "sheltered"


@cache
def known_zones() -> frozenset[str]:
    """All that are known here: the folders they lie in are read once."""
    return frozenset(available_timezones())


def _within(low: float, high: float, unit: str, reason: str) -> AfterValidator:
    """Refuse a value outside ``low``-``high``, saying the plausible range and its reason."""

    def check(value: float) -> float:
        if math.isfinite(value) and low <= value <= high:
            return value
        shown = f"{value:g} {unit}".strip()
        span = f"{low:g} to {high:g} {unit}".strip()
        raise ValueError(f"{shown} cannot be right; {span} would be plausible: {reason}")

    return AfterValidator(check)


class _Described(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Layer(_Described):
    """One layer of the dome, even all over.

    ``free_water_kg_m3`` is water that can evaporate, at the time the wet work ended.
    ``permeability_m2`` is to steam, of the dried material. ``uptake_kg_m2_h05`` is the
    capillary uptake of rain (EN ISO 15148).
    """

    kind: Literal["shell", "insulation", "render"]
    material: str = Field(min_length=1, max_length=80)
    thickness_mm: Annotated[
        float, _within(3, 400, "mm", "a skim of render is 3 mm and loose fill at most 400 mm")
    ]
    conductivity_w_mk: Annotated[
        float,
        _within(0.02, 5, "W/mK", "still air is 0.026 W/mK and dense magnesite brick about 4 W/mK"),
    ]
    density_kg_m3: Annotated[
        float,
        _within(20, 3500, "kg/m³", "loose wool is 20 kg/m³ and bauxite castable about 3000 kg/m³"),
    ]
    heat_capacity_j_kgk: Annotated[
        float,
        _within(500, 2500, "J/kgK", "dry mineral materials lie between 750 and 1400 J/kgK"),
    ]
    free_water_kg_m3: Annotated[
        float,
        _within(0, 500, "kg/m³", "half a litre of water in a litre of wall is the wettest fill"),
    ] = 0.0
    permeability_m2: Annotated[
        float,
        _within(
            1e-20, 1e-9, "m²", "dense concrete is about 1e-17 m² and loose fill about 1e-10 m²"
        ),
    ] = 1e-16
    uptake_kg_m2_h05: Annotated[
        float,
        _within(0, 40, "kg/m²h½", "a water-repellent render is 0.5 and soft brick about 25"),
    ] = 0.0

    @model_validator(mode="after")
    def _water_fits_the_pores(self) -> Self:
        room = 1000.0 * (1.0 - self.density_kg_m3 / DENSEST_SOLID_KG_M3)
        if self.free_water_kg_m3 > room:
            raise ValueError(
                f"{self.free_water_kg_m3:g} kg/m³ of water does not fit into {self.material} of "
                f"{self.density_kg_m3:g} kg/m³; its pores hold at most about {room:.0f} kg/m³"
            )
        return self

    @property
    def thickness_m(self) -> float:
        """Thickness in metres."""
        return self.thickness_mm / 1000.0


class Instrument(_Described):
    """An infrared thermometer: its range, and the emissivity it is set to."""

    max_c: Annotated[
        float,
        _within(50, 2000, "°C", "simple ones stop at 330 to 550 °C, good ones at 800 to 1500 °C"),
    ]
    min_c: Annotated[
        float, _within(-100, 200, "°C", "most start between -60 and 0 °C, furnace ones higher")
    ] = -30.0
    emissivity: Annotated[
        float, _within(0.1, 1.0, "", "fixed ones are set to 0.95; nothing exceeds 1")
    ] = 0.95

    @model_validator(mode="after")
    def _has_a_range(self) -> Self:
        if self.max_c < self.min_c + 50:
            raise ValueError(
                f"a thermometer from {self.min_c:g} to {self.max_c:g} °C has no useful range; "
                "its highest reading must lie well above its lowest"
            )
        return self


class MakeUp(_Described):
    """An oven: a dome of layers from the fire outward, its mouth, its mortar and its place."""

    name: str = Field(min_length=1, max_length=80)
    construction: str = Field(min_length=1, max_length=40)
    """Key of the preset that it was described from."""
    layers: tuple[Layer, ...] = Field(min_length=1, max_length=8)
    inner_diameter_mm: Annotated[
        float,
        _within(300, 2500, "mm", "portable domes start at 400 mm, bakery domes end near 2000 mm"),
    ]
    mouth_height_mm: Annotated[
        float, _within(100, 900, "mm", "a garden oven's mouth is 200 to 400 mm high")
    ]
    mouth_width_mm: Annotated[
        float, _within(150, 1500, "mm", "a garden oven's mouth is 300 to 600 mm wide")
    ]
    cement_class: CementClass = "N"
    characteristic_strength_mpa: Annotated[
        float,
        _within(
            2, 90, "MPa", "fireclay mortar with a little cement reaches 5, a dense castable 60"
        ),
    ]
    """Cylinder strength f_ck of the shell at 28 days (EN 1992-1-1)."""
    wet_work_ended: date
    """The last day on which anything wet was put on the oven."""
    stands: Stands | None = None
    """None where nobody was ever asked."""
    flue: bool | None = None
    """Whether its smoke leaves by a flue; None where nobody was ever asked."""
    cover: Cover = Cover.OPEN
    door: Door = Door.PLAIN
    shelter: Shelter = Shelter.PART
    instrument: Instrument | None = None
    latitude: Annotated[float, _within(-90, 90, "°", "the poles are at ±90°")] | None = None
    longitude: Annotated[float, _within(-180, 180, "°", "it runs to ±180°")] | None = None
    zone: str | None = None
    """Time zone of the place, by its IANA name such as Europe/London."""

    @field_validator("wet_work_ended")
    @classmethod
    def _within_living_memory(cls, day: date) -> date:
        if not 1950 <= day.year <= 2100:
            raise ValueError(f"{day} cannot be right; write the year of the last wet work in full")
        return day

    @field_validator("zone")
    @classmethod
    def _known_zone(cls, zone: str | None) -> str | None:
        if zone is None or zone in known_zones():
            return zone
        near = difflib.get_close_matches(zone, known_zones(), n=1)
        hint = f"; did you mean {near[0]}?" if near else "; write it like Europe/London"
        raise ValueError(f"{zone!r} is no time zone known here{hint}")

    @model_validator(mode="after")
    def _stands_up(self) -> Self:
        for inner, outer in pairwise(self.layers):
            if LAYER_ORDER.index(inner.kind) > LAYER_ORDER.index(outer.kind):
                raise ValueError(
                    f"a layer of {outer.kind} lies outside a layer of {inner.kind}; list layers "
                    "from the fire outward: shell, then insulation, then render"
                )
        if self.layers[0].kind != "shell":
            raise ValueError("the first layer, next to the fire, must be the shell")
        if not 20 <= self.shell_thickness_mm <= 300:
            raise ValueError(
                f"a shell of {self.shell_thickness_mm:g} mm cannot be right; 40 to 230 mm would "
                "be plausible: thinner does not stand, thicker than a long brick is not built"
            )
        if self.mouth_height_mm >= self.inner_diameter_mm / 2:
            plausible = 0.63 * self.inner_diameter_mm / 2
            raise ValueError(
                f"a mouth {self.mouth_height_mm:g} mm high does not fit under a dome "
                f"{self.inner_diameter_mm:g} mm across; about {plausible:.0f} mm would be usual"
            )
        if self.mouth_width_mm >= self.inner_diameter_mm:
            raise ValueError(
                f"a mouth {self.mouth_width_mm:g} mm wide is wider than the dome "
                f"({self.inner_diameter_mm:g} mm); about half the dome would be usual"
            )
        if (self.latitude is None) != (self.longitude is None):
            raise ValueError("a place needs both latitude and longitude, or neither")
        return self

    @property
    def indoors(self) -> bool:
        """It stands where no fire is led."""
        return self.stands is not None and self.stands.indoors

    @property
    def inner_radius_m(self) -> float:
        """Radius of the dome's inside, in metres."""
        return self.inner_diameter_mm / 2000.0

    @property
    def shell(self) -> tuple[Layer, ...]:
        """The layers of the shell, from the fire outward."""
        return tuple(layer for layer in self.layers if layer.kind == "shell")

    @property
    def shell_thickness_mm(self) -> float:
        """Thickness of all shell layers together."""
        return sum(layer.thickness_mm for layer in self.shell)

    @property
    def thickness_mm(self) -> float:
        """Thickness of the whole wall."""
        return sum(layer.thickness_mm for layer in self.layers)

    @property
    def mouth_area_m2(self) -> float:
        """Area of the mouth, taken as a half ellipse on its width (m²)."""
        return math.pi / 4 * self.mouth_width_mm * self.mouth_height_mm * 1e-6

    @property
    def dome_area_m2(self) -> float:
        """Inside area of the dome taken as a half sphere, the mouth not deducted (m²)."""
        return 2.0 * math.pi * self.inner_radius_m**2

    @property
    def initial_water_l(self) -> float:
        """Free water in the whole dome when the wet work ended, in litres."""
        inner, litres = self.inner_radius_m, 0.0
        for layer in self.layers:
            outer = inner + layer.thickness_m
            litres += 2 / 3 * math.pi * (outer**3 - inner**3) * layer.free_water_kg_m3
            inner = outer
        return litres


def plain_sentences(error: ValidationError, names: Iterable[str] = ()) -> tuple[str, ...]:
    """What a ``ValidationError`` has to say, one sentence for each thing that is wrong.

    ``names`` are the fields that could have been meant by an unknown one; those of ``MakeUp``
    and ``Layer`` are always among them.
    """
    known = {*MakeUp.model_fields, *Layer.model_fields, *Instrument.model_fields, *names}
    return tuple(_sentence(one, known) for one in error.errors(include_url=False))


def _sentence(one: Any, known: set[str]) -> str:
    where, kind = _where(one["loc"]), one["type"]
    field = str(one["loc"][-1]) if one["loc"] else ""
    if kind == "missing":
        return f"{where} is missing."
    if kind == "extra_forbidden":
        near = difflib.get_close_matches(field, known, n=1)
        hint = f" Did you mean {near[0]}?" if near else ""
        return f"{where} is not something an oven has.{hint}"
    if kind == "value_error":
        said = str(one["ctx"]["error"])
        return f"{where}: {said}." if where else f"{said[:1].upper()}{said[1:]}."
    if kind in ("enum", "literal_error"):
        return f"{where}: {one['input']!r} is not known here; use {one['ctx']['expected']}."
    if kind in ("finite_number", "float_parsing", "float_type"):
        return f"{where}: {one['input']!r} is not a number."
    if kind.startswith("date"):
        return f"{where}: {one['input']!r} is not a date; write it like 2026-05-30."
    return f"{where}: {one['msg'][:1].lower()}{one['msg'][1:]}."


def _where(loc: tuple[int | str, ...]) -> str:
    """``('layers', 0, 'thickness_mm')`` as ``layer 1, thickness_mm``."""
    words: list[str] = []
    for part in loc:
        if isinstance(part, int) and words:
            words[-1] = f"{words[-1].removesuffix('s')} {part + 1}"
        else:
            words.append(str(part))
    return ", ".join(words)
