from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduling.choice import About
from scheduling.hazard import Hazard
from scheduling.journal import ENTRY, Capped, TakenBack, Undone
from scheduling.ports import OvenCard
from scheduling.record import Phase, Record
from scheduling.record.expect import expectation
from scheduling.record.need import needs_of, phase_of
from scheduling.record.standing import Concern
from scheduling.remark import Expectation, Sign
from tests.scheduling.road import START, Road, fired, lit, stoking


def test_folding_a_journal_at_once_or_entry_by_entry_gives_the_same() -> None:
    road = fired(Road().begin(builder="beth"))
    step_by_step = Record(members=0)
    for entry in road.record.entries:
        step_by_step = step_by_step.applied(entry)
    whole = Record.folded(road.record.entries)
    assert step_by_step.facts == whole.facts
    assert step_by_step.sessions == whole.sessions
    assert step_by_step.promise == whole.promise
    assert step_by_step.hazards == whole.hazards


def test_every_entry_survives_being_written_down() -> None:
    road = fired(Road().begin(builder="beth"))
    for entry in road.record.entries:
        assert ENTRY.validate_json(ENTRY.dump_json(entry)) == entry


@settings(max_examples=20, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_an_undo_is_as_if_it_had_never_been_written(data: st.DataObject) -> None:
    road = stoking(lit(), 120, times=3)
    entries = road.record.entries
    seq = data.draw(st.integers(1, len(entries)))
    undone = road.record.applied(Undone(at=road.now, seqs=(seq,)))
    without = Record.folded(tuple(e for i, e in enumerate(entries, 1) if i != seq))
    assert undone.facts == without.facts
    assert undone.sessions == without.sessions
    assert undone.promise == without.promise


def test_only_an_order_can_be_taken_back() -> None:
    road = Road().begin(builder="beth")
    taken = road.record.applied(TakenBack(at=road.now, by="beth", seq=2))
    assert taken.facts[:-1] == road.record.facts
    capped = road.record.applied(Capped(at=road.now, by="beth", cap_c=200.0))
    back = capped.applied(TakenBack(at=road.now, by="beth", seq=len(capped.entries)))
    assert not back.all_of(Capped)


def test_the_card_tells_how_it_stands_and_who_needs_whom() -> None:
    card = OvenCard(id="o1", name="?")
    road = lit(builder="beth")
    road.endangered(Hazard.POPPING)
    fresh = road.record.card(card, road.now)
    assert fresh.state == Phase.EMBERS
    assert fresh.needs == Hazard.POPPING
    assert fresh.needs_since == road.now
    assert fresh.owners == ("ana",)
    assert fresh.place == "Kew"
    assert Record.empty(card).card(card, START).state == Phase.SET_UP


def test_the_most_pressing_need_comes_first() -> None:
    road = lit(builder="beth")
    road.endangered(Hazard.POPPING)
    road.endangered(Hazard.UNWELL)
    assert [one.what for one in needs_of(road.record, road.now)][:2] == [
        Hazard.UNWELL,
        Hazard.POPPING,
    ]


def test_an_instrument_too_small_is_a_need() -> None:
    road = Road().begin({About.INSTRUMENT: "330"})
    assert [one.what for one in needs_of(road.record, road.now)] == [Concern.INSTRUMENT]


def test_what_an_answer_most_likely_is_follows_the_open_question() -> None:
    road = Road().begin()
    assert expectation(road.record, road.now) is Expectation.NOTHING
    road.until(road.alarms[min(road.alarms, key=lambda name: road.alarms[name])])
    assert expectation(road.record, road.now) is Expectation.YES_NO
    road.say(Sign(kind="yes"))
    road.until(road.record.promise[0].start)
    assert expectation(road.record, road.now) is Expectation.READING
    road.reads(14)
    assert expectation(road.record, road.now) is Expectation.LIT
    road.lights()
    assert expectation(road.record, road.now) is Expectation.READING


def test_phases_follow_one_another() -> None:
    road = Road().begin()
    seen = [phase_of(road.record, road.now)]
    road.until(road.record.promise[0].start)
    seen.append(phase_of(road.record, road.now))
    road.reads(14)
    road.lights()
    seen.append(phase_of(road.record, road.now))
    stoking(road, 152)
    seen.append(phase_of(road.record, road.now))
    road.shuts_door()
    seen.append(phase_of(road.record, road.now))
    assert seen == [Phase.WAITING, Phase.FIRING_DAY, Phase.LIT, Phase.EMBERS, Phase.WAITING]


def test_the_kept_ensemble_outlives_entries_that_take_nothing_out() -> None:
    road = lit()
    kept = Record(road.record.entries[:-1]).believing(None)
    after = kept.applied(road.record.entries[-1])
    assert after.believed_seq == len(road.record.entries) - 1
    assert after.applied(Undone(at=road.now, seqs=(3,))).believed_seq == 0
