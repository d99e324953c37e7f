"""Orders in words, notes and talk: gentler at once, less gentle only in so many words."""

from datetime import date, timedelta

import pytest

from scheduling.choice import LookingAfter
from scheduling.happening import Chose
from scheduling.journal import Capped, Forbidden, Held, Jotted, Moved, Released, TakenBack, TalkSaid
from scheduling.record.need import needs_of
from tests.bot.conversation.office.van import Van


@pytest.fixture
async def van() -> Van:
    van = Van()
    await van.team("beth", "jo")
    await van.client("rosa")
    return van


async def test_an_order_needs_an_open_card(van: Van) -> None:
    (text,) = await van.say("beth", "cap 250")
    assert text.startswith("For whom?")
    assert not (await van.record("rosa")).all_of(Capped)


async def test_a_typed_cap_holds_at_once_and_names_who_and_why(van: Van) -> None:
    await van.say("beth", "rosa")
    (text,) = await van.say("beth", "cap 250, thin crown")
    assert text.startswith("Rosa: no fire goes above 250 °C.")
    (capped,) = (await van.record("rosa")).all_of(Capped)
    assert (capped.by, capped.cap_c, capped.why) == ("beth", 250.0, "thin crown")
    assert "The reason given: “thin crown”" in van.told("rosa")[-1]


async def test_a_higher_cap_is_taken_only_with_the_word_and_the_record_says_so(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "cap 200")
    (asked,) = await van.say("beth", "cap 250")
    assert "Nothing is changed yet" in asked or "nothing is changed yet" in asked
    assert "from 200 °C to 250 °C" in asked
    await van.say("beth", "yes")
    assert [one.cap_c for one in (await van.record("rosa")).all_of(Capped)] == [200.0]
    await van.say("beth", "rosa")
    await van.say("beth", "confirmed, the crown is thicker than I thought")
    last = (await van.record("rosa")).all_of(Capped)[-1]
    assert (last.cap_c, last.confirmed) == (250.0, True)
    assert last.why == "the crown is thicker than I thought"


async def test_the_word_alone_confirms_nothing_and_grows_old(van: Van) -> None:
    await van.say("beth", "rosa")
    assert (await van.say("beth", "confirmed"))[0].startswith("There is nothing to confirm")
    await van.say("beth", "cap 200")
    await van.say("beth", "cap 250")
    assert "nothing to confirm" in (await van.say("beth", "confirmed", timedelta(minutes=20)))[0]
    assert len((await van.record("rosa")).all_of(Capped)) == 1


async def test_the_word_never_reaches_another_clients_oven(van: Van) -> None:
    await van.client("ruben")
    await van.say("beth", "rosa")
    await van.say("beth", "hold")
    await van.say("beth", "release")
    await van.say("beth", "ruben")
    assert "nothing to confirm" in (await van.say("beth", "confirmed"))[0]
    assert (await van.record("rosa")).held is not None


