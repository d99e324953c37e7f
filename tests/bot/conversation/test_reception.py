"""Who is admitted, what is taken from them, and that nobody reaches what is not theirs."""

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.conversation.heard import Listener
from scheduling.choice import About, CommandName, Ordering, OrderName
from scheduling.choice import Command as Commanded
from scheduling.journal import Answered, Held, Reached
from scheduling.ports import Letter, Opens, Person
from scheduling.waking.carrying import Sent, Unknown
from tests.bot.conversation.desk import CODES, Desk

NOTHING = ["nothing_here"]


@pytest.fixture
def desk() -> Desk:
    return Desk()


@pytest.fixture
def telegram() -> Desk:
    return Desk(channel="telegram")


# ---------------------------------------------------------------- who comes in


async def test_where_only_one_can_speak_everybody_is_welcome(desk: Desk) -> None:
    told = await desk.say("ana", "hi")
    assert told == ["welcome", "set_up_question units"]


@pytest.mark.parametrize("words", ["/start", "/start nosuchcode-nosuchcode", "hello", "152"])
async def test_a_stranger_without_a_code_gets_the_one_answer(telegram: Desk, words: str) -> None:
    assert await telegram.say("eve", words) == NOTHING
    person = await telegram.person("eve")
    assert person is not None
    async with telegram.store.read() as unit:
        assert await unit.ovens.of_person(person.id) == ()


ODD_WORDS = (
    "152°/140°/138°",
    "42°C/41°C/40°C",
    "🔥" * 12,
    "\u202eabcdefghijklmnop",
    "e\u0301" * 12,
    "ａｂｃｄｅｆｇｈｉｊｋｌｍ",
    "４２４２４２４２４２４２",
)


@pytest.mark.parametrize("words", [*ODD_WORDS, *(f"/start {one}" for one in ODD_WORDS)])
async def test_a_word_that_no_code_can_be_is_read_as_any_other(telegram: Desk, words: str) -> None:
    assert await telegram.say("eve", words) == NOTHING


async def test_an_owner_is_heard_in_any_word(telegram: Desk) -> None:
    await telegram.say("ana", f"/start {CODES.owner}")
    told = [await telegram.say("ana", words) for words in ODD_WORDS]
    assert all(answer and answer[0] != "unheard_told" for answer in told)


def test_any_text_can_be_compared_with_the_first_run_codes() -> None:
    for word in (*ODD_WORDS, "\ud83d" * 12, "\x00" * 12):
        assert CODES.opens(word) is None
    assert CODES.opens(CODES.owner) is Opens.OVEN
    assert CODES.opens(CODES.builder) is Opens.MEMBER


async def test_the_first_run_code_opens_an_oven_without_a_builder(telegram: Desk) -> None:
    told = await telegram.say("ana", f"/start {CODES.owner}")
    assert told == ["welcome", "set_up_question units"]
    assert (await telegram.oven("ana")).builder is None


async def test_coming_again_with_the_code_goes_on_where_it_was(telegram: Desk) -> None:
    await telegram.say("ana", f"/start {CODES.owner}")
    await telegram.say("ana", "F")
    assert await telegram.say("ana", f"/start {CODES.owner}") == ["set_up_question place"]


# ---------------------------------------------------------------- whose is what


async def test_anothers_button_is_as_if_it_were_not_there(telegram: Desk) -> None:
    await telegram.say("ana", f"/start {CODES.owner}")
    key = telegram.listener.key_of("ana", "C")
    assert await telegram.press("eve", key) == NOTHING
    assert await telegram.press("eve", "no-such-key") == NOTHING
    assert not (await telegram.record("ana")).answers


