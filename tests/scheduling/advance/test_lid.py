"""A builder's cap is a lid: from the order on nothing said, asked for or shown passes it."""

from datetime import timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.papers.firing_log import firing_logs
from scheduling.alarm import AlarmName
from scheduling.choice import About, Command, CommandName, OrderName
from scheduling.firing.aim import Action
from scheduling.firing.response import first_guess_k_kg
from scheduling.firing.wood import piece_kg
from scheduling.meaning import Advice, FiringStatus, HowToLay, NowTold, Nudge, PlanTold
from scheduling.ports import OvenCard
from scheduling.record import Record
from tests.scheduling.advance.lid import Dome, promised_c
from tests.scheduling.road import Road, lit

BLIND = {About.INSTRUMENT: "none"}
CARD = OvenCard(id="rosa", name="Rosa", builder="beth", owners=("ana",))


class Played:
    """A fire that an obedient owner tends on an invented dome, and a builder who orders a lid."""

    def __init__(self, road: Road, *, reads: bool, gain: float, loss_per_h: float) -> None:
        self.road, self.reads = road, reads
        guess_k_kg = first_guess_k_kg(road.record.makeup)
        self.dome = Dome(road.now, gain * guess_k_kg, loss_per_h)
        self.lid_c: float | None = None
        self.from_message = 0
        session = road.record.session
        if session is not None and session.aim is not None:
            self.dome.put_on(session.aim.lay_kg)

    def order(self, lid_c: float) -> None:
        self.from_message = len(self.road.said)
        self.road.orders(OrderName.CAP, value=lid_c, confirmed=True)
        self.lid_c = lid_c
        self.put_on_what_is_asked()

    def put_on_what_is_asked(self) -> None:
        asked = [
            one
            for one in self.road.heard
            if (isinstance(one, Advice) and one.action is Action.ADD)
            or (isinstance(one, Nudge) and one.kg)
        ]
        if not asked:
            return
        last = asked[-1]
        assert isinstance(last, Advice | Nudge)
        assert last.pieces is not None
        self.dome.put_on(last.pieces * piece_kg(last.piece_mm or last.aim.piece_mm))
        self.road.stokes(last.pieces)

    def tend(self, until_minutes: float) -> None:
        """Answer every nudge with what the dome reads, and put on what is asked for."""
        road, end = self.road, self.road.now + timedelta(minutes=until_minutes)
        while (due := road.alarms.get(AlarmName.NUDGE)) is not None and due <= end:
            road.until(max(due, road.now))
            self.dome.until(road.now)
            self.put_on_what_is_asked()
            if self.reads:
                road.wait(1)
                road.reads(round(self.dome.until(road.now)))
                self.put_on_what_is_asked()
            if road.alarms.get(AlarmName.NUDGE, end) <= road.now:
                break
        road.until(max(end, road.now))
        self.dome.until(road.now)

    def look_everywhere(self) -> None:
        for name in (CommandName.NOW, CommandName.PLAN, CommandName.DAYS, CommandName.PICTURE):
            self.road.press(Command(name=name))

    def assert_under(self) -> None:
        """Whatever was said since the order, and whatever the record shows now."""
        assert self.lid_c is not None
        for message in self.road.said[self.from_message :]:
            heights = list(promised_c(message.meaning))
            assert max(heights, default=0.0) <= self.lid_c + 0.05, message.meaning
        record = self.road.record
        assert max(promised_c(record.promise), default=0.0) <= self.lid_c + 0.05
        assert (record.card(CARD, self.road.now).aim_c or 0.0) <= self.lid_c
        if record.session is not None and record.session.aim is not None:
            assert record.session.aim.high_c <= self.lid_c + 0.05
            shown = firing_logs(record)[-1].shown
            assert max(promised_c(shown)) <= self.lid_c + 0.05


@settings(max_examples=18, derandomize=True, deadline=None)
@given(
    lid_c=st.integers(80, 300),
    after_minutes=st.integers(0, 240),
    reads=st.booleans(),
    gain=st.floats(0.6, 1.4),
    loss_per_h=st.floats(0.2, 0.6),
)
def test_from_the_order_on_nothing_that_is_said_or_shown_passes_the_lid(
    lid_c: int, after_minutes: int, reads: bool, gain: float, loss_per_h: float
) -> None:
    road = lit(None if reads else BLIND, builder="beth")
    fire = Played(road, reads=reads, gain=gain, loss_per_h=loss_per_h)
    fire.tend(after_minutes)
    before_c = fire.dome.peak_c
    fire.order(float(lid_c))
    fire.look_everywhere()
    fire.tend(150)
    fire.look_everywhere()
    fire.assert_under()
    road.until(road.now + timedelta(hours=20))
    fire.look_everywhere()
    fire.assert_under()
    if after_minutes == 0 and before_c < lid_c:
        # All its wood but the laying went on under the lid.
        assert fire.dome.peak_c <= lid_c


