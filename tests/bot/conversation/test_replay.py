"""JSON lines in, JSON lines out."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.conversation.chat import Chat
from bot.conversation.replay import LineError, answers, read_line
from tests.bot.conversation.road_fake import chat_fake

NINE = datetime(2026, 5, 13, 8, 0, tzinfo=UTC)
AT = "2026-05-13T09:10:00+01:00"


def open_chat() -> Chat:
    return chat_fake(NINE, [NINE + timedelta(minutes=5)])[0]


async def told(chat: Chat, **line: Any) -> list[dict[str, Any]]:
    return [json.loads(answer) async for answer in answers(chat, json.dumps(line))]


async def test_messages_come_in_the_offset_of_the_line_and_then_its_ready() -> None:
    nudge, heard, ready = await told(open_chat(), **{"at": AT, "from": "ana", "text": "plan"})
    assert nudge == {
        "at": "2026-05-13T09:05:00+01:00",
        "to": "ana",
        "text": "Stoke & read",
        "buttons": [["<3", "Stoked"]],
        "attachments": [],
    }
    assert (heard["at"], heard["text"], heard["attachments"]) == (AT, "heard plan", ["plan.png"])
    assert ready == {"ready": AT}


async def test_each_kind_of_line_is_acted_on() -> None:
    chat = open_chat()
    assert len(await told(chat, at=AT)) == 2
    for did in ({"press": "Stoked"}, {"location": [52.2, -1.5]}, {"photo": True, "text": "look"}):
        heard, ready = await told(chat, **{"at": AT, "from": "ana"}, **did)
        assert heard["text"].startswith("heard")
        assert ready == {"ready": AT}


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        ("{", "not JSON"),
        ("[]", "one object a line"),
        ("{}", '"at" is missing'),
        ('{"at": "yesterday"}', "at: "),
        ('{"at": "2026-05-13T09:10:00"}', "timezone"),
        (f'{{"at": "{AT}", "text": "lit"}}', "say who did it"),
        (f'{{"at": "{AT}", "from": "ana"}}', "say what they did"),
        (f'{{"at": "{AT}", "from": "ana", "text": "a", "press": "b"}}', "one line is one thing"),
        (f'{{"at": "{AT}", "from": "ana", "shout": "lit"}}', "shout is not known here"),
        (f'{{"at": "{AT}", "from": "ana", "location": [91, 0]}}', "less than or equal to 90"),
        (f'{{"at": "{AT}", "from": "ana", "press": "Nothing"}}', "no button 'Nothing'"),
        (f'{{"at": "{AT}", "from": "ana", "text": "fail"}}', "report it"),
        ('{"at": "2026-05-12T09:10:00+01:00"}', "time does not go back"),
    ],
)
async def test_a_bad_line_is_answered_with_what_to_do_and_the_next_one_works(
    raw: str, said: str
) -> None:
    chat = open_chat()
    *_, error, ready = [json.loads(answer) async for answer in answers(chat, raw)]
    assert said in error["error"]
    assert "ready" in ready
    *_, heard, ready = await told(chat, **{"at": AT, "from": "ana", "text": "lit"})
    assert heard["text"] == "heard lit"


@settings(derandomize=True, max_examples=200)
@given(st.text() | st.recursive(st.none() | st.integers() | st.text(), st.lists).map(json.dumps))
def test_anything_at_all_is_a_line_or_a_line_error(raw: str) -> None:
    try:
        assert read_line(raw).at.tzinfo
    except LineError as error:
        assert str(error)  # noqa: PT017 - either of the two is right
