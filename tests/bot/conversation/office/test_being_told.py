"""Danger at once and to all until somebody takes it; the rest in one message in the morning."""

from datetime import UTC, datetime, timedelta

import pytest

from scheduling.happening import Delivery
from scheduling.journal import CaseClosed, CaseRung, CaseTaken
from tests.bot.conversation.office.van import Van

SATURDAY_SEVEN = datetime(2026, 5, 2, 6, 0, tzinfo=UTC)
"""Seven in the morning in London."""


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    await van.client("rosa")
    return van


def alerts(van: Van, who: str, words: str = "Flames in the flue") -> list[str]:
    return [text for text in van.told(who) if words in text]


async def in_danger(van: Van, name: str = "rosa") -> None:
    await van.lights(name)
    await van.say(name, "flames coming out of the flue")


async def test_a_danger_reaches_the_whole_team_at_once_even_at_night(van: Van) -> None:
    await van.lights("rosa")
    await van.until(datetime(2026, 5, 2, 22, 30, tzinfo=UTC))
    await van.say("rosa", "flames coming out of the flue", after=timedelta(0))
    assert len(alerts(van, "beth")) == len(alerts(van, "jo")) == 1


async def test_who_takes_it_has_it_and_the_others_see_so(van: Van) -> None:
    await in_danger(van)
    await van.press("jo", "I’ll take it")
    assert "Jo has taken Rosa (flames in the flue)." in van.told("beth")[-1]
    await van.wait(hours=3)
    assert len(alerts(van, "beth")) == 1
    assert "Jo has it." in (await van.say("beth", "list"))[0]
    (held,) = await van.press("beth", "I’ll take it")
    assert held.startswith("Jo has had Rosa")
    await van.press("beth", "Take it over")
    case = (await van.record("rosa")).case
    assert case is not None
    assert case.by == "beth"
    assert "Beth has taken Rosa" in van.told("jo")[-1]


async def test_where_nobody_takes_it_the_team_is_told_again_and_ever_more_seldom(van: Van) -> None:
    await in_danger(van)
    told = van.now
    await van.wait(hours=12)
    again = [one.at - told for one in van.heard if one.to == "beth" and "Nobody has" in one.text]
    assert [round(one / timedelta(minutes=1)) for one in again] == [10, 30, 70, 130, 190, 250]
    assert [one.step for one in (await van.record("rosa")).all_of(CaseRung)] == [1, 2, 3, 4, 5, 6]


async def test_a_new_danger_reaches_who_has_the_case_and_the_rest_only_if_they_do_nothing(
    van: Van,
) -> None:
    await in_danger(van)
    await van.press("jo", "I’ll take it")
    told = len(van.told("beth"))
    await van.say("rosa", "i feel dizzy and have a headache")
    assert alerts(van, "jo", "unwell")
    assert "You have them: the others are not told." in van.told("jo")[-1]
    await van.wait(11)
    assert len(alerts(van, "jo", "unwell")) == 2
    assert len(van.told("beth")) == told
    await van.wait(20)
    (late,) = alerts(van, "beth", "unwell")
    assert "Jo has them, and has not answered to this; told three times." in late
    assert "Take it over" in van.last("beth").labels


async def test_who_has_the_case_says_that_they_are_on_it_and_nobody_is_told_again(
    van: Van,
) -> None:
    await in_danger(van)
    await van.press("jo", "I’ll take it")
    told = len(van.told("beth"))
    await van.say("rosa", "i feel dizzy and have a headache")
    await van.press("jo", "I’m on it")
    heard = len(van.told("jo"))
    await van.wait(hours=3)
    assert len(van.told("jo")) == heard
    # That they have it is shown in place of the alert, to those who had one.
    assert not alerts(van, "beth", "unwell")
    assert len(van.told("beth")) <= told + 1


async def test_any_deed_takes_the_case(van: Van) -> None:
    await in_danger(van)
    await van.press("beth", "Hold their fires")
    taken = (await van.record("rosa")).last_of(CaseTaken)
    assert taken is not None
    assert (taken.by, taken.name) == ("beth", "Beth")
    await van.wait(hours=3)
    assert len(alerts(van, "jo")) == 1
    assert "Beth has taken Rosa" in van.told("jo")[-1]


