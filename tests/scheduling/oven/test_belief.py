from datetime import timedelta

import numpy as np
import pytest

from scheduling.oven.belief import Belief, BeliefError
from scheduling.oven.history import (
    DisorderError,
    DoorSet,
    Fact,
    FireLit,
    FireOut,
    Rendered,
    Soaked,
    SurfaceRead,
    Unwatched,
    WoodPut,
)
from scheduling.oven.surroundings import Surroundings
from tests.scheduling.oven.domes import (
    MILD,
    MORNING,
    a_first_fire,
    after_first_fire,
    an_oven,
    fresh,
    hours,
)


def test_one_fact_at_a_time_is_the_same_as_the_whole_journal() -> None:
    until = MORNING + hours(20)
    whole = fresh().carried(a_first_fire(), until, MILD)
    bit = fresh()
    for fact in a_first_fire():
        bit = bit.carried([fact], fact.at, MILD)
    bit = bit.carried([], until, MILD)
    np.testing.assert_array_equal(bit.present.wall.temperature_c, whole.present.wall.temperature_c)
    assert bit.water_left_l == whole.water_left_l
    assert bit.present.reached_c == whole.present.reached_c == 155.0


def test_looking_while_the_fire_burns_changes_nothing_later() -> None:
    facts = a_first_fire()
    looked = fresh().carried(facts[:4], facts[3].at, MILD)
    peeked = looked.carried([], facts[3].at + timedelta(minutes=20), MILD)
    one = looked.carried([facts[4]], facts[4].at, MILD)
    two = peeked.carried([facts[4]], facts[4].at, MILD)
    np.testing.assert_array_equal(one.present.wall.temperature_c, two.present.wall.temperature_c)


def test_a_first_fire_takes_a_good_part_of_the_water_and_no_member_gains_any() -> None:
    before, after = fresh(), after_first_fire(fresh())
    assert (after.shell_water_l() <= before.shell_water_l()).all()
    assert 0.2 < after.water_l(0.5) / before.water_l(0.5) < 0.7


def test_the_morning_after_a_first_fire_is_about_fifty() -> None:
    """Common practice, no published source: 150 °C, a 5 °C night, the door on for 16 hours."""
    belief = fresh(members=60)
    out = a_first_fire(150.0)
    night = Surroundings.steady(5.0)
    belief = belief.carried(out, out[-1].at, MILD)
    belief = belief.carried([], out[-1].at + hours(16), night)
    assert 38.0 <= belief.surface_c().mid <= 62.0


def test_with_no_reading_the_belief_is_wider() -> None:
    blind = an_oven(instrument=None)
    facts: list[Fact] = [FireLit(at=MORNING, aim_c=155.0), FireOut(at=MORNING + hours(5.4))]
    unread = Belief.fresh(blind, MORNING, MILD, members=40).carried(facts, MORNING + hours(6), MILD)
    read = fresh().carried(a_first_fire(), MORNING + hours(6), MILD)

    def width(belief: Belief) -> float:
        return belief.water_left_l.high - belief.water_left_l.low

    assert width(unread) > width(read)


def test_silence_widens_the_belief_upward() -> None:
    facts = list(a_first_fire())
    gone = [fact for fact in facts if not MORNING + hours(2) < fact.at < MORNING + hours(4.5)]
    silent = Unwatched(at=MORNING + hours(2.1), until=MORNING + hours(4.4))
    index = next(i for i, fact in enumerate(gone) if fact.at > silent.at)
    watched = fresh().carried(gone, MORNING + hours(8), MILD)
    unwatched = fresh().carried([*gone[:index], silent, *gone[index:]], MORNING + hours(8), MILD)
    assert unwatched.steam_share() > watched.steam_share()


def test_wood_brings_a_fire_back_and_without_it_the_dome_cools() -> None:
    facts = a_first_fire()[:6]
    lit = fresh().carried(facts, facts[-1].at, MILD)
    later = facts[-1].at + timedelta(minutes=60)
    left = lit.carried([], later, MILD)
    fed = lit.carried([WoodPut(at=facts[-1].at + timedelta(minutes=5))], later, MILD)
    assert left.surface_c().mid < lit.surface_c().mid
    assert fed.surface_c().mid > left.surface_c().mid
    more = lit.carried([WoodPut(at=facts[-1].at + timedelta(minutes=5), kg=8.0)], later, MILD)
    assert more.surface_c().mid > left.surface_c().mid


def test_only_the_crown_read_leaves_the_sides_unsure() -> None:
    facts = list(a_first_fire())
    belief = fresh().carried(facts[:8], facts[7].at, MILD)
    top, side = belief.surface_c("top"), belief.surface_c("side")
    assert side.mid < top.mid
    assert side.high - side.low > top.high - top.low
    told = facts[7].model_copy(update={"side_c": (120.0, 131.0)})
    read = fresh().carried([*facts[:7], told], told.at, MILD)
    assert read.surface_c("side").mid == pytest.approx(120.0, abs=2.0)


