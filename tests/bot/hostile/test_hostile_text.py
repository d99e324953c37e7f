"""Any text, through every path that a person can type into: answered, kept, shown, and printed."""

import asyncio
import csv
import hmac
import io
import json
import logging
import re
import shutil
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import structlog
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from icalendar import Calendar
from pypdf import PdfReader

from bot import logs
from bot.commands.record import file_name
from bot.conversation.incoming import readable
from bot.conversation.people.arriving import FirstRunCodes
from bot.papers.calendar import CalendarEntry, calendar_file
from tests.bot.hostile.texts import FRAGMENTS, LONGEST, MARK, hostile
from tests.bot.hostile.typing import ANA, BEA, CAL, CODES, Typed, furnish, typed
from tests.botapi.shown import Shown

TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
Way = Callable[[Typed, str], Awaitable[list[Shown]]]
EVE = 9


def says(chat: int, before: str = "") -> Way:
    return lambda they, text: they.say(chat, f"{before}{text}")


async def name_of_a_stranger(they: Typed, text: str) -> list[Shown]:
    return await they.say(EVE + len(they.api.chats), "hello", name=text)


async def name_of_an_owner(they: Typed, text: str) -> list[Shown]:
    return await they.say(EVE + len(they.api.chats), f"/start {CODES.owner}", name=text)


async def name_of_a_client(they: Typed, text: str) -> list[Shown]:
    (made,) = await they.say(BEA, f"/invite {text}")
    code = made.text.rpartition("?start=")[2].split()[0]
    return await they.say(EVE + len(they.api.chats), f"/start {code}", name=text)


async def about_a_client(they: Typed, text: str, before: str) -> list[Shown]:
    await they.say(BEA, "find alder")
    return await they.say(BEA, f"{before}{text}")


def builder(before: str) -> Way:
    return lambda they, text: about_a_client(they, text, before)


async def file_of_ways(they: Typed, text: str) -> list[Shown]:
    cautions = json.dumps([text[:100]])
    content = f"[words]\ncautions = {cautions}\n".encode("utf-8", "surrogatepass")
    return await they.send_file(BEA, text, content)


WAYS: dict[str, Way] = {
    "a stranger's words": says(EVE),
    "a stranger's name": name_of_a_stranger,
    "a stranger's code": says(EVE, "/start "),
    "an owner's name": name_of_an_owner,
    "a client's name": name_of_a_client,
    "an owner's words": says(ANA),
    "a reading": says(ANA, "top 152 "),
    "a crack": says(ANA, "hairline crack "),
    "days": says(ANA, "can't on "),
    "a question": says(ANA, "can I "),
    "an edited message": lambda they, text: they.edit(ANA, text),
    "a caption": lambda they, text: they.caption(ANA, text),
    "an unknown command": says(ANA, "/"),
    "whom to invite": says(ANA, "/second "),
    "settings": says(ANA, "/settings "),
    "a place": says(CAL),
    "a place with a country": says(CAL, "Alderby, "),
    "a button's key": lambda they, text: they.press_key(ANA, text),
    "a team's name": says(BEA, "/team name "),
    "whom to take on": says(BEA, "/team "),
    "a search": says(BEA, "find "),
    "a builder's town": says(BEA, "my town is "),
    "a builder's words": says(BEA),
    "a note": builder("note: "),
    "words to an owner": builder("say "),
    "an order's reason": builder("hold because "),
    "why a case is closed": builder("case closed "),
    "ways in a line": says(BEA, "/ways "),
    "ways pasted": says(BEA, "[words]\n"),
    "a file of ways": file_of_ways,
}


@pytest.fixture(scope="module")
def furnished(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("hostile") / "house.sqlite"
    # In a thread: the test that asks first has a running loop of its own.
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, furnish(path)).result()
    return path


def survives(file: Path, typings: list[tuple[str, str]]) -> None:
    """Each is answered, nothing is set aside, and nothing of it comes out broken or is logged."""

    async def type_all() -> None:
        async with typed(file, 1) as they:
            for way, text in typings:
                shown = await WAYS[way](they, text)
                assert they.shown_since, f"{way}: nobody answered {text[:80]!r}"
                assert not any(TURNS & {*one.text} for one in shown)
            await they.all_is_well()
            for chat in (ANA, CAL):
                papers_are_whole(await they.papers(chat))
            assert await they.say(BEA, "all clients")
            assert await they.say(BEA, "fires")
            assert await they.say(ANA, "thanks")
            await they.all_is_well()

    logged = io.StringIO()
    with logging_to(logged):
        asyncio.run(type_all())
    assert MARK not in logged.getvalue()


