"""A journal without its people still tells what the oven did, and nothing of who was there."""

from typing import get_args

import pytest

from scheduling.blotting import blotted
from scheduling.hazard import Hazard
from scheduling.journal import ENTRY, Entry, HazardSeen, Measured, Noted
from scheduling.journal.base import Written
from scheduling.journal.forgetting import SOMEBODY, Forgotten, ever_tending, tending, without
from scheduling.record import Record
from scheduling.remark import CrackSize
from tests.scheduling.road import ANA, Road, lit

KINDS: tuple[type[Written], ...] = get_args(get_args(Entry)[0])

GOES = {"words", "by", "key", "person", "text", "why", "name", "photo", "value", "change"}
"""Fields of text that forgetting looks into."""

STAYS = {
    "kind", "what", "needs", "construction", "builder", "proposal", "greeting", "title", "told",
    "together",
}  # fmt: skip
"""Names of ours, ids of teams and of orders for many, and a builder's own words to all of their
clients."""

LISTS_THAT_STAY = {"cautions", "before", "after"}


@pytest.fixture(scope="module")
def burning() -> Record:
    """Ana's oven in Kew, its first fire lit and read, with a crack and her words about it."""
    road = lit()
    road.reads(60)
    road.cracks(CrackSize.HAIRLINE)
    said = Noted(at=road.now, by=ANA, text="over the arch", photo="telegram:1", key="telegram:7/1")
    heard = HazardSeen(at=road.now, by=ANA, hazard=Hazard.POPPING, words="bangs over the arch")
    return road.record.with_entries([said, heard])


def wholly(record: Record) -> tuple[Entry, ...]:
    gone = Forgotten(frozenset(ever_tending(record.entries)), ("Ana",), wholly=True)
    return without(record.entries, gone)


def test_every_text_of_an_entry_is_known_to_forgetting() -> None:
    found = set()
    for kind in KINDS:
        for name, field in kind.model_fields.items():
            shape = str(field.annotation)
            if field.annotation is str or shape in ("str | None", "tuple[str, ...]"):
                found.add(name)
    unknown = found - GOES - STAYS - LISTS_THAT_STAY
    assert not unknown, f"say in scheduling/journal/forgetting.py what becomes of {unknown}"


def test_numbers_and_figures_stay(burning: Record) -> None:
    told = wholly(burning)
    assert len(told) == len(burning.entries)
    assert [one.kind for one in told] == [one.kind for one in burning.entries]
    after = Record.folded(told)
    assert [m.top_c for m in after.all_of(Measured)] == [m.top_c for m in burning.all_of(Measured)]
    assert after.makeup is not None
    assert burning.makeup is not None
    assert after.makeup.layers == burning.makeup.layers
    assert len(after.sessions) == len(burning.sessions)


def test_nothing_of_the_person_and_the_place_stays(burning: Record) -> None:
    told = "\n".join(ENTRY.dump_json(one).decode() for one in wholly(burning))
    for trace in ('"ana"', "Ana", "Kew", "51.5", "-0.1,", "arch", "telegram"):
        assert trace not in told, trace
    assert f'"{SOMEBODY}"' in told


def test_of_two_people_only_one_is_taken_out() -> None:
    road = Road().begin()
    hers = Noted(at=road.now, by=ANA, text="Ben came late", key="t:1/1")
    his = Noted(at=road.now, by="ben", text="I was late", photo="t:2", key="t:2/2")
    record = road.record.with_entries([hers, his])
    *_, kept, gone = without(record.entries, Forgotten(frozenset({"ben"}), ("Ben",)))
    assert kept == hers.model_copy(update={"text": "– came late"})
    assert gone == Noted(at=road.now, by=SOMEBODY)


def test_who_tends_is_read_as_the_record_reads_it(burning: Record) -> None:
    assert tending(burning.entries) == burning.tenders == (ANA,)


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("Ana is here", "– is here"),
        ("Analysis and banana", "Analysis and banana"),
        ("ANA, ana", "–, –"),
        ("Bartholomew Fo… said", "– said"),
    ],
)
def test_a_name_is_found_whole_or_cut_short(text: str, left: str) -> None:
    assert blotted(text, ["Ana", "Bartholomew Fotheringay", "x", ""]) == left
