"""The plan's table stays within a terminal and says what decides each fire."""

from typing import Any

import pytest

from bot.commands.plantable import WIDTH, table
from bot.wording.plans import LIMITS
from scheduling.breakin.plan import LimitedBy


def firing(**changes: Any) -> dict[str, Any]:
    return {
        "number": 1,
        "day": "2026-05-30",
        "plateau_c": 152.3,
        "climb_c_per_h": 100.0,
        "hold_h": 3.5,
        "stoke_minutes": 30,
        "wood_kg": 6.5,
        "water_left_l": {"low": 3.1, "mid": 4.2, "high": 5.5},
        "steam_share": 0.93,
        "morning_c": 46.2,
        "limited_by": "steam",
        "reason": LIMITS[LimitedBy.STEAM],
        **changes,
    }


def plan(*firings: dict[str, Any], **changes: Any) -> dict[str, Any]:
    return {"ready_on": "2026-05-23", "firings": list(firings), "believed": {}, **changes}


def test_a_fire_is_one_line_and_its_reason() -> None:
    told = table(plan(firing()), "Orchard oven")
    assert "ready for its first fire on Sat 23 May 2026" in told
    assert "1  Sat 30 May  152    100   3.5     30   6.5  4.2 (3.1-5.5)" in told
    assert LIMITS[LimitedBy.STEAM] in told


@pytest.mark.parametrize("many", [1.0, 10.0, 99.0])
def test_the_table_stays_within_80_columns(many: float) -> None:
    wide = firing(
        number=12, wood_kg=many, water_left_l={"low": many, "mid": many, "high": many},
        steam_share=1.0, plateau_c=400, morning_c=120,
    )  # fmt: skip
    told = table(plan(firing(), wide), "A" * 80)
    assert all(len(line) <= WIDTH for line in told.splitlines())


def test_columns_stand_under_their_heads() -> None:
    lines = table(plan(firing()), "Orchard oven").splitlines()
    head = next(i for i, line in enumerate(lines) if line.startswith(" fire"))
    for word, number in (("aim", "152"), ("climb", "100"), ("steam", "93"), ("morning", "46")):
        assert lines[head].index(word) + len(word) == lines[head + 2].rindex(number) + len(number)


def test_a_plan_without_fires_says_why() -> None:
    told = table(plan(ready_on=None, reason="The mortar froze."), "Orchard oven")
    assert "No day can be given for the first fire. The mortar froze." in told
    assert "No fires are planned." in told


def test_the_table_says_that_a_plan_is_advice_under_the_builders_limits() -> None:
    for one in (plan(), plan(firing())):
        assert "The builder's limits and local fire rules come before it" in " ".join(
            table(one, "Orchard oven").split()
        )
