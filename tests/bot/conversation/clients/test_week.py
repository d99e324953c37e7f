"""The week ahead of all clients: in the chat, as a picture, and as a calendar with an address."""

from datetime import date, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from bot.attachments import make
from bot.calendars.feed import CalendarFeed
from bot.conversation.links import Links
from bot.conversation.people.sweeping import Sweeping
from scheduling.ports import digest_of
from tests.bot.conversation.clients.yard import Yard

WEB = "https://fire.example/calendar"


@pytest.fixture
async def yard() -> Yard:
    yard = Yard()
    await yard.founded()
    return yard


def reached_from_the_web(yard: Yard) -> None:
    """As where a webhook is set."""
    yard.links = Links(calendars=WEB)
    yard.open()


def events(content: bytes) -> list[Any]:
    return list(Calendar.from_ical(content).walk("VEVENT"))


def summaries(content: bytes | None) -> list[str]:
    assert content is not None
    return sorted(str(one["summary"]) for one in events(content))


async def feed(yard: Yard, code: str) -> bytes | None:
    return await CalendarFeed(yard.store, yard.clock).read(code)


async def address(yard: Yard, label: str = "An address to subscribe to") -> str:
    """The code of a new address."""
    await yard.say("beth", "/week")
    await yard.press("beth", "For my calendar")
    (told,) = await yard.press("beth", label)
    link = next(word for word in told.split() if word.startswith(WEB))
    return link.removeprefix(f"{WEB}/").removesuffix(".ics")


async def test_all_fires_of_the_week_stand_in_one_message_by_day(yard: Yard) -> None:
    await yard.client("rosa")
    await yard.client("ivy")
    (told,) = await yard.say("beth", "week")
    promise = (await yard.record("rosa")).promise
    first = promise[0]
    assert f"Rosa (Kew), fire {first.number}" in told
    assert "Ivy (Kew), fire 1" in told
    days = {one.day for one in promise if one.day < yard.now.date() + timedelta(days=7)}
    assert told.count("Rosa (Kew)") == len(days)
    assert yard.last("beth").attachments == ("week.png",)


async def test_the_week_goes_by_the_builders_own_hours(yard: Yard) -> None:
    await yard.client("rosa")
    start = (await yard.record("rosa")).promise[0].start
    (london,) = await yard.say("beth", "week")
    await yard.say("beth", "my town is Twinton")
    await yard.press("beth", "Twinton, United States")
    (chicago,) = await yard.say("beth", "week")
    assert f"{start.hour + 1}:{start:%M} Rosa" in london
    assert f"{start.hour - 5}:{start:%M} Rosa" in chicago


async def test_weeks_are_turned_over_and_back(yard: Yard) -> None:
    await yard.client("rosa", days="5")
    (this,) = await yard.say("beth", "week")
    await yard.press("beth", "Week after ›")
    (back,) = await yard.press("beth", "‹ Week before")
    assert back == this


async def test_a_client_on_hold_is_named_and_has_no_fire(yard: Yard) -> None:
    await yard.client("rosa")
    await yard.say("beth", "rosa")
    await yard.say("beth", "hold")
    (told,) = await yard.say("beth", "week")
    assert told.startswith("No fire is planned")
    assert "On hold, so without a fire until you allow it: Rosa" in told


async def test_without_clients_it_says_how_to_begin(yard: Yard) -> None:
    (told,) = await yard.say("beth", "/week")
    assert told.startswith("No clients yet")


async def test_another_builders_clients_are_not_in_it(yard: Yard) -> None:
    await yard.client("rosa", builder="team-others")
    (told,) = await yard.say("beth", "week")
    assert "Rosa" not in told


async def test_where_the_web_does_not_reach_us_the_file_comes_with_the_reason(yard: Yard) -> None:
    await yard.client("rosa")
    await yard.say("beth", "week")
    (told,) = await yard.press("beth", "For my calendar")
    assert "There is no address to subscribe to" in told
    assert yard.last("beth").attachments == ("all-fires.ics",)
    assert "An address to subscribe to" not in yard.last("beth").labels
    file = await _file(yard)
    promised = {one.number for one in (await yard.record("rosa")).promise}
    assert len(events(file)) == len(promised)


