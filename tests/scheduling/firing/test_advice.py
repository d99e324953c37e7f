"""The gate that every stick has to pass, and the one action that comes out."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduling.firing.advice import Ground, WallSays, decide, forbids_wood
from scheduling.firing.aim import Action, Aim
from scheduling.firing.rule import Bounds, sized
from scheduling.firing.session import Session
from scheduling.journal import Advised, Measured, Seen, Silent, WoodPutOn
from scheduling.oven.preset import shipped
from scheduling.oven.reading import Suspicion

LIT = datetime(2026, 5, 2, 8, tzinfo=UTC)
MAKEUP = shipped().make_up(
    "cast-dense",
    name="Oven",
    inner_diameter_mm=900,
    wet_work_ended=date(2026, 3, 1),
    instrument={"max_c": 550},
)


def aim(plateau_c: float = 150.0, hold_h: float = 3.0) -> Aim:
    return sized(MAKEUP, Bounds(), number=1, plateau_c=plateau_c, hold_h=hold_h, last=False, left=5)


def read(minutes: float, top_c: float, doubt: Suspicion | None = None, **more: object) -> Measured:
    known = {"at": LIT + timedelta(minutes=minutes), "by": "ana", "top_c": top_c, "doubt": doubt}
    return Measured.model_validate({"taken_in": "C"} | known | more)


def ground(*readings: Measured, after: float = 1.0, **more: object) -> Ground:
    """A fire read so, ``after`` minutes after its last reading."""
    last = readings[-1].at if readings else LIT
    session = Session(LIT, aim(), False, last, readings)
    known: dict[str, object] = {
        "session": session,
        "now": last + timedelta(minutes=after),
        "bounds": Bounds(),
        "instrument": True,
    }
    return Ground(**(known | more))  # type: ignore[arg-type]


COLD = (read(30, 45), read(60, 70))


def test_a_cold_slow_fire_gets_a_charge() -> None:
    decision = decide(ground(*COLD))
    assert decision.action is Action.ADD
    assert decision.kg is not None
    assert decision.kg > 0
    assert decision.minutes is not None
    assert 10 <= decision.minutes <= 30, "the first charge is looked at in full flames"


def test_a_doubtful_reading_shuts_the_gate() -> None:
    on = ground(*COLD, read(75, 20, Suspicion.FELL_TOO_FAST))
    assert forbids_wood(on) is not None
    assert decide(on).action is Action.READ_AGAIN


def test_a_doubtful_reading_that_may_stand_for_something_hotter_is_treated_as_hot() -> None:
    on = ground(*COLD, read(75, 300, Suspicion.FLAME_IN_SPOT, at_least=True))
    assert decide(on).action is Action.LET_FALL


def test_a_reading_a_quarter_of_an_hour_old_shuts_the_gate() -> None:
    on = ground(*COLD, after=15.0)
    reason = forbids_wood(on)
    assert reason is not None
    assert reason.what == "stale"
    assert decide(on).action is Action.READ_AGAIN


def test_no_reading_shuts_the_gate() -> None:
    on = ground(after=40.0)
    assert forbids_wood(on) is not None
    assert decide(on).action is Action.READ_AGAIN


def test_wood_just_put_on_shuts_the_gate() -> None:
    on = ground(*COLD)
    fed = replace(on.session, stokes=(WoodPutOn(at=LIT + timedelta(minutes=55), pieces=3),))
    assert decide(replace(on, session=fed)).action is not Action.ADD


def test_wood_asked_for_counts_as_put_on() -> None:
    on = ground(*COLD)
    asked = replace(
        on.session, advised=(Advised(at=LIT + timedelta(minutes=55), action=Action.ADD, kg=1.0),)
    )
    assert decide(replace(on, session=asked)).action is not Action.ADD


@pytest.mark.parametrize(
    "why", ["held", "trouble", "cure", "restricted", "weather", "away", "crack", "wood_out"]
)
def test_whatever_is_forbidden_stays_forbidden(why: str) -> None:
    assert decide(ground(*COLD, forbidden=why)).action is not Action.ADD


def test_steam_near_its_limit_shuts_the_gate_and_over_it_spreads_the_fire() -> None:
    near = decide(ground(*COLD, wall=WallSays(steam_share=0.9)))
    free = decide(ground(*COLD, wall=WallSays(steam_share=0.5)))
    assert free.kg is not None
    assert (near.kg or 0.0) < 0.5 * free.kg
    over = decide(ground(*COLD, wall=WallSays(steam_share=1.05)))
    assert over.action is Action.SPREAD
    assert over.gentler is not None


def test_steam_that_would_pass_its_limit_on_the_way_up_leads_the_crown_no_higher() -> None:
    led = decide(ground(*COLD, wall=WallSays(steam_share=0.3, steam_share_led=1.1)))
    free = decide(ground(*COLD, wall=WallSays(steam_share=0.3, steam_share_led=0.9)))
    assert free.kg is not None
    assert (led.kg or 0.0) < 0.5 * free.kg


def test_steam_that_would_pass_its_limit_where_the_crown_stands_shuts_the_gate() -> None:
    held = WallSays(steam_share=0.3, steam_share_held=1.0, steam_share_led=1.2)
    reason = forbids_wood(ground(*COLD, wall=held))
    assert reason is not None
    assert reason.what == "steam"
    assert decide(ground(*COLD, wall=held)).action is not Action.ADD


def test_a_wall_that_says_nothing_of_its_own_fire_allows_no_wood() -> None:
    silent = ground(*COLD, modelled=True)
    reason = forbids_wood(silent)
    assert reason is not None
    assert reason.what == "steam"
    assert decide(silent).action is Action.ADD_NOTHING
    assert forbids_wood(replace(silent, wall=WallSays(steam_share=0.2))) is None


def test_an_unanswered_fire_gets_nothing() -> None:
    on = ground(*COLD)
    silent = replace(on.session, silent=Silent(at=on.now, step="told"))
    assert decide(replace(on, session=silent)).action is not Action.ADD


def test_a_slowly_falling_hold_gets_a_smaller_charge_than_a_climb() -> None:
    falling = decide(ground(read(60, 150), read(90, 144), read(120, 138)))
    climbing = decide(ground(read(60, 80), read(90, 92), read(120, 104)))
    assert falling.action is climbing.action is Action.ADD
    assert falling.kg is not None
    assert climbing.kg is not None
    assert falling.kg < climbing.kg


def test_a_leaning_fire_is_spread_to_the_cold_side() -> None:
    decision = decide(ground(read(60, 180), read(90, 200, sides_c=(125.0,)), **_hotter()))
    assert decision.action is Action.SPREAD
    assert decision.why.what == "hot_crown"


def _hotter() -> dict[str, Any]:
    session = Session(
        LIT,
        aim(280.0),
        False,
        LIT + timedelta(minutes=90),
        (read(60, 180), read(90, 200, sides_c=(125.0,))),
    )
    return {"session": session}


def test_the_hours_of_the_day_end_the_firing() -> None:
    on = ground(*COLD)
    decision = decide(replace(on, latest=on.now))
    assert decision.action is Action.HOLD_DONE
    assert decision.why.what == "session"


def test_a_warned_owner_without_thermometer_pauses() -> None:
    session = Session(LIT, aim(), False, LIT)
    on = Ground(session, LIT + timedelta(minutes=31), Bounds(), False)
    assert decide(on).action is Action.ADD
    steaming = replace(session, seen=(Seen(at=LIT + timedelta(minutes=20), what="steam"),))
    assert decide(replace(on, session=steaming)).action is Action.ADD_NOTHING


def test_a_fire_just_lit_is_not_told_of_wood_just_asked_for() -> None:
    decision = decide(ground(read(1, 20.0), after=1))
    assert decision.why.what == "just_lit"
    assert decision.kg is None


@settings(max_examples=400, derandomize=True, deadline=None)
@given(
    steps=st.lists(
        st.tuples(st.floats(1, 60), st.floats(-60, 90), st.booleans()), min_size=0, max_size=8
    ),
    after=st.floats(0, 60),
    start_c=st.floats(0, 200),
    steam=st.none() | st.floats(0, 2),
    fed=st.none() | st.floats(0, 60),
)
def test_wood_needs_a_fresh_believed_reading_below_the_plateau_and_no_haste(
    steps: list[tuple[float, float, bool]],
    after: float,
    start_c: float,
    steam: float | None,
    fed: float | None,
) -> None:
    minutes, top_c, readings = 0.0, start_c, []
    for wait, change, doubted in steps:
        minutes, top_c = minutes + wait, top_c + change
        readings.append(read(minutes, top_c, Suspicion.FLAME_IN_SPOT if doubted else None))
    on = ground(*readings, after=after, wall=WallSays(steam_share=steam))
    if fed is not None:
        put = WoodPutOn(at=max(LIT, on.now - timedelta(minutes=fed)), pieces=2)
        on = replace(on, session=replace(on.session, stokes=(put,)))
    decision = decide(on)
    if decision.expect_c is not None:
        assert decision.expect_c[0] < decision.expect_c[1]
    if decision.action is not Action.ADD:
        return
    assert readings
    assert readings[-1].doubt is None
    assert on.now - readings[-1].at <= timedelta(minutes=12)
    assert readings[-1].top_c is not None
    assert readings[-1].top_c <= 150.0
    assert (on.session.climb_k_h or 0.0) <= 100.0
    assert steam is None or steam < 1.0
    assert fed is None or fed >= 11.99 or on.now - LIT >= timedelta(minutes=12)
    assert on.now - on.session.last_fed_at >= timedelta(minutes=12)