async def test_a_builder_may_order_for_their_own_client_only(telegram: Desk) -> None:
    await telegram.founded("bea")
    await telegram.founded("eve")
    oven = await telegram.client("ana", "bea")
    bea, eve = await telegram.person("bea"), await telegram.person("eve")
    assert bea is not None
    assert eve is not None
    hold = Ordering(name=OrderName.HOLD, why="rain in the mortar")
    theirs = await telegram.button(bea.id, oven.id, hold)
    assert "order_taken hold" in await telegram.press("bea", theirs)
    assert (await telegram.record("ana")).last_of(Held) is not None
    foreign = await telegram.button(eve.id, oven.id, Commanded(name=CommandName.PLAN))
    assert (await telegram.press("eve", foreign))[-1:] == NOTHING


async def test_whoever_comes_is_the_named_builders_client() -> None:
    desk = Desk(builder="team-vic")
    await desk.say("ana", "hi")
    assert (await desk.oven("ana")).builder == "team-vic"


# ---------------------------------------------------------------- once, and in order


async def test_the_same_row_has_one_effect(desk: Desk) -> None:
    await desk.say("ana", "/start")
    typed = desk.incoming("ana", text="C")
    assert await desk.receive(typed) == ["set_up_question place"]
    await desk.reception.receive(typed)
    assert await desk.told("ana") == []
    assert len((await desk.record("ana")).all_of(Answered)) == 1


async def test_who_blocks_us_is_marked_and_who_comes_back_is_welcome(telegram: Desk) -> None:
    await telegram.say("ana", f"/start {CODES.owner}")
    await telegram.receive(telegram.incoming("ana", reached=False))
    ana = await telegram.person("ana")
    assert ana is not None
    assert ana.blocked
    told = (await telegram.record("ana")).last_of(Reached)
    assert told is not None
    assert not told.reached

    assert await telegram.say("ana", "C") == ["set_up_question place"]
    ana = await telegram.person("ana")
    assert ana is not None
    assert not ana.blocked
    assert (await telegram.record("ana")).unreached == ()


# ---------------------------------------------------------------- what they say


async def test_units_and_zone_are_the_persons_from_then_on(desk: Desk) -> None:
    await desk.say("ana", "/start")
    await desk.say("ana", "fahrenheit")
    await desk.say("ana", "Alderby")
    ana = await desk.person("ana")
    assert ana is not None
    assert (ana.unit, ana.zone) == ("F", "Europe/London")


async def test_first_words_that_say_more_are_heard_as_well(desk: Desk) -> None:
    told = await desk.say("ana", "i feel dizzy and have a headache")
    assert told[0] == "hazard_told"  # danger overtakes
    assert "welcome" in told


async def test_danger_is_heard_before_any_question_of_the_set_up(desk: Desk) -> None:
    await desk.say("ana", "/start")
    assert (await desk.say("ana", "flames coming out of the flue"))[0] == "hazard_told"
    assert not (await desk.record("ana")).answers


async def test_a_question_is_answered_and_the_set_up_waits(desk: Desk) -> None:
    await desk.say("ana", "/start")
    assert await desk.say("ana", "can i cook tonight?") == ["answer", "set_up_question units"]
    assert await desk.say("ana", "C") == ["set_up_question place"]


async def test_a_place_of_several_is_asked_back_with_all_of_them(desk: Desk) -> None:
    await desk.say("ana", "/start")
    await desk.say("ana", "C")
    assert await desk.say("ana", "Twinton") == ["set_up_question place"]
    await desk.press_label("ana", "Twinton, United States")
    assert (await desk.record("ana")).zone == "America/Chicago"


async def asked_for_wet_work(desk: Desk) -> None:
    for said in ("/start", "C"):
        await desk.say("ana", said)
    await desk.receive(desk.incoming("ana", location=(52.2, -1.5)))
    for said in ("its a brick one", "80 cm"):
        await desk.say("ana", said)


async def test_a_date_that_could_be_two_is_asked_back_with_both(desk: Desk) -> None:
    await asked_for_wet_work(desk)
    about = await desk.say("ana", "4/5/2026")
    assert about == ["set_up_question wet_work"]
    assert About.WET_WORK not in (await desk.record("ana")).answers
    await desk.press_label("ana", "2026-04-05")
    assert (await desk.record("ana")).answers[About.WET_WORK] == "2026-04-05"


