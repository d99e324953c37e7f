"""Telegram's updates become what the conversation understands, or nothing."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.channels.telegram.translation import OLDEST, chat_of, incoming
from bot.conversation.incoming import TEXT_LIMIT, Incoming, SharedContact, Slash
from scheduling.choice import CommandName
from scheduling.ports import InboxRow
from tests.botapi import updates

NOW = datetime(2026, 5, 13, 9, 0, tzinfo=UTC)


def read(update: dict[str, Any]) -> Incoming | None:
    """As it comes back from the inbox: through JSON."""
    stored = json.loads(json.dumps({"update_id": 1, **update}))
    return incoming(InboxRow("telegram", "1", chat_of(stored), "", NOW), stored)


def read_or_reason(update: dict[str, Any]) -> Incoming | str | None:
    try:
        return read(update)
    except ValueError as error:
        return str(error)


def said(text: str) -> Incoming:
    told = read(updates.message(7, 3, {"text": text}))
    assert told is not None
    return told


def test_a_text_comes_with_its_chat_sender_message_and_time() -> None:
    told = said("top 152")
    assert (told.chat, told.sender_name, told.message, told.text) == ("7", "Ana", "3", "top 152")
    assert told.sent_at.tzinfo is UTC


def test_a_command_of_ours_is_told_from_words() -> None:
    assert said("/start  ABC-1").command == Slash(CommandName.START, "ABC-1")
    assert said("/now@stokewatchbot").command == Slash(CommandName.NOW)
    assert said("/lightning").command is None
    assert said("now").command is None


def test_a_reply_names_the_message_that_it_answers() -> None:
    answered = {"message_id": 2, "date": 0, "chat": updates.chat_of(7), "text": "Max: silent"}
    told = read(updates.message(7, 3, {"text": "hold", "reply_to_message": answered}))
    assert told is not None
    assert (told.text, told.message, told.answering) == ("hold", "3", "2")
    assert said("hold").answering is None


def test_an_edited_message_amends_the_one_of_that_number() -> None:
    told = read(updates.edited(7, 3, "top 125"))
    assert told is not None
    assert (told.edited, told.message, told.text) == (True, "3", "top 125")


def test_an_edited_number_is_no_newer_than_the_message_it_stands_in() -> None:
    update = updates.edited(7, 3, "62")
    first_sent = NOW - timedelta(minutes=40)
    update["edited_message"]["date"] = int(first_sent.timestamp())
    update["edited_message"]["edit_date"] = int(NOW.timestamp())
    told = read(update)
    assert told is not None
    assert told.sent_at == first_sent


def document(**told: Any) -> Incoming | None:
    file = {"file_id": "f9", "file_name": "our-ways.toml", "file_size": 800} | told
    return read(updates.message(7, 3, {"document": file}))


def test_a_small_text_file_is_handed_on_by_its_reference() -> None:
    told = document()
    assert told is not None
    assert (told.file, told.unread) == ("telegram:f9", None)


@pytest.mark.parametrize(
    "told",
    [
        {"file_size": 900_000},
        {"file_name": "oven.pdf", "mime_type": "application/pdf"},
        {"file_name": None},
    ],
)
def test_any_other_document_is_only_known_to_be_one(told: dict[str, Any]) -> None:
    sent = document(**told)
    assert sent is not None
    assert (sent.file, sent.unread) == (None, "document")


def test_a_press_brings_the_button_s_key() -> None:
    told = read(updates.pressed(7, 3, "Stoke now", "k-1", "q1"))
    assert told is not None
    assert (told.press, told.chat, told.sent_at) == ("k-1", "7", NOW)


def test_a_photo_brings_its_largest_size_and_its_caption() -> None:
    told = read(updates.message(7, 3, updates.photo("F1", "a crack?")))
    assert told is not None
    assert (told.photo, told.text) == ("telegram:F1", "a crack?")


def test_a_shared_place_is_latitude_and_longitude() -> None:
    told = read(updates.message(7, 3, {"location": {"latitude": 52, "longitude": -1.5}}))
    assert told is not None
    assert told.location == (52.0, -1.5)


@pytest.mark.parametrize(("user", "own"), [(7, True), (8, False), (None, False)])
def test_a_shared_contact_brings_its_number_and_whether_it_is_their_own(
    user: int | None, own: bool
) -> None:
    contact = {"phone_number": "447700900123", "first_name": "Ana"}
    contact |= {} if user is None else {"user_id": user}  # type: ignore[dict-item]
    told = read(updates.message(7, 3, {"contact": contact}))
    assert told is not None
    assert told.contact == SharedContact("447700900123", own)
    assert told.unread is None


def test_blocking_and_coming_back_are_told() -> None:
    gone = read(updates.membership(7, "member", "kicked"))
    back = read(updates.membership(7, "kicked", "member"))
    assert gone is not None
    assert back is not None
    assert (gone.reached, back.reached) == (False, True)


def test_a_voice_message_is_named_as_what_cannot_be_read() -> None:
    voice = {"voice": {"file_id": "V", "file_unique_id": "v", "duration": 2}}
    told = read(updates.message(7, 3, voice))
    assert told is not None
    assert (told.unread, told.text) == ("voice", None)


def test_a_group_and_other_kinds_of_update_say_nothing() -> None:
    group = updates.message(-7, 3, {"text": "hello"})
    group["message"]["chat"]["type"] = "supergroup"
    assert read(group) is None
    assert read({"poll": {"id": "1"}}) is None
    assert read({"hologram": {"chat": {"id": 7}}}) is None


def test_odd_characters_are_made_harmless() -> None:
    assert said("top\x00 1\ud83552\x1b[2J").text == "top 1\ufffd52[2J"
    assert len(said("9" * 100_000).text or "") == TEXT_LIMIT


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["id", "chat", "from", "text", "date", "message", "type", "data", "x"]),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@settings(derandomize=True, max_examples=300)
@given(
    st.sampled_from(["message", "edited_message", "callback_query", "my_chat_member", "story"]),
    json_values,
)
def test_an_update_of_any_shape_is_read_or_refused_with_a_reason(kind: str, body: object) -> None:
    told = read_or_reason({kind: body})
    assert told is None or isinstance(told, Incoming) or told.startswith("not readable")


@settings(derandomize=True, max_examples=300)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            "text": st.text(),
            "photo": json_values,
            "location": json_values,
            "date": st.integers(),
            "caption": json_values,
            "chat": json_values,
        },
    )
)
def test_a_message_with_any_field_spoilt_is_read_or_refused(spoilt: dict[str, Any]) -> None:
    update = updates.message(7, 3, {"text": "hello"})
    update["message"].update(spoilt)
    told = read_or_reason(update)
    if isinstance(told, Incoming) and told.text is not None:
        told.text.encode()
        assert len(told.text) <= TEXT_LIMIT
    else:
        assert told is None or isinstance(told, Incoming) or told.startswith("not readable")


def test_a_field_of_the_wrong_kind_is_refused() -> None:
    update = updates.message(7, 3, {"text": 5})
    with pytest.raises(ValueError, match="not readable"):
        read(update)


@pytest.mark.parametrize("seconds", [0, 1, 1_000_000_000, int(NOW.timestamp()) - 400 * 86_400])
@pytest.mark.parametrize("kind", ["message", "edited_message"])
def test_a_date_that_cannot_be_is_taken_as_old_and_never_as_new(kind: str, seconds: int) -> None:
    update = updates.message(7, 3, {"text": "top 152"})
    told = read({kind: update["message"] | {"date": seconds}})
    assert told is not None
    assert told.sent_at == NOW - OLDEST


def test_a_date_still_to_come_is_the_moment_at_which_it_came() -> None:
    update = updates.message(7, 3, {"text": "top 152"})
    told = read({"message": update["message"] | {"date": 253402300799}})
    assert told is not None
    assert told.sent_at == NOW


def test_what_waited_a_day_for_us_keeps_its_date() -> None:
    sent = NOW - timedelta(hours=23)
    told = read(updates.message(7, 3, {"text": "top 152"}, at=sent))
    assert told is not None
    assert told.sent_at == sent
