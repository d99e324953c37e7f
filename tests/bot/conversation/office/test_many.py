"""Orders for many: listed and asked once, an entry each, taken back as one."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import NoReturn

import pytest

from scheduling.choice import LookingAfter
from scheduling.happening import Chose, Happening
from scheduling.journal import Capped, Forbidden, Held, Order, Released, TakenBack
from storage.faults import DiskFull
from tests.bot.conversation.office.van import Van

NAMES = ("ivy", "max", "may", "rob")


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    for name in NAMES:
        town = "Leeds" if name in ("may", "rob") else "Kew"
        await van.client(name, place=f"51.5,-0.1,Europe/London,{town}")
    return van


async def holding(van: Van) -> list[str]:
    return [name for name in NAMES if (await van.record(name)).held is not None]


async def orders(van: Van) -> int:
    records = [await van.record(name) for name in NAMES]
    return sum(isinstance(one, Order) for record in records for one in record.entries)


@pytest.mark.parametrize(
    "text",
    ["hold all", "no fires for anybody today", "hold everybody, storm", "on hold", "stop all",
     "nobody fires tomorrow", "all: cap 200", "hold everyone in Leeds", "hold max and rob"],
)  # fmt: skip
async def test_what_is_for_all_or_for_nobody_never_falls_on_the_open_card(
    van: Van, text: str
) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", text)
    assert await orders(van) == 0


async def test_it_is_listed_whom_it_is_for_and_asked_once(van: Van) -> None:
    (asked,) = await van.say("beth", "hold everybody, storm")
    assert asked.startswith(
        "All fires on hold for four clients: shall I? The reason for all: “storm”. Nothing is "
        "changed yet."
    )
    assert all(name.capitalize() in asked for name in NAMES)
    (told,) = await van.press("beth", "Yes, for all 4")
    assert told.startswith("All fires on hold for four clients. That holds")
    assert await holding(van) == [*NAMES]
    for name in NAMES:
        (entry,) = (await van.record(name)).all_of(Held)
        assert (entry.by, entry.why) == ("beth", "storm")
        assert van.told(name)[-1].startswith("No fire until further word")
        assert "“storm”" in van.told(name)[-1]


async def test_a_plain_yes_is_enough_for_what_is_gentler(van: Van) -> None:
    await van.say("beth", "no fires for anybody this weekend, storm")
    await van.say("beth", "yes")
    for name in NAMES:
        record = await van.record(name)
        assert [(one.first, one.last) for one in record.all_of(Forbidden)] == [
            (date(2026, 5, 2), date(2026, 5, 3))
        ]
        assert record.promise[0].day > date(2026, 5, 3), "the days are laid anew at once"


async def test_those_of_a_town_a_state_or_a_day_are_meant_and_no_others(van: Van) -> None:
    await van.say("beth", "hold everyone in Leeds")
    await van.say("beth", "yes")
    assert await holding(van) == ["may", "rob"]
    (asked,) = await van.say("beth", "cap all on hold at 200")
    assert "two clients" in asked
    await van.say("beth", "list")
    await van.say("beth", "max")
    await van.say("beth", "not before 12 May")
    assert (await van.record("max")).not_before == date(2026, 5, 12), "a month is nobody’s name"
    (asked,) = await van.say("beth", "hold everybody with a fire tomorrow")
    assert "Ivy" in asked
    assert "Max" not in asked


async def test_all_but_some_leaves_them_out(van: Van) -> None:
    (asked,) = await van.say("beth", "hold all but ivy and rob")
    assert "two clients" in asked
    await van.say("beth", "yes")
    assert await holding(van) == ["max", "may"]


async def test_whom_it_fits_not_is_told(van: Van) -> None:
    (told,) = await van.say("beth", "hold everyone in Nowhere")
    assert told.startswith("No client is meant by that")
    (told,) = await van.say("beth", "looked at all")
    assert told.startswith("That can only be said of one client at a time.")


async def test_only_the_open_one_is_one_tap_away(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "hold all fires")
    await van.press("beth", "Only for Ivy")
    assert await holding(van) == ["ivy"]


async def test_who_is_on_hold_already_keeps_a_hold_of_their_own(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "hold, thin arch")
    (asked,) = await van.say("beth", "hold everybody, storm")
    assert "For one client more it would change nothing." in asked
    await van.say("beth", "yes")
    await van.say("beth", "take it back for all")
    await van.say("beth", "confirmed, it is over")
    assert await holding(van) == ["ivy"]


async def test_no_plan_gets_harder_by_a_cap_for_all(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "cap 150")
    await van.say("beth", "cap all at 200")
    (told,) = await van.say("beth", "yes")
    assert "For them it changed nothing: Ivy." in told
    assert [(await van.record(name)).lid_c for name in NAMES] == [150.0, 200.0, 200.0, 200.0]


async def test_it_is_taken_back_as_one_and_only_at_the_word(van: Van) -> None:
    await van.say("beth", "hold everybody, storm")
    await van.press("beth", "Yes, for all 4")
    (asked,) = await van.press("beth", "Take it back for all 4")
    assert asked.startswith("Taking back “all fires on hold” for four clients: shall I?")
    assert "type “confirmed”" in asked
    await van.say("beth", "yes")
    assert await holding(van) == [*NAMES]
    (told,) = await van.say("beth", "confirmed, the storm is over")
    assert told.startswith("Taking back “all fires on hold” for four clients. That is done")
    assert not await holding(van)
    for name in NAMES:
        (back,) = (await van.record(name)).all_of(TakenBack)
        assert (back.by, back.why, back.confirmed) == ("beth", "the storm is over", True)


async def test_a_reply_to_it_takes_it_back_days_later(van: Van) -> None:
    await van.say("beth", "hold everyone in Leeds")
    await van.press("beth", "Yes, for all 2")
    done = van.last("beth")
    await van.say("beth", "ivy")
    await van.wait(hours=40)
    await van.reply("beth", done, "take back")
    await van.say("beth", "confirmed")
    assert not await holding(van)


async def test_what_stays_is_named_when_many_are_taken_back(van: Van) -> None:
    await van.say("beth", "max")
    await van.say("beth", "no fire on Sunday")
    await van.say("beth", "hold everybody")
    await van.say("beth", "yes")
    await van.say("beth", "take back")
    (told,) = await van.say("beth", "confirmed")
    assert "Still standing there:\n– Max: no fire on Sun 3 May" in told
    assert "These orders of your builder still stand:" in van.told("max")[-1]
    assert "still stand" not in van.told("rob")[-1]


async def test_fires_are_allowed_again_only_at_the_word(van: Van) -> None:
    await van.say("beth", "hold everyone in Leeds")
    await van.say("beth", "yes")
    (asked,) = await van.say("beth", "release all")
    assert "two clients" in asked
    assert not any(one.startswith("Yes") for one in van.last("beth").labels)
    await van.say("beth", "confirmed: over")
    assert not await holding(van)
    assert (await van.record("may")).all_of(Released)


async def test_the_word_that_waits_is_forgotten_when_something_else_is_opened(van: Van) -> None:
    await van.say("beth", "hold all")
    await van.say("beth", "ivy")
    await van.say("beth", "yes")
    assert "nothing to confirm" in (await van.say("beth", "confirmed"))[0]
    assert await orders(van) == 0


async def test_a_second_tap_orders_nothing_twice(van: Van) -> None:
    await van.say("beth", "cap all at 200")
    await van.press("beth", "Yes, for all 4")
    await van.press("beth", "Yes, for all 4")
    assert [len((await van.record(name)).all_of(Capped)) for name in NAMES] == [1, 1, 1, 1]


async def test_an_old_question_is_asked_again(van: Van) -> None:
    await van.say("beth", "hold all")
    (asked,) = (await van.press("beth", "Yes, for all 4", after=timedelta(hours=3)))[-1:]
    assert "Nothing is changed yet." in asked
    assert not await holding(van)


async def test_who_has_gone_to_another_builder_is_not_ordered_for(van: Van) -> None:
    await van.person("elm", builder="team-elm")
    await van.say("beth", "hold all")
    moved = LookingAfter(builder="team-elm", name="Elm")
    await van.engine.happen("oven-rob", Chose("rob", moved))
    told = (await van.press("beth", "Yes, for all 4"))[-1]
    assert told.startswith("All fires on hold for three clients.")
    assert "Rob" not in told
    assert await holding(van) == ["ivy", "max", "may"]


async def test_a_button_for_ovens_of_another_team_answers_as_if_they_were_not_there(
    van: Van,
) -> None:
    await van.say("beth", "hold max and ivy")
    async with van.store.write() as unit:
        for name in NAMES:
            card = await unit.ovens.get(f"oven-{name}")
            assert card is not None
            await unit.ovens.put(card.model_copy(update={"builder": "another-team"}))
        await unit.commit()
    (told,) = await van.press("beth", "Yes, for all 2")
    assert "nothing here" in told
    assert await orders(van) == 0


async def test_afterwards_no_card_lies_open(van: Van) -> None:
    await van.say("beth", "ivy")
    await van.say("beth", "hold all")
    await van.press("beth", "Yes, for all 4")
    (asked,) = await van.say("beth", "cap 200")
    assert asked.startswith("For whom?")


async def test_a_storm_takes_nobodys_case_for_the_one_who_holds_all(van: Van) -> None:
    await van.lights("max")
    await van.say("max", "flames coming out of the flue")
    await van.say("beth", "hold everybody, storm")
    await van.say("beth", "yes")
    assert (await van.record("max")).case is None


async def test_a_crash_in_the_midst_of_it_leaves_nobody_out_and_orders_nobody_twice(
    van: Van,
) -> None:
    await van.say("beth", "cap all at 200")
    happen = van.engine.happen_each

    async def dies_half_way(happenings: Mapping[str, Happening]) -> NoReturn:
        await happen(dict([*happenings.items()][:2]))
        raise DiskFull("no room left")

    van.engine.happen_each = dies_half_way  # type: ignore[method-assign]
    with pytest.raises(DiskFull):
        await van.say("beth", "yes")
    van.open()
    await van.say("beth", "list", after=timedelta(hours=2))
    assert [len((await van.record(name)).all_of(Capped)) for name in NAMES] == [1, 1, 1, 1]
    done = [text for text in van.told("beth") if "That holds" in text]
    assert len(done) == 1


async def test_an_owner_who_tends_a_fire_of_their_own_orders_for_all_in_so_many_words(
    van: Van,
) -> None:
    await van.client("beths", builder=None, owner="beth")
    await van.say("beth", "no fires for anybody today")
    await van.say("beth", "yes")
    assert (await van.record("rob")).all_of(Forbidden)
    assert not (await van.record("beths")).all_of(Forbidden)