async def test_a_hold_by_one_tap_and_a_release_by_word(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.press("beth", "Hold their fires")
    assert (await van.card("rosa")).state == "held"
    await van.say("beth", "rosa")
    await van.press("beth", "Allow their fires again")
    assert (await van.card("rosa")).state == "held"
    await van.say("beth", "confirmed: gale is over")
    released = (await van.record("rosa")).all_of(Released)[-1]
    assert (released.by, released.why, released.confirmed) == ("beth", "gale is over", True)


async def test_days_are_closed_moved_and_opened_again_in_words(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "no fire on Saturday")
    await van.say("beth", "not before Tuesday")
    record = await van.record("rosa")
    assert record.all_of(Forbidden)[0].first == date(2026, 5, 2)
    assert record.all_of(Moved)[0].not_before == date(2026, 5, 5)
    assert record.promise[0].day >= date(2026, 5, 5)
    (asked,) = await van.say("beth", "allow Monday")
    assert "It takes this back: no fire before Tue 5 May." in asked
    await van.say("beth", "confirmed")
    record = await van.record("rosa")
    assert not record.all_of(Moved)
    assert record.all_of(Forbidden)


async def test_a_later_first_day_is_brought_forward_only_in_so_many_words(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "not before 12 May")
    (asked,) = await van.say("beth", "not before 6 May")
    assert "less gentle" in asked
    assert (await van.record("rosa")).not_before == date(2026, 5, 12)


async def test_what_cannot_be_read_is_asked_back_and_changes_nothing(van: Van) -> None:
    await van.say("beth", "rosa")
    before = len((await van.record("rosa")).entries)
    for typed, asked in (
        ("cap", "To what temperature?"),
        ("cap 200 or 250", "Which of the numbers?"),
        ("cap 900", "Is that °C or °F?"),
        ("no fire till", "Which days?"),
        ("no fire on Saturday, Sunday", "Which day is that?"),
        ("take back", "No order of yours holds"),
        ("looked at it", "Nothing stands open"),
        ("note:", "What is the note?"),
    ):
        (text,) = await van.say("beth", typed)
        assert text.startswith(asked), typed
        assert "nothing is changed" in text
    assert len((await van.record("rosa")).entries) == before


async def test_the_newest_order_is_taken_back_and_the_journal_keeps_both(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "cap 200")
    await van.press("beth", "Take the order back")
    assert (await van.record("rosa")).all_of(Capped)
    await van.say("beth", "confirmed, wrong client")
    record = await van.record("rosa")
    assert not record.all_of(Capped)
    assert any(isinstance(one, Capped) for one in record.entries)
    assert record.last_of(TakenBack) is not None


async def test_an_edited_message_orders_nothing(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "hold")
    held = (await van.record("rosa")).all_of(Held)
    assert len(held) == 1


async def test_a_note_is_kept_and_not_shown_unless_said(van: Van) -> None:
    await van.say("beth", "rosa")
    told = len(van.told("rosa"))
    (text,) = await van.say("beth", "note: Thin arch, told her twice")
    assert "They do not see it." in text
    assert len(van.told("rosa")) == told
    await van.say("beth", "note for them: keep the sheet on")
    assert "“keep the sheet on”" in van.told("rosa")[-1]
    notes = (await van.record("rosa")).all_of(Jotted)
    assert [(one.text, one.shown) for one in notes] == [
        ("Thin arch, told her twice", False),
        ("keep the sheet on", True),
    ]
    assert "Thin arch" in (await van.say("beth", "rosa"))[0]


async def test_in_a_talk_both_sides_see_who_speaks_and_the_bot_reads_along(van: Van) -> None:
    await van.lights("rosa")
    await van.say("beth", "rosa")
    await van.say("beth", "talk")
    await van.say("beth", "Hello Rosa, how does it burn?")
    assert "Beth, your builder, says: “Hello Rosa, how does it burn?”" in van.told("rosa")[-1]
    await van.say("rosa", "45", after=timedelta(minutes=30))
    assert "Rosa: “45”" in van.told("beth")[-1]
    record = await van.record("rosa")
    assert record.session is not None
    assert record.session.top_c == 45.0
    assert [one.side for one in record.all_of(TalkSaid)] == ["builder", "owner"]
    await van.press("beth", "End the talk")
    told = len(van.told("beth"))
    await van.say("rosa", "50", after=timedelta(minutes=2))
    assert len(van.told("beth")) == told


async def test_a_photo_goes_to_the_other_side_of_a_talk(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "talk")
    await van.photo("rosa", "is this a crack?")
    assert van.last("beth").attachments
    await van.photo("beth", "like this")
    assert van.last("rosa").attachments


async def test_an_order_typed_in_a_talk_is_asked_about(van: Van) -> None:
    await van.say("beth", "rosa")
    await van.say("beth", "talk")
    told = len(van.told("rosa"))
    (asked,) = await van.say("beth", "hold")
    assert "is that an order" in asked
    assert len(van.told("rosa")) == told
    await van.press("beth", "It is an order")
    assert (await van.record("rosa")).held is not None


async def test_two_of_a_team_do_not_talk_at_once(van: Van) -> None:
    for who in ("beth", "jo"):
        await van.say(who, "rosa")
        await van.say(who, "talk")
    assert "Beth is talking with Rosa" in van.told("jo")[-1]


async def test_a_builders_deeds_from_afar_are_no_sign_of_life_at_the_fire(van: Van) -> None:
    await van.lights("rosa")
    await van.wait(hours=1)
    assert any("nobody answers" in text for text in van.told("beth"))
    await van.say("beth", "rosa")
    for typed in ("note: rang, no answer", "cap 120", "tell them are you there?"):
        await van.say("beth", typed)
    record = await van.record("rosa")
    assert "silent" in [one.what for one in needs_of(record, van.now)]
    await van.say("rosa", "yes I am here")
    assert "silent" not in [one.what for one in needs_of(await van.record("rosa"), van.now)]


async def test_a_button_of_another_teams_client_answers_as_if_it_were_not_there(van: Van) -> None:
    await van.say("beth", "rosa")
    async with van.store.write() as unit:
        card = await unit.ovens.get("oven-rosa")
        assert card is not None
        await unit.ovens.put(card.model_copy(update={"builder": "another-team"}))
        await unit.commit()
    nothing = (await van.press("beth", "Hold their fires"))[0]
    assert "nothing here" in nothing
    assert await van.press("beth", "Talk to them") == [nothing]
    assert await van.press("beth", "Journal") == [nothing]
    assert (await van.record("rosa")).held is None


async def test_who_left_the_team_orders_no_more_not_even_with_an_old_button(van: Van) -> None:
    await van.say("beth", "rosa")
    beth = await van.chat_person("beth")
    async with van.store.write() as unit:
        await unit.people.put(beth.model_copy(update={"builder": None}))
        await unit.commit()
    assert "nothing here" in (await van.press("beth", "Hold their fires"))[0]
    assert (await van.record("rosa")).held is None


async def test_a_note_is_not_for_the_builder_who_comes_after(van: Van) -> None:
    await van.person("elm", builder="team-elm")
    await van.say("beth", "rosa")
    await van.say("beth", "note: argues about the bill")
    moved = LookingAfter(builder="team-elm", name="Elm")
    await van.engine.happen("oven-rosa", Chose("rosa", moved))
    for part in ("rosa", "journal"):
        await van.say("elm", part)
        assert "bill" not in van.last("elm").text
    assert (await van.say("beth", "rosa"))[0].startswith(("I find nobody", "No clients"))
