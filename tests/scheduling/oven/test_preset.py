"""Constructions are data: each stands, each number has a source, a builder can add one."""

from datetime import date
from typing import Any

import pytest

from scheduling.oven.materials import Mix
from scheduling.oven.preset import Catalogue, DescriptionError, shipped

FINISHED = date(2026, 5, 2)

OWN = """
[materials.river-stone]
label = "river stone in lime"
density_kg_m3 = 2400
conductivity_w_mk = 2.0
heat_capacity_j_kgk = 900
permeability_m2 = 1e-17
uptake_kg_m2_h05 = 1.0

[presets.stone]
title = "Stone dome"
told = "Field stones in lime mortar."
cement_class = "S"
characteristic_strength_mpa = 3
layers = [{ kind = "shell", material = "river-stone", thickness_mm = 200, free_water_kg_m3 = 40 }]
"""


@pytest.mark.parametrize("key", list(shipped().presets))
def test_every_shipped_construction_stands(key: str) -> None:
    oven = shipped().make_up(key, name="Test oven", inner_diameter_mm=800, wet_work_ended=FINISHED)
    assert oven.construction == key
    assert 2 < oven.initial_water_l < 60
    assert oven.layers[-1].kind == "render"


@pytest.mark.parametrize("key", list(shipped().materials))
def test_every_number_of_a_material_has_its_source(key: str) -> None:
    material = shipped().materials[key]
    assert set(material.sources) == set(type(material).model_fields) - {"label", "sources"}
    assert all(material.sources.values())


@pytest.mark.parametrize("key", list(shipped().presets))
def test_every_number_of_a_construction_has_its_source(key: str) -> None:
    sources = shipped().presets[key].sources
    assert set(sources) == {"cement_class", "characteristic_strength_mpa", "free_water_kg_m3"}
    assert all(sources.values())


def test_the_mouth_follows_the_dome_unless_it_is_told() -> None:
    known: dict[str, Any] = {"name": "A", "inner_diameter_mm": 1000, "wet_work_ended": FINISHED}
    oven = shipped().make_up("cast-dense", **known)
    assert oven.mouth_height_mm == pytest.approx(315)
    assert oven.mouth_width_mm == pytest.approx(500)
    assert shipped().make_up("cast-dense", **known, mouth_width_mm=450).mouth_width_mm == 450


def test_thicknesses_can_be_told_by_kind() -> None:
    layers = shipped().layers_of("tile-lined", {"shell": 60, "render": 0})
    assert [layer.kind for layer in layers] == ["shell", "shell", "insulation"]
    assert [layer.thickness_mm for layer in layers] == pytest.approx([20, 40, 50])


def test_a_known_mix_sets_the_water_of_the_shell_alone() -> None:
    mix = Mix(cement_kg_m3=300, water_cement=0.6)
    shell, _, render = shipped().layers_of("cast-dense", mix=mix)
    assert shell.free_water_kg_m3 == pytest.approx(mix.evaporable_water_kg_m3())
    assert render.free_water_kg_m3 == 60


def test_a_builder_adds_a_construction_without_code() -> None:
    catalogue = shipped().with_more(OWN)
    oven = catalogue.make_up("stone", name="B", inner_diameter_mm=900, wet_work_ended=FINISHED)
    assert oven.cement_class == "S"
    assert oven.layers[0].material == "river stone in lime"
    assert "cast-dense" in catalogue.presets


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("presets = 3", "presets"),
        ("[presets.", "cannot be read as TOML"),
        (OWN.replace('river-stone"', 'moon-rock"'), "no material 'moon-rock'"),
        (OWN.replace("thickness_mm = 200", "thickness_mm = 2000"), "3 to 400 mm"),
        (OWN.replace("conductivity_w_mk = 2.0", "conductivity_w_mk = nan"), "conductivity_w_mk"),
        (OWN.replace("title =", "titel ="), "Did you mean title?"),
    ],
)
def test_a_construction_that_cannot_be_is_refused_in_words(text: str, says: str) -> None:
    with pytest.raises(DescriptionError) as caught:
        shipped().with_more(text)
    assert says in str(caught.value)


def test_an_unknown_construction_names_those_that_there_are() -> None:
    with pytest.raises(DescriptionError, match="cast-dense, cast-thin"):
        shipped().make_up("igloo", name="C", inner_diameter_mm=800, wet_work_ended=FINISHED)


def test_a_layer_that_the_construction_lacks_is_not_silently_dropped() -> None:
    own = Catalogue.read(OWN)
    with pytest.raises(DescriptionError, match="has no insulation"):
        own.layers_of("stone", {"insulation": 50})
