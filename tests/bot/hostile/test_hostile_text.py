"""Any text, through every path that a person can type into: answered, kept, shown, and printed."""

import asyncio
import csv
import io
import json
import shutil
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.bot.hostile.texts import hostile
from tests.bot.hostile.typing import ANA, BEA, CAL, CODES, Typed, furnish, typed
from tests.botapi.shown import Shown

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


def survives(file: Path, way: Way, texts: list[str]) -> None:
    """Each text is answered, nothing is set aside, and nothing of it comes out broken."""

    async def type_all() -> None:
        async with typed(file, 1) as they:
            for text in texts:
                shown = await way(they, text)
                assert shown, f"nobody answered {text[:80]!r}"
            await they.all_is_well()
            for chat in (ANA, CAL):
                papers_are_whole(await they.papers(chat))
            assert await they.say(BEA, "all clients")
            assert await they.say(ANA, "thanks")
            await they.all_is_well()

    asyncio.run(type_all())


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


@pytest.mark.parametrize("way", WAYS)
@settings(
    derandomize=True,
    database=None,
    max_examples=3,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(texts=st.lists(hostile, min_size=4, max_size=8))
def test_any_text_on_any_way_is_answered(
    furnished: Path, tmp_path: Path, way: str, texts: list[str]
) -> None:
    file = tmp_path / "house.sqlite"
    shutil.copyfile(furnished, file)
    survives(file, WAYS[way], texts)
