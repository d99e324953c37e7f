"""From a stored message to the record that its reader gets."""

import io
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pypdf import PdfReader

from bot.attachments import make
from bot.papers.gathering import GATHERED, Gathered, RecordGathering, gather
from bot.parts import shipped
from bot.ways.shape import OwnPaper, OwnWays
from bot.wiring import open_chat
from scheduling.ports import Attachment, Builder, OvenCard, Person, Way
from storage.memory import MemoryStore
from tests.bot.papers.five_fires import BUILDER, NAMES, OWNER, SECOND, journal, photo

NOW = datetime(2026, 6, 7, 9, tzinfo=UTC)
DATA: dict[str, object] = {"oven_id": "oven-1", "at": NOW.isoformat(), "unit": "C"}


async def _kept() -> MemoryStore:
    store = MemoryStore()
    async with store.write() as unit:
        for person, team in ((OWNER, None), (SECOND, None), (BUILDER, "team-b")):
            await unit.people.put(
                Person(
                    id=person, channel="replay", address=person, name=NAMES[person], builder=team
                )
            )
        await unit.builders.put(Builder(id="team-b", name="Åström Ovens", founded_at=NOW))
        card = OvenCard(id="oven-1", name="Garden oven", builder="team-b", owners=(OWNER, SECOND))
        await unit.ovens.put(card)
        await unit.ovens.append("oven-1", 0, journal())
        await unit.commit()
    return store


async def test_a_record_is_drawn_from_the_journal_as_it_is_when_it_is_sent() -> None:
    asked: list[str] = []

    async def photos(reference: str, /) -> bytes | None:
        asked.append(reference)
        return photo() if reference == "photo-open" else None

    gathering = RecordGathering(await _kept(), photos)
    whole = await gathering(Attachment(kind="record", name="record.pdf", data=DATA))
    pdf = PdfReader(io.BytesIO(make("record", whole.data)))
    text = "\n".join(page.extract_text() for page in pdf.pages)
    assert asked == ["photo-note", "photo-hair", "photo-open"]
    assert all(name in text for name in NAMES.values())
    assert "Åström Ovens" in text
    assert sum(len(page.images) for page in pdf.pages) == 1


async def test_a_paper_for_a_builder_is_made_only_while_the_oven_is_theirs_to_see() -> None:
    gathering = RecordGathering(await _kept())
    theirs = DATA | {"builder": "team-b"}
    paper = Attachment(kind="record", name="record.pdf", data=theirs)
    assert isinstance((await gathering(paper)).data[GATHERED], Gathered)
    gone = paper.model_copy(update={"data": theirs | {"builder": "another"}})
    with pytest.raises(ValueError, match="no longer theirs"):
        await gathering(gone)


async def test_a_number_to_ring_stands_on_the_builder_s_paper_alone() -> None:
    store = await _kept()
    async with store.write() as unit:
        owner = await unit.people.get(OWNER)
        assert owner is not None
        await unit.people.put(owner.model_copy(update={"phone": "+44 7700 900123"}))
        await unit.commit()
    for builder, shown in (("team-b", True), ("", False)):
        paper = Attachment(kind="record", name="record.pdf", data=DATA | {"builder": builder})
        pdf = make("record", (await RecordGathering(store)(paper)).data)
        text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
        assert ("+44 7700 900123" in text) is shown


async def test_what_is_no_record_stays_as_it_is() -> None:
    plan = Attachment(kind="plan", name="plan.png", data={"lines": []})
    assert await RecordGathering(MemoryStore())(plan) is plan


async def test_a_record_of_an_oven_that_was_erased_meanwhile_is_refused() -> None:
    with pytest.raises(ValueError, match="no longer kept"):
        await RecordGathering(MemoryStore())(Attachment(kind="record", name="r", data=DATA))


def test_a_record_that_was_not_gathered_is_refused() -> None:
    with pytest.raises(ValueError, match="not been gathered"):
        make("record", DATA)


async def test_somebody_who_was_forgotten_has_no_name_in_it() -> None:
    store = await _kept()
    async with store.read() as unit:
        gathered = await gather(unit, "oven-1")
    forgotten = Gathered(gathered.card, gathered.entries, type(gathered.people)({}))
    text = "".join(
        page.extract_text()
        for page in PdfReader(io.BytesIO(make("record", DATA | {GATHERED: forgotten}))).pages
    )
    assert "somebody no longer on file" in text
    assert not any(name in text for name in NAMES.values())


async def test_an_owner_who_asks_in_the_chat_gets_a_file(tmp_path: Path) -> None:
    evening = datetime(2026, 5, 20, 17, tzinfo=UTC)
    chat = await open_chat(evening, shipped(), out=tmp_path)
    try:
        await chat.say("robin", "/start", evening)
        await chat.say("robin", "F", evening)
        heard = await chat.say("robin", "/record", evening)
    finally:
        await chat.close()
    (name,) = (name for one in heard for name in one.attachments)
    document = PdfReader(tmp_path / name)
    assert "robin" in document.pages[0].extract_text()
    assert float(document.pages[0].mediabox.width) == 612.0


async def test_the_same_record_comes_as_a_table_and_as_data_from_its_buttons(
    tmp_path: Path,
) -> None:
    evening = datetime(2026, 5, 20, 17, tzinfo=UTC)
    chat = await open_chat(evening, shipped(), out=tmp_path)
    try:
        await chat.say("robin", "/start", evening)
        await chat.say("robin", "/record", evening)
        table = await chat.press("robin", "As a table (CSV)", evening)
        data = await chat.press("robin", "As data (JSON)", evening)
        typed = await chat.say("robin", "/record csv", evening)
    finally:
        await chat.close()
    files = [name for heard in (table, data, typed) for one in heard for name in one.attachments]
    csv, told, again = (tmp_path / name for name in files)
    assert csv.read_text("utf-8-sig").startswith("fire,at,asked_at,by,crown_c")
    assert csv.read_bytes() == again.read_bytes()
    assert csv.suffix == again.suffix == ".csv"
    assert json.loads(told.read_text("utf-8"))["tended_by"] == ["robin"]


async def test_a_table_waits_for_no_photo() -> None:
    async def photos(_reference: str, /) -> bytes | None:
        raise AssertionError("nobody looks at a photo in a table")

    gathering = RecordGathering(await _kept(), photos)
    whole = await gathering(Attachment(kind="record", name="r.csv", data=DATA | {"form": "csv"}))
    assert make("record", whole.data).decode("utf-8-sig").count("\r\n") > 50


async def test_a_record_has_the_head_that_its_builder_has_told() -> None:
    store = await _kept()
    ways = OwnWays(paper=OwnPaper(name="Åström & Co", address=("3 Kiln Lane",), logo="mark"))
    way = Way(
        builder="team-b", version=1, made_at=NOW, made_by=BUILDER, body=ways.model_dump_json()
    )
    async with store.write() as unit:
        await unit.ways.put(way)
        await unit.commit()

    async def photos(reference: str, /) -> bytes | None:
        return photo() if reference == "mark" else None

    whole = await RecordGathering(store, photos)(
        Attachment(kind="record", name="record.pdf", data=DATA)
    )
    first = PdfReader(io.BytesIO(make("record", whole.data))).pages[0]
    assert "Åström & Co" in first.extract_text()
    assert "3 Kiln Lane" in first.extract_text()
    assert len(first.images) == 1