async def test_an_address_opens_all_fires_and_follows_them(yard: Yard) -> None:
    reached_from_the_web(yard)
    await yard.client("rosa")
    code = await address(yard)
    before = await feed(yard, code)
    assert all(one.startswith("Rosa: fire") for one in summaries(before))
    await yard.client("ivy")
    assert any(one.startswith("Ivy: fire") for one in summaries(await feed(yard, code)))
    await yard.say("beth", "ivy")
    await yard.say("beth", "hold")
    assert await feed(yard, code) == before


async def test_the_same_fires_are_the_same_bytes_a_day_later(yard: Yard) -> None:
    reached_from_the_web(yard)
    await yard.client("rosa", days="6", wet_work="2026-04-30")
    code = await address(yard)
    before = await feed(yard, code)
    assert summaries(before)
    await yard.later(timedelta(hours=20))
    promise = (await yard.record("rosa")).promise
    assert promise[0].start > yard.now + timedelta(days=2)
    assert await feed(yard, code) == before


async def test_an_address_that_was_taken_back_opens_nothing(yard: Yard) -> None:
    reached_from_the_web(yard)
    code = await address(yard)
    assert await feed(yard, code) is not None
    (told,) = await yard.press("beth", "Take the address back")
    assert told.startswith("Taken back")
    assert await feed(yard, code) is None
    assert await feed(yard, "a-code-that-never-was-0123456789") is None


async def test_a_new_address_takes_the_place_of_the_one_before(yard: Yard) -> None:
    reached_from_the_web(yard)
    old = await address(yard)
    new = await address(yard, "A new address")
    assert await feed(yard, old) is None
    assert await feed(yard, new) is not None


async def test_whoever_leaves_the_team_loses_its_calendar(yard: Yard) -> None:
    reached_from_the_web(yard)
    await yard.client("rosa")
    await yard.team("carl")
    code = await address(yard)
    await yard.say("beth", "/leave team")
    await yard.press("beth", "Leave the team")
    assert await feed(yard, code) is None


async def test_an_address_is_kept_as_a_digest_and_gone_from_its_letter_once_sent(
    yard: Yard,
) -> None:
    reached_from_the_web(yard)
    code = await address(yard)
    assert len(code) >= 40
    await yard.later(timedelta(minutes=2))
    assert await Sweeping(yard.store, yard.clock).look() == 1
    async with yard.store.read() as unit:
        kept = await unit.calendars.of("beth")
        letter = await unit.outbox.last_sent("beth")
    assert kept is not None
    assert (kept.digest, kept.letter) == (digest_of(code), None)
    assert letter is not None
    assert code not in letter.parcel.model_dump_json()
    assert await feed(yard, code) is not None


async def test_a_calendar_says_no_more_than_name_town_and_fire(yard: Yard) -> None:
    reached_from_the_web(yard)
    await yard.client("rosa")
    await yard.say("rosa", "my number is 01632 960983")
    content = await feed(yard, await address(yard))
    assert content is not None
    text = content.decode()
    assert "960983" not in text
    assert "51.5" not in text
    assert {str(one.get("location")) for one in events(content)} == {"Kew"}


async def test_a_fire_of_the_old_rows_takes_the_whole_day(yard: Yard) -> None:
    reached_from_the_web(yard)
    await yard.client("rosa")
    async with yard.store.write() as unit:
        bare = [
            one.model_copy(update={"start": None, "session_h": None, "plateau_c": None})
            for one in await unit.promises.of("oven-rosa")
        ]
        await unit.promises.replace("oven-rosa", bare)
        await unit.commit()
    content = await feed(yard, await address(yard))
    assert content is not None
    assert all(type(one["dtstart"].dt) is date for one in events(content))


async def _file(yard: Yard) -> bytes:
    async with yard.store.read() as unit:
        letter = await unit.outbox.last_sent("beth")
    assert letter is not None
    (file,) = letter.parcel.attachments
    return make(file.kind, file.data)