@contextmanager
def logging_to(stream: io.StringIO) -> Iterator[None]:
    """Everything that is logged, at the chattiest level."""
    root = logging.getLogger()
    before, level = list(root.handlers), root.level
    logs.set_up(level="DEBUG", stream=stream)
    try:
        yield
    finally:
        root.handlers[:] = before
        root.setLevel(level)
        structlog.reset_defaults()


def papers_are_whole(papers: dict[str, bytes | str]) -> None:
    pdf, table, told = papers["pdf"], papers["csv"], papers["json"]
    assert isinstance(pdf, bytes)
    assert PdfReader(io.BytesIO(pdf), strict=True).pages
    assert isinstance(table, str)
    assert isinstance(told, str)
    for text in (table, told):
        text.encode("utf-8")
        assert "\x00" not in text
    rows = list(csv.reader(io.StringIO(table)))
    assert len({len(row) for row in rows}) == 1
    json.loads(told)


EXAMPLES = settings(
    derandomize=True,
    database=None,
    deadline=None,
    phases=(Phase.generate,),  # what fails is told at once: to shorten it takes minutes
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)

typings = st.tuples(st.sampled_from(sorted(WAYS)), hostile)


@settings(EXAMPLES, max_examples=4)
@given(typings=st.lists(typings, min_size=20, max_size=30))
def test_any_text_on_any_way_is_answered(
    furnished: Path, tmp_path: Path, typings: list[tuple[str, str]]
) -> None:
    file = tmp_path / "house.sqlite"
    shutil.copyfile(furnished, file)
    survives(file, typings)


@pytest.mark.slow
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("way", sorted(WAYS))
@settings(EXAMPLES, max_examples=10)
@given(texts=st.lists(hostile, min_size=8, max_size=12))
def test_many_texts_on_each_way_are_answered(
    furnished: Path, tmp_path: Path, way: str, texts: list[str]
) -> None:
    file = tmp_path / "house.sqlite"
    shutil.copyfile(furnished, file)
    survives(file, [(way, text) for text in texts])


LONG_WAYS = ("a stranger's words", "an owner's words", "a place", "a note", "a caption", "a search")


def test_the_longest_texts_are_answered_unless_they_say_nothing(
    furnished: Path, tmp_path: Path
) -> None:
    file = tmp_path / "house.sqlite"
    shutil.copyfile(furnished, file)
    saying = [text for text in LONGEST if text.strip(" \x00\u202e")]
    survives(file, [(way, text) for way in LONG_WAYS for text in saying])


@pytest.mark.parametrize("text", [*FRAGMENTS, *LONGEST], ids=lambda text: ascii(text[:12]))
def test_a_calendar_holds_any_name_in_lines_of_its_own(text: str) -> None:
    start = datetime(2026, 5, 13, 9, tzinfo=UTC)
    name = readable(text)
    entry = CalendarEntry(1, start, start + timedelta(hours=3), name, name, name)
    content = calendar_file("o1", name, [entry], 1, start)
    back = Calendar.from_ical(content)
    (event,) = back.walk("VEVENT")
    # A tab or a line's end may be written in another way; nothing else may change.
    assert "".join(str(event["SUMMARY"]).split()) == "".join(name.split())
    assert all(len(line) <= 75 for line in content.split(b"\r\n"))


@pytest.mark.parametrize("text", [*FRAGMENTS, *LONGEST], ids=lambda text: ascii(text[:12]))
def test_a_file_gets_a_name_that_every_file_system_takes(text: str) -> None:
    name = file_name(text)
    assert 0 < len(f"record-{name}.json".encode()) <= 255
    assert not {*'/\\:*?"<>|\x00.'} & {*name}
    assert name.isprintable()


def test_these_trials_can_fail(
    furnished: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the comparison that refused what is not ASCII, as it once was."""

    def opens(codes: FirstRunCodes, code: str) -> None:
        hmac.compare_digest(code, codes.owner)

    monkeypatch.setattr(FirstRunCodes, "opens", opens)
    monkeypatch.setattr("bot.conversation.meeting.CODE", re.compile(r"\S{12,}"))
    file = tmp_path / "house.sqlite"
    shutil.copyfile(furnished, file)
    with pytest.raises(AssertionError, match="TypeError"):
        survives(file, [("an owner's words", "152°/140°/138°")])