async def test_a_shared_location_is_where_the_oven_stands(desk: Desk) -> None:
    await desk.say("ana", "/start")
    await desk.say("ana", "C")
    told = await desk.receive(desk.incoming("ana", location=(52.2, -1.5)))
    assert told == ["set_up_question construction"]


async def test_an_oven_does_not_stand_in_the_sea(desk: Desk) -> None:
    await desk.say("ana", "/start")
    await desk.say("ana", "C")
    told = await desk.receive(desk.incoming("ana", location=(-10.0, -1.5)))
    assert told == ["set_up_refused place", "set_up_question place"]


async def test_words_that_answer_nothing_are_asked_again(desk: Desk) -> None:
    await desk.say("ana", "/start")
    assert await desk.say("ana", "purple") == ["set_up_refused units", "set_up_question units"]


async def test_an_edited_answer_corrects_the_first(desk: Desk) -> None:
    await desk.set_up("ana")
    record = await desk.record("ana")
    size = next(e for e in record.all_of(Answered) if e.about is About.SIZE)
    assert size.key is not None
    message = size.key.rpartition("/")[2]
    edited = replace(desk.incoming("ana", text="90 cm", edited=True), message=message)
    assert (await desk.receive(edited))[0] == "set_up_noted size"
    assert (await desk.record("ana")).answers[About.SIZE] == "900"


async def test_one_tap_asks_an_answer_again_and_words_then_answer_it(desk: Desk) -> None:
    await desk.set_up("ana")
    assert (await desk.say("ana", "/settings size"))[-1] == "set_up_question size"
    assert (await desk.say("ana", "1 m"))[0] == "set_up_noted size"
    assert (await desk.record("ana")).answers[About.SIZE] == "1000"


async def test_after_the_set_up_words_are_about_the_fire(desk: Desk) -> None:
    await desk.set_up("ana")
    record = await desk.record("ana")
    assert record.makeup is not None
    told = await desk.say("ana", "raining here")
    assert told
    assert not any("set_up" in one for one in told)


async def test_take_that_back_under_an_older_message_takes_nothing_newer_back(desk: Desk) -> None:
    await desk.set_up("ana")
    person, oven = await desk.person("ana"), await desk.oven("ana")
    assert person is not None
    back = Commanded(name=CommandName.UNDO)
    older = await desk.button(person.id, oven.id, back)
    await desk.say("ana", "/settings size")
    await desk.say("ana", "1 m")
    newest = await desk.button(person.id, oven.id, back)
    assert await desk.press("ana", older) == ["stale_tap"]
    assert (await desk.record("ana")).answers[About.SIZE] == "1000"
    assert "undone_told" in (await desk.press("ana", newest))[0]
    assert (await desk.record("ana")).answers[About.SIZE] != "1000"


async def test_something_that_cannot_be_read_is_answered(desk: Desk) -> None:
    await desk.set_up("ana")
    told = await desk.receive(desk.incoming("ana", unread="voice"))
    assert told == ["not_understood"]


# ---------------------------------------------------------------- what may not have arrived


class Unheard:
    """Shows a letter, and never hears that it did."""

    def __init__(self, listener: Listener) -> None:
        self._listener = listener

    async def send(self, letter: Letter, person: Person, edit_ref: str | None = None) -> Sent:
        await self._listener.send(letter, person, edit_ref)
        raise Unknown("cut")


async def test_whoever_presses_a_button_has_its_letter_and_is_not_sent_it_again(
    desk: Desk,
) -> None:
    desk.dispatcher._carriers = {desk.channel: Unheard(desk.listener)}
    await desk.say("ana", "hi")
    desk.dispatcher._carriers = {desk.channel: desk.listener}
    told = await desk.press_label("ana", "C")
    desk.clock.move_to(desk.clock.now() + timedelta(minutes=10))
    told += await desk.told("ana")
    assert sorted(told) == ["again welcome", "set_up_question place"]
