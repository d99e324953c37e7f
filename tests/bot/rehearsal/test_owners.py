"""What invented owners do when they are written to."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from bot.rehearsal.air import PlainSky
from bot.rehearsal.owners import Kind, Owner
from bot.rehearsal.trueoven import TrueOven
from bot.rehearsal.truth import draw_truth
from scheduling.oven.makeup import Instrument
from scheduling.oven.preset import shipped
from tests.bot.rehearsal.scripted import Said

START = datetime(2026, 5, 26, 9, tzinfo=UTC)


def an_owner(kind: Kind = Kind.CAREFUL, seed: int = 3) -> Owner:
    make_up = shipped().make_up(
        "cast-dense",
        name="Test",
        inner_diameter_mm=800,
        wet_work_ended=date(2026, 5, 1),
        instrument=None if kind is Kind.NO_THERMOMETER else Instrument(max_c=550),
    )
    rng = np.random.default_rng(seed)
    return Owner("robin", kind, TrueOven(make_up, draw_truth(make_up, rng), PlainSky(), START), rng)


def hears(owner: Owner, text: str, *labels: str) -> tuple[str | None, str | None]:
    """What they say and press, having done all that they meant to do."""
    owner.hear(Said(owner.oven.now, "robin", text, (labels,)))
    said = pressed = None
    while owner.next_act() is not None:
        act = owner.take_act()
        owner.oven.run_until(max(act.at, owner.oven.now))
        said, pressed = act.hands(), act.press
    return said, pressed


def test_the_first_meeting_is_answered_from_what_they_were_told() -> None:
    owner = an_owner()
    assert hears(owner, "Which day was the last wet work finished?")[0] == "2026-05-01"
    assert hears(owner, "°C or °F?", "°C", "°F")[1] == "°C"
    assert hears(owner, "How high does your thermometer read?", "330", "550")[1] == "550"
    assert hears(owner, "Which days can you light fires?", "Any day", "Weekends")[1] == "Any day"


def test_without_a_thermometer_they_say_so() -> None:
    owner = an_owner(Kind.NO_THERMOMETER)
    question = "How high does your thermometer read?"
    assert hears(owner, question, "550", "None")[1] == "None"
    assert hears(owner, "What does the top of the dome read?")[0] == "i have no thermometer"


def test_a_fire_is_lit_stoked_and_shut_in_when_asked() -> None:
    owner = an_owner()
    hears(owner, "You can light it now with 1 kg of sticks.", "Lit")
    assert owner.fire_lit
    assert owner.oven.account.fires == 1
    before = owner.oven.account.wood_kg
    hears(owner, "Put on 0.5 kg.", "Put on")
    assert owner.oven.account.wood_kg == pytest.approx(before + 0.5)
    hears(owner, "Shut the door now.", "Door on")
    assert owner.oven.door_on


def test_nothing_is_lit_while_the_bot_says_not_yet() -> None:
    owner = an_owner()
    hears(owner, "Not yet: do not light it before Friday.")
    assert not owner.fire_lit


def test_no_wood_goes_on_when_none_is_wanted() -> None:
    owner = an_owner()
    hears(owner, "You can light it now with 1 kg of sticks.", "Lit")
    before = owner.oven.account.wood_kg
    hears(owner, "Add nothing. Let it fall.")
    assert owner.oven.account.wood_kg == before


def test_a_careless_owner_puts_more_on_than_asked() -> None:
    owner = an_owner(Kind.CARELESS)
    owner.fire_lit, owner.lit_at = True, START
    owner.oven.light(1.0)
    owner.oven.run_until(START + timedelta(minutes=20))
    before = owner.oven.account.wood_kg
    owner.temper = replace(owner.temper, ignores=0.0, goes_out=0.0)
    hears(owner, "Put on 0.5 kg.")
    assert owner.oven.account.wood_kg - before == pytest.approx(0.5 * 1.3)


def test_a_dead_fire_is_got_going_again() -> None:
    owner = an_owner()
    owner.fire_lit, owner.lit_at = True, START
    hears(owner, "Put on 1 kg.", "Put on")
    owner.oven.run_until(owner.oven.now + timedelta(minutes=20))
    assert owner.oven.alight


def test_they_take_pieces_as_thick_as_they_are_told() -> None:
    owner = an_owner()
    hears(owner, "You can light it now with three two-thumbs-thick pieces (about 0.8 kg).", "Lit")
    hears(owner, "Put on one wrist-thick piece (about 0.6 kg).", "Done")
    hears(owner, "Put on one thumb-thick stick (about 0.1 kg).", "Done")
    assert [one.size_m for one in owner.oven.fire.charges] == [0.045, 0.06, 0.025]


def test_they_look_in_and_say_so_when_no_wood_is_left() -> None:
    owner = an_owner()
    owner.fire_lit, owner.lit_at = True, START
    label = "No wood left, only embers"
    text = "Put on two thumb-thick sticks (about 0.25 kg), and see that they flame."
    assert hears(owner, text, "Done, it’s on", label)[1] == label
    owner.oven.stoke(1.0)
    assert hears(owner, text, "Done, it’s on", label)[1] == "Done, it’s on"