@settings(max_examples=15, derandomize=True, deadline=None)
@example(lid_c=80, reads=False, gain=1.25, loss_per_h=0.5)
@given(
    lid_c=st.integers(80, 160),
    reads=st.booleans(),
    gain=st.floats(0.6, 1.4),
    loss_per_h=st.floats(0.3, 0.6),
)
def test_a_fire_lit_under_a_lid_stays_below_it_though_the_dome_answers_strongly(
    lid_c: int, reads: bool, gain: float, loss_per_h: float
) -> None:
    road = Road().begin(None if reads else BLIND, builder="beth")
    ordered_at = len(road.said)
    road.orders(OrderName.CAP, value=float(lid_c))
    road.to_first_firing()
    if reads:
        road.reads(14)
    road.lights()
    fire = Played(road, reads=reads, gain=gain, loss_per_h=loss_per_h)
    fire.lid_c, fire.from_message = float(lid_c), ordered_at
    fire.tend(300)
    fire.assert_under()
    assert fire.dome.peak_c <= lid_c


def test_at_118_under_a_cap_of_120_no_wood_is_asked_for() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(90)
    road.orders(OrderName.CAP, value=120.0)
    road.until(road.alarms[AlarmName.NUDGE])
    ready = road.last(Nudge)
    assert not ready.ready_pieces or ready.ready_pieces * piece_kg(ready.aim.piece_mm) < 0.8
    road.reads(118)
    told = road.last(Advice)
    assert told.action is not Action.ADD
    assert told.aim.high_c == 120.0
    assert told.expect_c is None or told.expect_c[1] <= 120.0


def test_who_cannot_read_the_dome_is_asked_for_less_wood_from_the_order_on() -> None:
    free, capped = lit(BLIND, builder="beth"), lit(BLIND, builder="beth")
    capped.orders(OrderName.CAP, value=100.0)
    asked = []
    for road in (free, capped):
        fire = Played(road, reads=False, gain=1.0, loss_per_h=0.35)
        fire.tend(180)
        asked.append(sum(one.kg or 0.0 for one in road.all_said(Nudge)))
    assert asked[1] < 0.5 * asked[0]


def test_the_status_is_shown_anew_at_once_with_the_aim_under_the_lid() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(70)
    road.orders(OrderName.CAP, value=110.0)
    assert road.heard_of(FiringStatus)[-1].shown.aim.high_c == 110.0
    road.press(Command(name=CommandName.NOW))
    aim = road.last(NowTold).aim
    assert aim is not None
    assert aim.high_c == 110.0


def test_what_is_laid_under_a_lid_keeps_below_it_too() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=80.0)
    road.to_first_firing()
    road.reads(40)
    laid = road.last(HowToLay).aim
    dome = Dome(road.now, 1.4 * first_guess_k_kg(road.record.makeup), 0.35, top_c=40.0, burns_h=0.5)
    dome.put_on(laid.lay_kg)
    dome.until(road.now + timedelta(hours=2))
    assert laid.lay_kg > 0.0
    assert dome.peak_c <= 80.0


def test_a_dome_that_stands_at_its_lid_already_is_not_lit() -> None:
    road = Road().begin(builder="beth")
    road.orders(OrderName.CAP, value=80.0)
    road.to_first_firing()
    road.reads(70)
    assert not road.heard_of(HowToLay)


def test_a_lid_taken_back_gives_the_burning_fire_its_own_aim_again() -> None:
    road = lit(builder="beth")
    before = road.record.session
    road.orders(OrderName.CAP, value=100.0)
    road.orders(OrderName.CAP, value=None, confirmed=True)
    after = road.record.session
    assert before is not None
    assert after is not None
    assert after.aim == before.aim


def test_wood_that_went_on_before_the_order_counts_with_its_whole_weight() -> None:
    road = lit(builder="beth")
    road.wait(31)
    road.reads(60)
    road.stokes(3)
    session = road.record.session
    road.orders(OrderName.CAP, value=100.0)
    lowered = road.record.session
    assert session is not None
    assert lowered is not None
    assert lowered.lit_for == session.aim
    assert lowered.aim != session.aim


@pytest.mark.parametrize("minutes", [0, 45])
def test_with_the_wall_computed_the_lid_holds_as_well(minutes: int) -> None:
    road = Road(record=Record(members=12)).begin(builder="beth").to_first_firing()
    road.reads(14)
    road.lights()
    fire = Played(road, reads=True, gain=1.0, loss_per_h=0.4)
    fire.tend(minutes)
    fire.order(110.0)
    fire.look_everywhere()
    fire.tend(70)
    fire.assert_under()
    assert fire.road.all_said(PlanTold)
