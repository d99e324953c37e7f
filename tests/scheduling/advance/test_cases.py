"""Cases, notes and talk as they follow from one oven's journal."""

from datetime import timedelta

from scheduling.alarm import AlarmName
from scheduling.choice import Casing, Jotting, OrderName, Talking
from scheduling.happening import Delivery
from scheduling.hazard import Hazard
from scheduling.journal import CaseClosed, CaseRung, CaseTaken, TalkSaid
from scheduling.meaning import Alert, BuilderSays, CaseTold, OwnerSays, TalkTold
from scheduling.outcome import BUILDER, TENDERS
from scheduling.ports import OvenCard
from scheduling.record.need import needs_of
from scheduling.record.standing import Concern
from scheduling.remark import Unavailable
from tests.scheduling.road import ANA, Road, lit

BETH, JO = "beth", "jo"


def takes(road: Road, by: str = BETH, what: str = "take") -> None:
    road.press(Casing.model_validate({"what": what, "name": by.capitalize()}), by=by)


def in_danger() -> Road:
    road = lit(builder="team")
    road.wait(31)
    road.endangered(Hazard.FLUE_FLAMES)
    return road


def test_a_danger_sets_the_next_look_at_whether_somebody_has_taken_it() -> None:
    road = in_danger()
    assert road.alarms[AlarmName.CASE] == road.now + timedelta(minutes=10)
    takes(road)
    road.wait(60)
    assert not road.entries(CaseRung)


def test_of_two_dangers_only_the_one_nobody_attends_to_is_rung_again() -> None:
    road = in_danger()
    takes(road)
    road.wait(5)
    road.endangered(Hazard.POPPING)
    road.wait(11)
    assert [one.needs for one in road.entries(CaseRung)] == ["popping"]


def test_a_danger_that_is_over_is_not_rung_again() -> None:
    road = lit(builder="team")
    road.until(road.alarms[AlarmName.NUDGE] + timedelta(minutes=26))
    assert [alert.needs for alert in road.all_said(Alert)] == ["silent"]
    road.reads(60)
    road.wait(20)
    assert not road.entries(CaseRung)


def test_a_case_ends_by_somebodys_word_and_not_by_the_clock() -> None:
    road = lit(builder="team")
    road.until(road.alarms[AlarmName.NUDGE] + timedelta(minutes=26))
    takes(road)
    road.wait(hours=9)
    assert not needs_of(road.record, road.now)
    assert not road.entries(CaseClosed)
    road.say()
    assert [one.why for one in road.entries(CaseClosed)] == ["over"]
    told = road.last(CaseTold)
    assert told.what == "over"


def test_there_is_no_case_where_nothing_is_wrong() -> None:
    road = Road().begin(builder="team")
    takes(road)
    assert road.last(CaseTold).what == "none"
    assert not road.entries(CaseTaken)


def test_what_another_has_is_told_and_only_taken_over_in_so_many_words() -> None:
    road = in_danger()
    takes(road)
    takes(road, JO)
    held = road.last(CaseTold)
    assert (held.what, held.by) == ("held", "Beth")
    takes(road, JO, "take_over")
    assert road.record.case is not None
    assert road.record.case.by == JO
    firsts = [m for m in road.said[road.mark :] if m.to == BUILDER and m.first]
    assert [m.first for m in firsts] == [(BETH,)]


def test_who_is_unreachable_is_told_of_at_once_only_while_a_fire_burns() -> None:
    calm = Road().begin(builder="team")
    calm.happen(Delivery(ANA, reached=False, why="blocked"))
    assert not calm.all_said(Alert)
    assert [one.what for one in needs_of(calm.record, calm.now)] == [Concern.UNDELIVERED]
    burning = lit(builder="team")
    burning.happen(Delivery(ANA, reached=False, why="blocked"))
    assert [alert.needs for alert in burning.all_said(Alert)] == ["undelivered"]


def test_a_proposal_left_open_for_half_a_day_needs_somebody_and_the_eve_does_not() -> None:
    road = Road().begin(builder="team")
    first = road.record.promise[0].day
    road.say(Unavailable(first=first, last=first))
    question = road.record.question
    assert question is not None
    assert question.proposal
    assert road.alarms[AlarmName.CASE] > question.at + timedelta(hours=12)
    assert Concern.WAITING not in [one.what for one in needs_of(road.record, road.now)]
    later = question.at + timedelta(hours=12, minutes=1)
    assert Concern.WAITING in [one.what for one in needs_of(road.record, later)]

    calm = Road().begin(builder="team")
    calm.until(calm.alarms[AlarmName.DAY_BEFORE])
    eve = calm.record.question
    assert eve is not None
    assert eve.what.startswith("eve:")
    assert not needs_of(calm.record, eve.at + timedelta(hours=13))


def test_the_card_names_who_has_the_case_and_ranks_by_need() -> None:
    road = in_danger()
    card = OvenCard(id="o", name="Rosa")
    assert road.record.card(card, road.now).rank < 100
    takes(road)
    fresh = road.record.card(card, road.now)
    assert (fresh.taken_by, fresh.taken_at) == (BETH, road.now)
    assert (fresh.firing, fresh.aim_c, fresh.last_c) == (1, 150.0, 14.0)


def test_words_pass_both_ways_while_a_talk_is_open_and_end_with_it() -> None:
    road = lit(builder="team")
    road.press(Talking(what="say", text="all well?", name="Beth"), by=BETH)
    said = next(m for m in road.said[road.mark :] if isinstance(m.meaning, BuilderSays))
    assert said.to == TENDERS
    road.wait(31)
    road.say(text="yes, all well")
    (heard,) = road.said[road.mark :]
    assert isinstance(heard.meaning, OwnerSays)
    assert (heard.to, heard.first) == (BUILDER, (BETH,))
    assert [one.side for one in road.entries(TalkSaid)] == ["builder", "owner"]
    road.press(Talking(what="close", name="Beth"), by=BETH)
    road.say(text="bye")
    assert len(road.entries(TalkSaid)) == 2


def test_a_talk_that_nobody_goes_on_with_falls_asleep() -> None:
    road = Road().begin(builder="team")
    road.press(Talking(what="say", text="hello", name="Beth"), by=BETH)
    road.wait(hours=2)
    road.say(text="hello?")
    assert not road.all_said(OwnerSays)
    road.press(Talking(what="open", name="Jo"), by=JO)
    assert road.last(TalkTold).what == "open"


def test_a_note_shown_goes_to_those_who_tend_and_another_to_nobody() -> None:
    road = Road().begin(builder="team")
    road.press(Jotting(text="thin", name="Beth"), by=BETH)
    assert not road.all_said(BuilderSays)
    road.press(Jotting(text="keep it dry", name="Beth", shown=True), by=BETH)
    assert road.last(BuilderSays).note


def test_an_owner_takes_back_their_own_words_and_never_an_order() -> None:
    road = Road().begin(builder="team")
    road.press(Casing(what="take"), by=ANA)
    road.orders(OrderName.HOLD)
    held = road.record.held
    road.undoes()
    assert road.record.held is held
