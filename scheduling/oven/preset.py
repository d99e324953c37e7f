"""Constructions that an oven can be described from: data, shipped as ``presets.toml``.

A builder adds constructions of their own with ``Catalogue.with_more`` and text of the same
shape as the shipped file.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from scheduling.oven.makeup import CementClass, Layer, MakeUp, plain_sentences
from scheduling.oven.materials import Material, Mix

MOUTH_TO_DOME_HEIGHT = 0.63
"""Mouth height over dome height: common practice, no published source."""

MOUTH_TO_DIAMETER = 0.5
"""Mouth width over inner diameter: common practice, no published source."""


class DescriptionError(ValueError):
    """A description that no oven fits. Its sentences are meant for the person who wrote it."""

    def __init__(self, sentences: tuple[str, ...]) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


class PresetLayer(BaseModel):
    """A layer of a construction: a material of the catalogue, a thickness, its water."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: Literal["shell", "insulation", "render"]
    material: str
    thickness_mm: float
    free_water_kg_m3: float


class Preset(BaseModel):
    """A construction. ``told`` describes it to an owner; ``sources`` belong to its numbers."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    title: str = Field(min_length=1, max_length=40)
    told: str = Field(min_length=1, max_length=200)
    cement_class: CementClass
    characteristic_strength_mpa: float
    layers: tuple[PresetLayer, ...] = Field(min_length=1, max_length=8)
    sources: Mapping[str, str] = {}


class Catalogue(BaseModel):
    """Materials and constructions by their keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    materials: Mapping[str, Material] = {}
    presets: Mapping[str, Preset] = {}

    @classmethod
    def read(cls, text: str) -> Self:
        """Read TOML of the shape of ``presets.toml``. Raises DescriptionError."""
        try:
            catalogue = cls.model_validate(tomllib.loads(text))
        except tomllib.TOMLDecodeError as error:
            raise DescriptionError(
                (f"The constructions cannot be read as TOML: {error}.",)
            ) from None
        except ValidationError as error:
            fields = {*Preset.model_fields, *PresetLayer.model_fields, *Material.model_fields}
            raise DescriptionError(plain_sentences(error, fields)) from None
        return catalogue

    def with_more(self, text: str) -> "Catalogue":
        """This catalogue and what ``text`` adds; of the same key the added one counts.

        Raises DescriptionError, also where an added construction could not stand.
        """
        more = Catalogue.read(text)
        both = Catalogue(
            materials={**self.materials, **more.materials},
            presets={**self.presets, **more.presets},
        )
        for key in more.presets:
            both.layers_of(key)
        return both

    def preset(self, key: str) -> Preset:
        """The construction of that key. Raises DescriptionError naming those that there are."""
        if key in self.presets:
            return self.presets[key]
        known = ", ".join(self.presets)
        raise DescriptionError((f"There is no construction {key!r}; use one of {known}.",))

    def layers_of(
        self,
        key: str,
        thickness_mm: Mapping[str, float] | None = None,
        mix: Mix | None = None,
    ) -> tuple[Layer, ...]:
        """The layers of a construction, from the fire outward.

        ``thickness_mm`` sets the thickness of all layers of a kind together, 0 leaves them
        out; ``mix`` sets the water of the shell. Raises DescriptionError.
        """
        preset, wanted = self.preset(key), dict(thickness_mm or {})
        layers: list[Layer] = []
        for layer in preset.layers:
            usual = sum(other.thickness_mm for other in preset.layers if other.kind == layer.kind)
            scale = wanted.get(layer.kind, usual) / usual
            if scale == 0 and layer.kind != "shell":
                continue
            wet_by_mix = mix is not None and layer.kind == "shell"
            water = mix.evaporable_water_kg_m3() if mix and wet_by_mix else layer.free_water_kg_m3
            layers.append(self._layer(layer, layer.thickness_mm * scale, water))
        for kind in wanted.keys() - {layer.kind for layer in preset.layers}:
            raise DescriptionError(
                (f"{preset.title} has no {kind}; describe its layers one by one instead.",)
            )
        return tuple(layers)

    def _layer(self, layer: PresetLayer, thickness_mm: float, water: float) -> Layer:
        material = self.materials.get(layer.material)
        if material is None:
            known = ", ".join(self.materials)
            raise DescriptionError(
                (f"There is no material {layer.material!r}; use one of {known}.",)
            )
        try:
            return Layer(
                kind=layer.kind,
                material=material.label,
                thickness_mm=thickness_mm,
                free_water_kg_m3=water,
                **material.model_dump(exclude={"label", "sources"}),
            )
        except ValidationError as error:
            said = plain_sentences(error)
            raise DescriptionError(tuple(f"{layer.kind}, {one}" for one in said)) from None

    def make_up(
        self,
        construction: str,
        *,
        thickness_mm: Mapping[str, float] | None = None,
        mix: Mix | None = None,
        **known: Any,
    ) -> MakeUp:
        """An oven of a construction, ``known`` being what is known of it beyond that.

        ``known`` takes the fields of ``MakeUp``; ``name``, ``inner_diameter_mm`` and
        ``wet_work_ended`` have no default. Layers given there replace the construction's.
        Raises DescriptionError.
        """
        preset = self.preset(construction)
        described: dict[str, Any] = {
            "construction": construction,
            "cement_class": preset.cement_class,
            "characteristic_strength_mpa": preset.characteristic_strength_mpa,
            **known,
        }
        if "layers" not in described:
            described["layers"] = self.layers_of(construction, thickness_mm, mix)
        diameter = described.get("inner_diameter_mm")
        if isinstance(diameter, int | float):
            described.setdefault("mouth_height_mm", MOUTH_TO_DOME_HEIGHT * diameter / 2)
            described.setdefault("mouth_width_mm", MOUTH_TO_DIAMETER * diameter)
        try:
            return MakeUp.model_validate(described)
        except ValidationError as error:
            raise DescriptionError(plain_sentences(error)) from None


@cache
def shipped() -> Catalogue:
    """The catalogue that comes with the program."""
    return Catalogue.read(
        resources.files("scheduling.oven").joinpath("presets.toml").read_text(encoding="utf-8")
    )
