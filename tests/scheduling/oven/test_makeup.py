"""An oven described well is taken; nonsense is refused in a sentence one can act on."""

import math
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from scheduling.oven.makeup import Instrument, Layer, MakeUp, plain_sentences


def layer(**changes: Any) -> dict[str, Any]:
    return {
        "kind": "shell",
        "material": "dense castable",
        "thickness_mm": 90,
        "conductivity_w_mk": 1.1,
        "density_kg_m3": 2200,
        "heat_capacity_j_kgk": 1000,
        "free_water_kg_m3": 60,
        **changes,
    }


def described(**changes: Any) -> dict[str, Any]:
    return {
        "name": "Orchard oven",
        "construction": "cast-dense",
        "layers": [layer()],
        "inner_diameter_mm": 800,
        "mouth_height_mm": 250,
        "mouth_width_mm": 420,
        "characteristic_strength_mpa": 6,
        "wet_work_ended": "2026-05-02",
        **changes,
    }


def refusal(**changes: Any) -> str:
    with pytest.raises(ValidationError) as caught:
        MakeUp.model_validate(described(**changes))
    return " ".join(plain_sentences(caught.value))


def test_an_ordinary_oven_is_taken_as_described() -> None:
    oven = MakeUp.model_validate(described())
    assert oven.shell_thickness_mm == 90
    assert oven.inner_radius_m == 0.4
    assert oven.wet_work_ended == date(2026, 5, 2)


def test_water_is_that_of_a_half_sphere() -> None:
    oven = MakeUp.model_validate(described())
    volume_m3 = 2 / 3 * math.pi * (0.49**3 - 0.40**3)
    assert oven.initial_water_l == pytest.approx(volume_m3 * 60)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"inner_diameter_mm": 80}, "300 to 2500 mm"),
        ({"inner_diameter_mm": 8000}, "8000 mm cannot be right"),
        ({"mouth_height_mm": 500}, "about 252 mm would be usual"),
        ({"mouth_width_mm": 900}, "wider than the dome"),
        ({"layers": [layer(thickness_mm=9)]}, "40 to 230 mm would be plausible"),
        ({"layers": [layer(thickness_mm=-90)]}, "layer 1, thickness_mm"),
        ({"layers": [layer(conductivity_w_mk=110)]}, "0.02 to 5 W/mK"),
        ({"layers": [layer(free_water_kg_m3=450)]}, "pores hold at most about 389"),
        ({"layers": [layer(kind="render")]}, "next to the fire, must be the shell"),
        ({"layers": [layer(kind="insulation"), layer()]}, "from the fire outward"),
        ({"layers": []}, "layers"),
        ({"cement_class": "X"}, "'S', 'N' or 'R'"),
        ({"wet_work_ended": "last Tuesday"}, "write it like 2026-05-30"),
        ({"wet_work_ended": "0026-05-30"}, "write the year"),
        ({"latitude": 51.0}, "both latitude and longitude"),
        ({"latitude": 151.0, "longitude": 0.0}, "the poles"),
        ({"zone": "Europe/Lundon"}, "did you mean Europe/London"),
        ({"instrument": {"max_c": 20}}, "simple ones stop at"),
        ({"instrument": {"max_c": 380, "emissivity": 95}}, "nothing exceeds 1"),
        ({"inner_diametre_mm": 800}, "Did you mean inner_diameter_mm?"),
        ({"name": ""}, "name"),
    ],
)
def test_nonsense_is_refused_with_what_would_be_plausible(
    changes: dict[str, Any], says: str
) -> None:
    assert says in refusal(**changes)


def test_a_missing_answer_is_named() -> None:
    with pytest.raises(ValidationError) as caught:
        MakeUp.model_validate({k: v for k, v in described().items() if k != "inner_diameter_mm"})
    assert plain_sentences(caught.value) == ("inner_diameter_mm is missing.",)


def test_every_wrong_answer_is_named_at_once() -> None:
    said = refusal(inner_diameter_mm=-1, cover="umbrella")
    assert "inner_diameter_mm" in said
    assert "cover: 'umbrella' is not known here; use 'open', 'sheet' or 'roof'" in said


@settings(derandomize=True, max_examples=80)
@given(
    st.sampled_from(["inner_diameter_mm", "mouth_height_mm", "mouth_width_mm", "latitude"]),
    st.sampled_from([math.nan, math.inf, -math.inf, "nan", "wide", None, [], "1e400"]),
)
def test_what_is_no_number_is_refused_and_never_raises_anything_else(
    field: str, value: object
) -> None:
    if field == "latitude" and value is None:
        return
    assert field in refusal(**{field: value})


def test_a_thermometer_needs_a_range() -> None:
    with pytest.raises(ValidationError, match="no useful range"):
        Instrument(max_c=100, min_c=90)


def test_a_layer_cannot_be_changed_behind_ones_back() -> None:
    shell = Layer.model_validate(layer())
    with pytest.raises(ValidationError):
        shell.thickness_mm = 10  # type: ignore[misc]
