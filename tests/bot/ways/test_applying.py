"""Own ways on new and on running ovens."""

from datetime import UTC, datetime

from bot.ways.applying import taken_by
from bot.ways.reading import read_ways
from scheduling.choice import About, OrderName, SetUpAnswer
from scheduling.happening import Begun
from scheduling.journal import Constructed, LimitsSet, Worded
from scheduling.meaning import Eve, FiringDone, HowToLay, OrderTold, SetUpQuestion, Welcome
from scheduling.ports import Way
from scheduling.record.outlook import bounds_of, cure_of, limits_of
from tests.bot.ways.files import FULL
from tests.scheduling.road import ANA, ANSWERS, Road, fired

AT = datetime(2026, 5, 1, 8, tzinfo=UTC)


def way(text: str = FULL, version: int = 3) -> Way:
    body = read_ways(text).model_dump_json(exclude_none=True)
    return Way(builder="b", version=version, made_at=AT, made_by="beth", body=body)


def test_a_new_oven_begins_with_them_and_is_greeted_in_the_builders_words() -> None:
    road = Road()
    road.happen(Begun(ANA, "Dome", "b", ways=taken_by(way(), "beth", AT)))
    (welcome,) = road.heard_of(Welcome)
    assert welcome.own == "Welcome from all of us at the yard."
    limits = road.record.last_of(LimitsSet)
    assert limits is not None
    assert (limits.by, limits.why) == ("beth", "own ways, version 3: our castable is dense")
    assert limits.cure_floor_d == 28
    assert "our-mix" in road.record.own_constructions


def test_a_running_oven_takes_them_over_as_orders_that_name_the_builder() -> None:
    road = Road().begin(builder="b")
    before = bounds_of(road.record).climb_low_k_h
    road.happen(taken_by(way(), "beth", road.now, road.record))
    assert before == 100.0
    assert bounds_of(road.record).climb_low_k_h == 80.0
    order = road.record.last_of(LimitsSet)
    assert order is not None
    assert (order.by, order.at) == ("beth", road.now)
    (told,) = road.heard_of(OrderTold)
    assert told.what == "limits"
    assert road.record.last_of(Worded) is not None


def test_applied_again_there_is_nothing_left_to_take_over() -> None:
    road = Road().begin(builder="b")
    road.happen(taken_by(way(), "beth", road.now, road.record))
    again = taken_by(way(version=4), "beth", road.now, road.record)
    assert (again.limits, again.worded) == (None, None)
    count = len(road.record.entries)
    road.happen(again)
    assert len(road.record.entries) == count


def test_a_gentler_limit_of_the_ovens_own_stays() -> None:
    road = Road().begin(builder="b")
    road.orders(OrderName.LIMIT, field="climb_low_k_h", value=60.0)
    road.orders(OrderName.LIMIT, field="cure_floor_d", value=40.0)
    taken = taken_by(way(), "beth", road.now, road.record)
    assert taken.kept_gentler
    road.happen(taken)
    limits = limits_of(road.record)
    assert limits is not None
    assert (limits.climb_low_k_h, limits.cure_floor_d) == (60.0, 40)
    assert limits.final_c == 380.0


def test_a_cure_floor_moves_the_first_day() -> None:
    road = Road().begin({About.WET_WORK: "2026-04-20"}, builder="b")
    floor = way("[limits]\ncure_floor_d = 60\n")
    road.happen(taken_by(floor, "beth", road.now, road.record))
    cured = cure_of(road.record, road.now)
    assert cured is not None
    assert cured.ready_on is not None
    assert (cured.ready_on - cured.began).days >= 60


def test_a_construction_of_their_own_can_be_chosen_by_a_new_owner() -> None:
    taken = taken_by(way(), "beth", AT)
    (own,) = taken.constructed
    assert isinstance(own, Constructed)
    assert own.characteristic_strength_mpa == 12.0
    assert [layer.kind for layer in own.layers] == ["shell", "insulation", "render"]
    road = Road()
    given = ((About.CONSTRUCTION, "our-mix"),)
    road.happen(Begun(ANA, "Dome", "b", given=given, ways=taken))
    assert road.record.answers[About.CONSTRUCTION] == "our-mix"


def test_the_wall_of_an_own_construction_is_as_thick_as_was_said() -> None:
    road = Road()
    given = (*ANSWERS.items(), (About.CONSTRUCTION, "our-mix"), (About.THICKNESS, "60"))
    road.happen(Begun(ANA, "Dome", "b", given=given, ways=taken_by(way(), "beth", AT)))
    assert road.record.makeup is not None
    assert road.record.makeup.shell_thickness_mm == 60
    others = [one for one in road.record.makeup.layers if one.kind != "shell"]
    assert [one.thickness_mm for one in others] == [50, 40]


def test_an_owner_is_shown_the_builders_constructions_first_and_by_their_titles() -> None:
    road = Road()
    road.happen(Begun(ANA, "Dome", "b", ways=taken_by(way(), "beth", AT)))
    for about, value in (
        (About.UNITS, "C"), (About.PLACE, "51.5,-0.1,Europe/London,Kew"),
    ):  # fmt: skip
        road.press(SetUpAnswer(about=about, value=value))
    asked = road.last(SetUpQuestion)
    assert asked.about is About.CONSTRUCTION
    assert (asked.options[0].value, asked.options[0].title) == ("our-mix", "Our own mix")


def test_own_words_stand_beside_ours_from_the_eve_to_the_end_of_a_fire() -> None:
    road = Road().begin(builder="b")
    taken = taken_by(way(FULL[FULL.index("[words]") :]), "beth", road.now, road.record)
    road.happen(taken)
    fired(road.to_first_firing())
    assert road.last(Eve).own == ("Sheet off and folded",)
    assert road.last(HowToLay).own == ("Keep the dog inside.", "The flue cap comes off first.")
    assert road.last(FiringDone).own == ("Sheet back on once cold",)
