"""Letters on their way to Telegram, over real HTTP to the local Bot API."""

from collections.abc import AsyncIterator, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from telegram import Bot
from telegram.request import HTTPXRequest

from bot.channels.markup import plain
from bot.channels.telegram.carrier import TelegramCarrier
from bot.channels.telegram.lanes import connections
from scheduling.choice import Confirm
from scheduling.outcome import Urgency
from scheduling.ports import Attachment, Letter, Parcel, Person
from scheduling.waking.carrying import Blocked, NotSent, Refused, Unknown
from tests.botapi import methods
from tests.botapi.faults import BadGateway, Cut, Fault, Garbage, Hang, Refusal, TooMany
from tests.botapi.server import TOKEN, BotApi

NOW = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)
ANA = Person(id="p1", channel="telegram", address="7", name="Ana")
PNG = b"\x89PNG\r\n\x1a\n" + bytes(40)
PICTURE = Attachment(kind="plan", name="plan.png")
PAPER = Attachment(kind="record", name="record.pdf")


def painter(kind: str, data: Mapping[str, object]) -> bytes:
    if kind == "broken":
        raise ZeroDivisionError
    return b"%PDF-1.7 " if kind == "record" else PNG + str(data).encode()


def letter(text: str = "Stoke now.", **parcel: Any) -> Letter:
    rows: tuple[tuple[str, ...], ...] = parcel.get("buttons", ())
    labels = [label for row in rows for label in row]
    chats: Mapping[str, str] = parcel.get("chats", {})
    choices = {label: Confirm(proposal=label) for label in labels if label not in chats}
    return Letter(
        "L1",
        "p1",
        "o1",
        Parcel(text=text, choices=choices, **parcel),
        Urgency.FIRE,
        NOW,
        NOW,
        button_keys={label: f"k{i}" for i, label in enumerate(labels) if label in choices},
    )


@pytest.fixture
async def api() -> AsyncIterator[BotApi]:
    async with BotApi() as server:
        server.chats.add(7)
        yield server


@pytest.fixture
async def carrier(api: BotApi) -> AsyncIterator[TelegramCarrier]:
    quick = HTTPXRequest(
        read_timeout=0.3,
        connect_timeout=0.3,
        media_write_timeout=0.3,
        httpx_kwargs=connections(4),
    )
    async with Bot(TOKEN, base_url=api.url, request=quick) as bot:
        yield TelegramCarrier(bot, painter)


