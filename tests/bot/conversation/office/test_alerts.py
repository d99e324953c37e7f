"""An alert can be acted on: who, where, in whose words, on what number, and in what chat."""

from datetime import UTC, datetime, timedelta

import pytest

from scheduling.hazard import Hazard
from scheduling.journal import Alerted, CaseRung
from tests.bot.conversation.office.van import Van

NIGHT = datetime(2026, 5, 2, 22, 30, tzinfo=UTC)
PHONE = "+44 7700 900123"


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    await van.person(
        "rosa", phone=PHONE, zone="Europe/London", quiet_from=None, quiet_until=None
    )  # fmt: skip
    await van.client("rosa")
    return van


async def test_an_alert_says_where_in_whose_words_and_on_what_number(van: Van) -> None:
    await van.lights("rosa")
    await van.say("rosa", "flames coming out of the flue")
    alert = van.last("beth")
    head, words, phone, *_ = alert.text.split("\n\n")
    assert head.startswith("Rosa (Kew): Flames in the flue. Ring them now")
    assert words == "Their words: “flames coming out of the flue”"
    assert phone == f"Ring Rosa: {PHONE}"
    assert "Write to Rosa" in alert.labels


async def test_told_again_it_keeps_words_photo_and_number(van: Van) -> None:
    await van.photo("rosa", "popping noises, bits are flaking off")
    first = van.last("beth")
    assert first.attachments == ("photo.jpg",)
    await van.wait(11)
    again = van.last("beth")
    assert "Nobody has taken this yet; told twice." in again.text
    assert "“popping noises, bits are flaking off”" in again.text
    assert PHONE in again.text
    assert again.attachments == ("photo.jpg",)


async def test_a_photo_sent_later_reaches_whoever_looks_after_it(van: Van) -> None:
    await van.say("rosa", "popping noises, bits are flaking off")
    await van.press("jo", "I’ll take it")
    told = len(van.told("beth"))
    await van.photo("rosa", "here it is")
    photo = van.last("jo")
    assert photo.text.startswith("Rosa (Kew): a photo of what was reported (popping or flaking).")
    assert photo.attachments == ("photo.jpg",)
    assert len(van.told("beth")) == told


async def test_a_photo_of_an_oven_with_nothing_open_is_for_nobody(van: Van) -> None:
    await van.photo("rosa", "isn’t she lovely")
    assert not van.told("beth")


async def test_gathered_alerts_lose_neither_words_nor_photos_nor_numbers(van: Van) -> None:
    names = [f"owner{number}" for number in range(6)]
    for name in names:
        await van.client(name)
    before = len(van.told("beth"))
    for name in [*names, "rosa"]:
        said = f"popping noises, bits are flaking off {'!' * (1 + names.count(name))}"
        van.heard += await van.chat.photo(name, van.now + timedelta(seconds=5), said)
    await van.wait(3)
    told = [one for one in van.heard if one.to == "beth"][before:]
    assert len(told) == 4
    assert told[-1].text.startswith("Four clients need somebody now.")
    assert sum(len(one.attachments) for one in told) == len(names) + 1
    assert sum(one.text.count("“popping noises") for one in told) == len(names) + 1
    assert PHONE in told[-1].text


async def test_a_line_of_many_says_whom_to_ring_now(van: Van) -> None:
    for number in range(3):
        await van.client(f"owner{number}")
        await van.say(f"owner{number}", "popping noises, bits are flaking off", timedelta(0))
    await van.say("rosa", "i feel dizzy and have a headache", timedelta(seconds=5))
    await van.client("tom")
    await van.say("tom", "popping noises, bits are flaking off", timedelta(seconds=5))
    await van.wait(2)
    first, second = van.last("beth").text.split("\n\n")[1].split("\n")
    assert first.startswith("1. Rosa (Kew): unwell, reported")
    assert first.endswith(f"Ring them now: {PHONE}")
    assert second.startswith("2. Tom (Kew)")
    assert "Ring them now" not in second


async def test_a_crack_in_an_unlit_oven_waits_for_the_morning_and_rings_nobody(van: Van) -> None:
    await van.until(NIGHT)
    before = len(van.told("beth"))
    told = await van.say("rosa", "there is an open crack, 3 mm wide", after=timedelta(0))
    assert len(van.told("beth")) == before
    assert "at night it waits for the morning" in " ".join(told)
    await van.until(NIGHT + timedelta(hours=8))
    (alert,) = [text for text in van.told("beth") if text.startswith("Rosa (Kew): An open crack")]
    assert "no fire burns" in alert
    await van.wait(hours=5)
    assert not (await van.record("rosa")).all_of(CaseRung)


async def test_the_same_crack_by_day_is_told_at_once(van: Van) -> None:
    await van.say("rosa", "there is an open crack, 3 mm wide")
    assert van.last("beth").text.startswith("Rosa (Kew): An open crack")


async def test_a_crack_at_a_lit_fire_passes_quiet_hours(van: Van) -> None:
    await van.lights("rosa")
    night = {"quiet_from": 0.0, "quiet_until": 24.0}
    await van.team("beth", **night)
    await van.say("rosa", "there is an open crack, 3 mm wide")
    assert van.last("beth").text.startswith("Rosa (Kew): An open crack")


async def test_a_danger_is_not_kept_until_the_morning_with_a_crack(van: Van) -> None:
    await van.client("max")
    await van.until(NIGHT)
    await van.say("max", "there is an open crack, 3 mm wide", after=timedelta(0))
    before = len(van.told("beth"))
    await van.say("rosa", "i feel dizzy and have a headache")
    (alert,) = van.told("beth")[before:]
    assert alert.startswith("Rosa (Kew): Somebody is unwell")


async def test_a_hairline_is_a_hairline_however_long(van: Van) -> None:
    await van.say("rosa", "Hairline, 10 cm long")
    assert not van.told("beth")
    assert not (await van.record("rosa")).hazards


async def test_lit_too_early_is_said_of_the_mortar_alone(van: Van) -> None:
    await van.client("carl", wet_work="2026-04-28")
    await van.say("carl", "the fire is lit")
    assert "Lit too early: the mortar is not strong enough yet." in van.last("beth").text
    await van.say("beth", "rosa")
    await van.say("beth", "hold")
    await van.say("rosa", "the fire is lit")
    alert = van.last("beth").text
    assert "Lit although you have put its fires on hold." in alert
    assert "too early" not in alert
    assert (await van.record("rosa")).last_of(Alerted) is not None
    (text,) = await van.say("beth", "needs")
    assert "lit too early" not in text


@pytest.mark.parametrize("hazard", [Hazard.BURNT, Hazard.UNWELL, Hazard.OUT_OF_CONTROL])
async def test_where_a_call_is_due_it_says_ring_them_now(van: Van, hazard: Hazard) -> None:
    said = {
        Hazard.BURNT: "he burnt his hand badly",
        Hazard.UNWELL: "i feel dizzy and have a headache",
        Hazard.OUT_OF_CONTROL: "the fire is out of control",
    }[hazard]
    await van.lights("rosa")
    await van.say("rosa", said)
    assert "Ring them now" in van.last("beth").text


async def test_whoever_takes_it_has_the_number_at_hand(van: Van) -> None:
    await van.say("rosa", "popping noises, bits are flaking off")
    (taken,) = await van.press("jo", "I’ll take it")
    assert f"Ring Rosa: {PHONE}" in taken
    assert "Write to Rosa" in van.last("jo").labels
