"""The first firing by chat, from the cure to good night, with a house that is restarted in it."""

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.conversation.chat import Chat
from bot.conversation.heard import Heard
from bot.parts import shipped
from bot.wiring import open_chat

LONDON = ZoneInfo("Europe/London")
SET_UP = (
    "/start", "C", "52.2, -1.5", "Cast dome, thin", "600 mm", "2026-05-02", "roof",
    "steel, no flue",
    "550", "any day", "7-22", "just me",
)  # fmt: skip
READINGS = (16, 58, 82, 105, 126, 139, 146, 141, 147, 142, 148, 141, 147, 143, 148, 144, 147)


def told(heard: list[Heard]) -> str:
    return "\n---\n".join(one.text for one in heard)


async def set_up(chat: Chat) -> datetime:
    at = datetime(2026, 6, 10, 18, tzinfo=LONDON)
    for answer in SET_UP:
        await chat.say("ana", answer, at)
        at += timedelta(minutes=1)
    return at


async def until_asked(chat: Chat, words: str, at: datetime, latest: datetime) -> list[Heard]:
    """Let time pass until a message holds these words."""
    while True:
        heard = await chat.pass_time(at)
        if words in told(heard).lower():
            return heard
        due = chat.next_due()
        if due is None or at >= latest:
            break
        at = min(latest, max(at, due))
    raise AssertionError(f"{words!r} was not said by {latest}")


async def test_a_first_fire_is_led_from_the_evening_before_to_the_door(tmp_path: Path) -> None:
    url = f"sqlite+aiosqlite:///{tmp_path}/house.sqlite"
    chat = await open_chat(datetime(2026, 6, 10, 17, tzinfo=LONDON), shipped(), database_url=url)
    at = await set_up(chat)

    eve = await until_asked(chat, "still on for fire 1", at, at + timedelta(days=12))
    assert "Have ready" in told(eve)
    await chat.press("ana", "Yes, still on", chat.now + timedelta(minutes=2))

    morning = await until_asked(chat, "before fire 1", chat.now, chat.now + timedelta(days=2))
    assert morning[-1].labels
    laying = await chat.say("ana", f"top {READINGS[0]}", chat.now + timedelta(minutes=3))
    assert "Door off" in told(laying)
    lit = await chat.press("ana", "Lit", chat.now + timedelta(minutes=10))
    assert "First reading at" in told(lit)

    # The house stops in the middle of the firing and starts again: the nudge comes, once.
    lit_at = chat.now
    await chat.close()
    chat = await open_chat(lit_at, shipped(), database_url=url, seed=7)
    nudge = await until_asked(chat, "what does the top", lit_at, lit_at + timedelta(hours=1))
    assert told(nudge).lower().count("what does the top of the dome read now") == 1

    said = []
    for reading in READINGS[1:]:
        heard = await chat.say("ana", f"its {reading} now", chat.now + timedelta(minutes=2))
        said.append(told(heard))
        if "done, it’s on" in " ".join(label.lower() for one in heard for label in one.labels):
            await chat.press("ana", "Done, it’s on", chat.now + timedelta(minutes=2))
        if "has done its work" in told(heard):
            break
        await until_asked(chat, "what does the top", chat.now, chat.now + timedelta(hours=2))
    assert any("Put on" in one for one in said)
    assert "has done its work" in said[-1]
    await chat.say("ana", "fires out, only embers", chat.now + timedelta(minutes=70))
    night = await chat.say("ana", "door on", chat.now + timedelta(minutes=10))
    assert night
    await chat.close()


async def test_nothing_is_lit_before_the_cure_and_the_builder_hears_of_it() -> None:
    start = datetime(2026, 5, 4, 17, tzinfo=LONDON)
    chat = await open_chat(start, shipped(), builder="vic")
    at = start
    for answer in SET_UP:
        at += timedelta(minutes=1)
        await chat.say("ana", answer, at)
    heard = await chat.say("ana", "lit it, top is 90", at + timedelta(hours=1))
    owner = told([one for one in heard if one.to == "ana"]).lower()
    assert "add nothing" in owner or "no wood" in owner
    assert any(one.to == "vic" for one in heard)
    await chat.close()
