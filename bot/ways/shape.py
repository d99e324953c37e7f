"""A builder's own ways as one file has them: limits, words, checklists, constructions, models."""

from collections.abc import Mapping
from typing import Annotated, Final

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from scheduling.breakin.limits import USUAL
from scheduling.journal import OwnLimits
from scheduling.oven.makeup import Door
from scheduling.oven.materials import Material
from scheduling.oven.preset import Catalogue, Preset, shipped
from scheduling.record.outlook import FLOOR_D

PROJECT: Final[Mapping[str, float]] = {
    "step_k": USUAL.step_k,
    "climb_low_k_h": USUAL.climb_low_k_h,
    "climb_high_k_h": USUAL.climb_high_k_h,
    "stoke_min_minutes": USUAL.stoke_least_minutes,
    "stoke_max_minutes": USUAL.stoke_most_minutes,
    "cure_floor_d": float(FLOOR_D),
    "session_h": USUAL.session_h,
    "final_c": USUAL.final_c,
}
"""What holds where a builder says nothing."""

HIGHER_IS_GENTLER: Final = frozenset({"cure_floor_d", "stoke_min_minutes"})
"""More days of cure, and more time between two stokings; of all others the lower is gentler."""

Line = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=160)]
Lines = Annotated[tuple[Line, ...], Field(max_length=6)]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class OwnWords(_Part):
    """Said beside the house's own sentences, never instead of them."""

    greeting: Annotated[str, StringConstraints(strip_whitespace=True, max_length=300)] = ""
    cautions: Lines = ()


class Checklist(_Part):
    """What to see to before a fire and after it."""

    before: Lines = ()
    after: Lines = ()


class OwnPaper(_Part):
    """The head of their papers: a name where it differs from the team's, the lines of an address
    (a telephone among them), and a picture's reference, as the chat knows it."""

    name: Annotated[str, StringConstraints(strip_whitespace=True, max_length=80)] = ""
    address: Lines = ()
    logo: Annotated[str, StringConstraints(strip_whitespace=True, max_length=300)] = ""


class Model(_Part):
    """An oven that is built again and again. What is left out, its owner is asked."""

    title: Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=40)]
    construction: str
    """Key of a construction, shipped or of the builder's own."""
    diameter_mm: float | None = None
    """Inside, from wall to wall."""
    shell_mm: float | None = None
    """The wall that faces the fire."""
    door: Door | None = None
    flue: bool | None = None
    thermometer_c: float | None = None
    """The highest that a thermometer shows which is handed over with it."""


class OwnWays(_Part):
    """All of it. ``reason`` goes with the limits into every record; ``less_gentle`` says a limit
    once more, with the same number, where it allows more than the project's; ``learn`` is whether
    finished ovens teach the next of their model."""

    reason: Annotated[str, StringConstraints(strip_whitespace=True, max_length=200)] = ""
    learn: bool = True
    limits: OwnLimits = OwnLimits()
    less_gentle: OwnLimits = OwnLimits()
    words: OwnWords = OwnWords()
    checklist: Checklist = Checklist()
    paper: OwnPaper = OwnPaper()
    materials: Mapping[str, Material] = {}
    presets: Mapping[str, Preset] = {}
    models: Mapping[str, Model] = {}


def catalogue_of(ways: OwnWays) -> Catalogue:
    """All constructions that a builder can choose from: shipped, and their own."""
    return Catalogue(
        materials={**shipped().materials, **ways.materials},
        presets={**shipped().presets, **ways.presets},
    )


def is_less_gentle(name: str, value: float, than: float) -> bool:
    """Whether a limit of ``value`` allows more than one of ``than``."""
    return value < than if name in HIGHER_IS_GENTLER else value > than


def less_gentle(limits: OwnLimits) -> dict[str, tuple[float, float]]:
    """Limits that allow more than the project's: the project's value and theirs."""
    return {
        name: (PROJECT[name], value)
        for name, value in limits.told().items()
        if is_less_gentle(name, value, PROJECT[name])
    }