async def test_a_letter_is_shown_with_its_markup_and_buttons(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    sent = await carrier.send(
        letter("<b>Stoke</b> while top < 150 & rising", buttons=(("Done", "Later"), ("Help",))), ANA
    )
    (shown,) = api.read(7)
    assert shown.text == "Stoke while top < 150 & rising"
    assert shown.buttons == (("Done", "Later"), ("Help",))
    assert shown.callback_data == {"Done": "k0", "Later": "k1", "Help": "k2"}
    assert sent.ref == str(shown.message)


CALL: dict[str, Any] = {
    "buttons": (("Take it",), ("Write to Rosa",)),
    "chats": {"Write to Rosa": "4711"},
}


async def test_a_chat_is_opened_by_a_link_and_sends_nothing_back(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter(**CALL), ANA)
    (call,) = api.called("sendMessage")
    assert isinstance(call, methods.SendMessage)
    assert call.reply_markup is not None
    ((take,), (write,)) = call.reply_markup.inline_keyboard
    assert (take.callback_data, take.url) == ("k0", None)
    assert (write.text, write.url, write.callback_data) == (
        "Write to Rosa", "tg://user?id=4711", None,
    )  # fmt: skip


async def test_where_privacy_forbids_the_link_the_words_and_the_other_buttons_arrive(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    api.fail("sendMessage", Refusal(400, "Bad Request: BUTTON_USER_PRIVACY_RESTRICTED"))
    await carrier.send(letter("Flames in the flue.", **CALL), ANA)
    (shown,) = api.read(7)
    assert (shown.text, shown.buttons) == ("Flames in the flue.", (("Take it",),))


async def test_a_picture_with_a_link_that_is_forbidden_is_shown_too(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    api.fail("sendPhoto", Refusal(400, "Bad Request: BUTTON_USER_PRIVACY_RESTRICTED"))
    await carrier.send(letter(attachments=(PICTURE,), **CALL), ANA)
    (shown,) = api.read(7)
    assert shown.buttons == (("Take it",),)


async def test_a_chat_of_somebody_forgotten_is_no_button(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter(**(CALL | {"chats": {"Write to Rosa": "–"}})), ANA)
    (shown,) = api.read(7)
    assert shown.buttons == (("Take it",),)


async def test_photos_of_several_people_say_whose_they_are(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    photos = tuple(
        Attachment(
            kind="photo", name="photo.jpg", data={"photo": f"telegram:F{n}"}, alt=f"From oven <{n}>"
        )
        for n in (1, 2)
    )
    await carrier.send(letter("Two clients need somebody now.", attachments=photos), ANA)
    told = [shown.text for shown in api.read(7)]
    assert told == ["Two clients need somebody now.", "From oven <1>", "From oven <2>"]


async def test_a_letter_in_a_slot_is_edited_in_place(api: BotApi, carrier: TelegramCarrier) -> None:
    first = await carrier.send(letter("Top 120"), ANA)
    again = await carrier.send(letter("Top 140"), ANA, first.ref)
    same = await carrier.send(letter("Top 140"), ANA, again.ref)
    (shown,) = api.read(7)
    assert (shown.text, shown.edits) == ("Top 140", 1)
    assert first.ref == again.ref == same.ref


async def test_a_pinned_letter_is_pinned_once_and_again_where_it_is_shown_anew(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    first = await carrier.send(letter("Top 120", pin=True), ANA)
    await carrier.send(letter("Top 140", pin=True), ANA, first.ref)
    assert len(api.called("pinChatMessage")) == 1
    api.shown.clear()
    await carrier.send(letter("Top 150", pin=True), ANA, first.ref)
    assert [(shown.text, shown.pinned) for shown in api.read(7)] == [("Top 150", True)]


async def test_a_slot_that_its_reader_deleted_is_shown_anew(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    first = await carrier.send(letter("Top 120"), ANA)
    api.shown.clear()
    again = await carrier.send(letter("Top 140"), ANA, first.ref)
    assert [shown.text for shown in api.read(7)] == ["Top 140"]
    assert again.ref != first.ref


async def test_a_picture_in_a_slot_is_replaced_in_place(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    first = await carrier.send(letter("Plan", attachments=(PICTURE,)), ANA)
    newer = PICTURE.model_copy(update={"data": {"day": 2}})
    again = await carrier.send(letter("Plan, day 2", attachments=(newer,)), ANA, first.ref)
    (shown,) = api.read(7)
    assert first.ref == again.ref
    assert shown.text == "Plan, day 2"
    assert isinstance(shown.file, methods.Upload)
    assert b"day" in shown.file.content


async def test_a_slot_that_turns_from_words_to_a_picture_is_shown_anew(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    first = await carrier.send(letter("Plan"), ANA)
    await carrier.send(letter("Plan", attachments=(PICTURE,)), ANA, first.ref)
    assert len(api.read(7)) == 2


async def test_a_pinned_letter_is_pinned_and_a_missing_pin_is_no_fault(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter("Plan", pin=True), ANA)
    api.fail("pinChatMessage", Refusal(400, "Bad Request: not enough rights"))
    await carrier.send(letter("Other", pin=True), ANA)
    assert [shown.pinned for shown in api.read(7)] == [True, False]


async def test_one_picture_and_a_short_text_are_one_message(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter("Your plan", attachments=(PICTURE,), buttons=(("Fine",),)), ANA)
    (shown,) = api.read(7)
    assert shown.text == "Your plan"
    assert shown.buttons == (("Fine",),)
    assert isinstance(shown.file, methods.Upload)


async def test_a_text_too_long_for_a_caption_goes_before_its_picture(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter("word " * 300, attachments=(PICTURE, PAPER)), ANA)
    text, picture, paper = api.read(7)
    assert text.file is None
    assert isinstance(picture.file, methods.Upload)
    assert isinstance(paper.file, methods.Upload)
    assert paper.file.name == "record.pdf"


async def test_a_text_too_long_for_one_message_is_told_in_several(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    await carrier.send(letter("one line of it\n" * 600, buttons=(("Fine",),)), ANA)
    shown = api.read(7)
    assert len(shown) == 3
    assert "".join(part.text for part in shown).split() == ["one", "line", "of", "it"] * 600
    assert [part.buttons for part in shown] == [(), (), (("Fine",),)]


async def test_words_go_out_even_when_their_picture_cannot_be_drawn(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    broken = Attachment(kind="broken", name="x.png")
    await carrier.send(letter("Stoke now.", attachments=(broken,)), ANA)
    (shown,) = api.read(7)
    assert (shown.text, shown.file) == ("Stoke now.", None)


async def test_a_picture_that_somebody_sent_is_handed_on(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    photo = Attachment(kind="photo", name="crack.jpg", data={"photo": "telegram:F1"})
    await carrier.send(letter("A crack?", attachments=(photo,)), ANA)
    (shown,) = api.read(7)
    assert shown.file == "F1"


@pytest.mark.parametrize(
    ("fault", "raised", "shown"),
    [
        (TooMany(7), NotSent, 0),
        (Refusal(403, "Forbidden: bot was blocked by the user"), Blocked, 0),
        (Refusal(400, "Bad Request: chat not found"), Blocked, 0),
        (Refusal(400, "Bad Request: can't parse entities"), Refused, 0),
        (Refusal(413, "Request Entity Too Large"), Refused, 0),
        (Refusal(401, "Unauthorized"), NotSent, 0),
        (Refusal(500, "Internal Server Error"), Unknown, 0),
        (BadGateway(recorded=False), Unknown, 0),
        (BadGateway(recorded=True), Unknown, 1),
        (Hang(recorded=True), Unknown, 1),
        (Hang(recorded=False), Unknown, 0),
        (Cut(recorded=False), Unknown, 0),
        (Cut(recorded=True), Unknown, 1),
        (Garbage(), Unknown, 1),
    ],
    ids=repr,
)
async def test_each_fault_is_told_by_its_cause(
    api: BotApi, carrier: TelegramCarrier, fault: Fault, raised: type[Exception], shown: int
) -> None:
    api.fail("sendMessage", fault)
    with pytest.raises(raised) as error:
        await carrier.send(letter(), ANA)
    assert len(api.read(7)) == shown
    if isinstance(error.value, NotSent) and isinstance(fault, TooMany):
        assert error.value.retry_after == timedelta(seconds=7)


async def test_no_connection_means_not_sent() -> None:
    nobody = HTTPXRequest(connect_timeout=0.3)
    bot = Bot(TOKEN, base_url="http://127.0.0.1:1/bot", request=nobody)
    await nobody.initialize()
    with pytest.raises(NotSent):
        await TelegramCarrier(bot, painter).send(letter(), ANA)
    await nobody.shutdown()


async def test_a_letter_of_which_only_a_part_went_out_is_unknown(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    api.fail("sendDocument", Refusal(400, "Bad Request: wrong file"))
    with pytest.raises(Unknown, match="only a part"):
        await carrier.send(letter("Your record", attachments=(PAPER,)), ANA)
    assert [shown.text for shown in api.read(7)] == ["Your record"]


async def test_an_edit_that_nobody_knows_about_is_unknown(
    api: BotApi, carrier: TelegramCarrier
) -> None:
    first = await carrier.send(letter("Top 120"), ANA)
    api.fail("editMessageText", Hang(recorded=True))
    with pytest.raises(Unknown):
        await carrier.send(letter("Top 140"), ANA, first.ref)


@pytest.mark.parametrize("text", ["", "  \n ", "<b></b>"])
async def test_a_letter_without_words_is_refused(carrier: TelegramCarrier, text: str) -> None:
    with pytest.raises(Refused, match="nothing to say"):
        await carrier.send(letter(text), ANA)


async def test_a_button_without_a_key_is_refused(carrier: TelegramCarrier) -> None:
    bare = Letter("L1", "p1", None, Parcel(text="?", buttons=(("Yes",),)), Urgency.ANSWER, NOW, NOW)
    with pytest.raises(Refused, match="'Yes' has no key"):
        await carrier.send(bare, ANA)


@settings(
    derandomize=True,
    max_examples=60,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    deadline=None,
)
@given(
    st.lists(
        st.sampled_from(
            ["<b>", "</i>", "<i>", "</b>", "<", "&", "🔥" * 700, "x" * 1500, "\n", "\0", "\ud83d"]
        )
        | st.text(max_size=30),
        max_size=8,
    ).map("".join),
    st.booleans(),
)
async def test_no_text_passes_a_limit(
    api: BotApi, carrier: TelegramCarrier, text: str, with_picture: bool
) -> None:
    """The local server refuses what the documented limits refuse: nothing may be refused."""
    api.shown.clear()
    attachments = (PICTURE,) if with_picture else ()
    if attachments or plain(text).strip():
        await carrier.send(letter(text, attachments=attachments), ANA)
        assert api.read(7)
    else:
        with pytest.raises(Refused, match="nothing to say"):
            await carrier.send(letter(text), ANA)
