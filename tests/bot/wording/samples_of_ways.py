"""Everything that is said of a builder's own ways."""

from collections.abc import Iterator
from typing import get_args

from scheduling.meaning import (
    Meaning,
    WaysApplied,
    WaysKept,
    WaysOutrun,
    WaysRefused,
    WaysShown,
    WaysUnchanged,
)
from scheduling.meaning.ways import ModelShown, WayFault
from tests.bot.wording.sample_values import NOW

FAULTS = get_args(WayFault.model_fields["what"].annotation)


def ways() -> Iterator[Meaning]:
    yield WaysShown(version=0, file="[limits]\n")
    yield WaysShown(version=1, made_at=NOW)
    yield WaysShown(
        version=12,
        made_at=NOW,
        by="Beth <b>Alder</b>",
        limits=(
            ("step_k", 60.0), ("climb_low_k_h", 80.0), ("climb_high_k_h", 120.0),
            ("stoke_min_minutes", 40.0), ("stoke_max_minutes", 55.0), ("cure_floor_d", 28.0),
            ("session_h", 6.5), ("final_c", 380.0),
        ),
        cautions=2,
        checks=3,
        presets=("Our own mix", "Half brick"),
        models=("Garden 80", "Garden 90"),
        greeting=True,
        head=("name", "address", "logo"),
        teaching=(
            ModelShown(title="Garden <i>80</i>", diameter_mm=800, ovens=7, least=5, fires=(5, 8)),
            ModelShown(title="Garden 90", diameter_mm=900, ovens=1, least=5, fires=(6, 6)),
        ),
    )  # fmt: skip
    yield WaysShown(version=3, made_at=NOW, by="Beth", models=("Garden 80",), learn=False)
    yield WaysRefused(faults=(WayFault(what="not_toml"),))
    for what in FAULTS:
        yield WaysRefused(
            faults=(
                WayFault(
                    what=what, line=7, field="climb_low_k_h", value="9e9", low=20.0, high=150.0,
                    near="climb_high_k_h",
                ),
            )
            * 6
        )  # fmt: skip
    yield WaysKept(version=1)
    yield WaysKept(version=3, changed=("cure_floor_d", "cautions"), running=1)
    yield WaysKept(version=4, changed=("greeting",), running=40)
    yield WaysApplied(version=3, clients=0)
    yield WaysApplied(version=3, clients=1, kept_gentler=1)
    yield WaysApplied(version=3, clients=39, kept_gentler=2)
    yield WaysUnchanged(version=3)
    yield WaysOutrun()