def test_a_cold_morning_says_that_the_door_leaks() -> None:
    belief = after_first_fire(fresh(members=100), 20.0)
    usual = belief.door_loss.mid
    low = belief.surface_c().low
    told = belief.carried([SurfaceRead(at=belief.at, top_c=low - 3.0)], belief.at, MILD)
    assert told.door_loss.mid > usual
    high = belief.surface_c().high
    told = belief.carried([SurfaceRead(at=belief.at, top_c=high + 3.0)], belief.at, MILD)
    assert told.door_loss.mid < usual


def test_a_morning_reading_that_nobody_foresaw_moves_little() -> None:
    belief = after_first_fire(fresh(members=100), 20.0)
    told = belief.carried([SurfaceRead(at=belief.at, top_c=240.0)], belief.at, MILD)
    spread = belief.door_loss.high - belief.door_loss.low
    assert told.door_loss.high - told.door_loss.low > 0.4 * spread


def test_more_was_reached_than_meant_counts_as_what_was_meant() -> None:
    facts: list[Fact] = [
        FireLit(at=MORNING, aim_c=155.0),
        SurfaceRead(at=MORNING + hours(1), top_c=120.0),
        SurfaceRead(at=MORNING + hours(2), top_c=230.0),
        FireOut(at=MORNING + hours(3)),
    ]
    assert fresh().carried(facts, MORNING + hours(4), MILD).present.reached_c == 155.0
    short: list[Fact] = [facts[0], facts[1], FireOut(at=MORNING + hours(2))]
    assert fresh().carried(short, MORNING + hours(4), MILD).present.reached_c == 120.0


def test_a_soaking_wets_the_shell_and_takes_a_step_back() -> None:
    belief = after_first_fire(fresh())
    soaked = belief.carried([Soaked(at=belief.at)], belief.at, MILD)
    assert (soaked.shell_water_l() >= belief.shell_water_l()).all()
    assert soaked.water_l(0.5) > belief.water_l(0.5) + 1.0
    before, after = belief.present.reached_c, soaked.present.reached_c
    assert before is not None
    assert after is not None
    assert after < before


def test_rain_wets_an_open_dome_and_none_under_a_roof() -> None:
    rain = Surroundings.daily(10.0, 5.0, 4.0, MORNING, 4, (40.0, 40.0, 40.0, 40.0))

    def wetted(cover: str) -> float:
        belief = fresh(an_oven(cover=cover))
        later = belief.carried([], MORNING + hours(96), rain)
        coat = belief.ensemble.drawn.mesh.coat
        gained = later.present.wall.water_kg_m3 - belief.present.wall.water_kg_m3
        return float(gained[:, coat].mean())

    assert wetted("open") > 20.0
    assert wetted("roof") <= 0.0


def test_dry_days_take_the_rain_out_of_the_coat() -> None:
    wet = fresh().carried([Soaked(at=MORNING)], MORNING, MILD)
    later = wet.carried([], MORNING + hours(240), MILD)
    coat = wet.ensemble.drawn.mesh.coat
    before = wet.present.wall.water_kg_m3[:, coat].mean()
    assert later.present.wall.water_kg_m3[:, coat].mean() < 0.8 * before
    assert (later.shell_water_l() == wet.shell_water_l()).all()


def test_fresh_mortar_in_the_shell_starts_all_over() -> None:
    belief = after_first_fire(fresh())
    mended = belief.carried([Rendered(at=belief.at, reaches_shell=True)], belief.at, MILD)
    assert mended.strength_ratio == 0.0
    assert mended.present.reached_c is None
    assert mended.water_l(0.5) > belief.water_l(0.5)
    coated = belief.carried([Rendered(at=belief.at)], belief.at, MILD)
    assert coated.strength_ratio == belief.strength_ratio


def test_a_kept_belief_comes_back_the_same() -> None:
    facts = a_first_fire()
    belief = fresh().carried(facts[:6], facts[5].at + timedelta(minutes=7), MILD)
    back = Belief.from_bytes(belief.to_bytes())
    one = belief.carried(facts[6:], MORNING + hours(20), MILD)
    two = back.carried(facts[6:], MORNING + hours(20), MILD)
    np.testing.assert_array_equal(one.present.wall.temperature_c, two.present.wall.temperature_c)
    assert one.water_left_l == two.water_left_l


@pytest.mark.parametrize("bytes_", [b"", b"nothing", b"PK\x03\x04broken"])
def test_what_is_no_belief_is_refused(bytes_: bytes) -> None:
    with pytest.raises(BeliefError):
        Belief.from_bytes(bytes_)


def test_a_journal_out_of_order_is_refused_and_so_is_the_future() -> None:
    late: list[Fact] = [FireLit(at=MORNING + hours(2)), DoorSet(at=MORNING + hours(1), on=True)]
    with pytest.raises(DisorderError, match="order of time"):
        fresh().carried(late, MORNING + hours(3), MILD)
    with pytest.raises(DisorderError, match="future"):
        fresh().carried([FireLit(at=MORNING + hours(2))], MORNING + hours(1), MILD)
    with pytest.raises(DisorderError, match="go back"):
        fresh().carried([], MORNING - hours(1), MILD)


def test_no_number_is_no_reading() -> None:
    with pytest.raises(ValueError, match="finite"):
        SurfaceRead(at=MORNING, top_c=float("nan"))
    with pytest.raises(ValueError, match="at least one"):
        SurfaceRead(at=MORNING)