async def test_a_case_handed_back_is_everybodys_again(van: Van) -> None:
    await in_danger(van)
    await van.press("jo", "I’ll take it")
    await van.press("jo", "Hand it back")
    assert "Jo has handed Rosa (flames in the flue) back" in van.told("beth")[-1]
    await van.wait(11)
    assert "Nobody has taken this yet" in van.told("beth")[-1]
    await van.press("beth", "I’ll take it")
    assert (await van.card("rosa")).taken_by == "beth"


async def test_a_case_ends_by_itself_when_nothing_is_wrong_any_more(van: Van) -> None:
    await van.lights("rosa")
    await van.wait(hours=1)
    await van.press("beth", "I’ll take it")
    await van.say("rosa", "45")
    assert "nothing is wrong any more" in van.told("beth")[-1]
    assert (await van.record("rosa")).last_of(CaseClosed) is not None
    assert (await van.card("rosa")).taken_by is None


async def test_many_dangers_at_one_moment_are_one_message(van: Van) -> None:
    names = [f"owner{number:02}" for number in range(5)]
    for name in names:
        await van.client(name)
    await van.until((await van.record("owner00")).promise[0].start)
    for text in ("14", "lit"):
        for name in names:
            await van.say(name, text, after=timedelta(0))
    before = len(van.told("beth"))
    await van.wait(hours=1)
    (told,) = [text for text in van.told("beth")[before:] if "lit and silent" in text]
    assert told.startswith("Five clients need somebody now.")


async def test_a_flood_is_gathered_and_each_client_opens_with_one_tap(van: Van) -> None:
    names = [f"owner{number:02}" for number in range(8)]
    for name in names:
        await van.client(name)
    for name in names:
        await van.lights(name)
    before = len(van.told("beth"))
    for name in names:
        await van.say(name, "flames coming out of the flue", after=timedelta(seconds=5))
    await van.wait(2)
    told = van.told("beth")[before:]
    assert len(told) == 4
    assert told[-1].startswith("Five clients need somebody now.")
    await van.press("beth", next(one for one in van.last("beth").labels if "Owner05" in one))
    assert van.last("beth").text.startswith("Owner05")


async def test_the_digest_comes_once_in_the_builders_own_morning(van: Van) -> None:
    await van.until(SATURDAY_SEVEN - timedelta(minutes=1))
    assert not van.told("beth")
    await van.until(SATURDAY_SEVEN)
    (digest,) = van.told("beth")
    assert digest.startswith("Good morning, Beth. Nobody needs you · 1 planned.")
    assert "One fire due today: Rosa." in digest
    await van.until(SATURDAY_SEVEN + timedelta(hours=3))
    assert len(van.told("beth")) == 1


async def test_a_digest_tells_what_is_no_danger_and_a_danger_is_not_saved_for_it(van: Van) -> None:
    await van.engine.happen("oven-rosa", Delivery("rosa", reached=False, why="blocked"))
    await van.wait(10)
    assert not van.told("beth")
    await van.until(SATURDAY_SEVEN)
    assert "1. Rosa (Kew): not reached for 2" in van.told("beth")[-1]


async def test_a_crash_neither_loses_nor_doubles_the_digest(van: Van) -> None:
    await van.until(SATURDAY_SEVEN - timedelta(hours=1))
    van.open()
    await van.until(SATURDAY_SEVEN + timedelta(minutes=5))
    van.open()
    await van.until(SATURDAY_SEVEN + timedelta(hours=2))
    assert len(van.told("beth")) == 1


async def test_a_digest_missed_while_nothing_ran_comes_late_and_is_right(van: Van) -> None:
    await van.engine.happen("oven-rosa", Delivery("rosa", reached=False, why="blocked"))
    await van.until(SATURDAY_SEVEN + timedelta(minutes=1))
    van.clock.move_to(SATURDAY_SEVEN + timedelta(hours=27))
    van.open()
    await van.until(van.now)
    assert len([text for text in van.told("beth") if text.startswith("Good morning")]) == 2


async def test_a_team_with_nothing_to_hear_hears_nothing() -> None:
    van = Van()
    await van.team("beth")
    await van.until(SATURDAY_SEVEN + timedelta(days=2))
    assert not van.told("beth")


async def test_who_owns_an_oven_alone_has_no_cases_and_no_alarm_for_them() -> None:
    van = Van()
    await van.client("rosa", builder=None)
    await in_danger(van)
    await van.wait(hours=5)
    assert not (await van.record("rosa")).all_of(CaseRung)
