"""A journal is written by hand or by another program, so every slip in it gets a sentence."""

import contextlib
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.commands.journalfile import MOST_FAULTS, JournalError, read_journal
from scheduling.oven.history import FireLit, FireOut, SurfaceRead

AFTER, UNTIL = datetime(2026, 5, 1, tzinfo=UTC), datetime(2026, 6, 1, tzinfo=UTC)
LIT = '{"at": "2026-05-30T09:00+01:00", "kind": "fire_lit", "aim_c": 150}'
READ = '{"at": "2026-05-30T11:00+01:00", "kind": "surface_read", "top_c": 151, "side_c": [140]}'
OUT = '{"at": "2026-05-30T14:00+01:00", "kind": "fire_out"}'


def test_a_firing_is_read_and_blank_lines_are_nothing() -> None:
    lit, read, out = read_journal(f"{LIT}\n\n{READ}\r\n{OUT}\n", AFTER, UNTIL)
    assert lit == FireLit(at=datetime(2026, 5, 30, 8, tzinfo=UTC), aim_c=150)
    assert isinstance(read, SurfaceRead)
    assert (read.top_c, read.side_c) == (151.0, (140.0,))
    assert isinstance(out, FireOut)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "The journal is empty"),
        (" \n\n", "The journal is empty"),
        ("lit at nine", "line 1: this is not JSON"),
        (LIT + "\n" + READ[:-1], "line 2: this is not JSON"),
        ("[" * 100_000, "too deeply nested"),
        ("1" * 5000, "no number can be"),
        ("[1]", "a line is one object"),
        ('{"at": "2026-05-30T09:00Z"}', "kind is missing; it is one of fire_lit"),
        (LIT.replace("fire_lit", "lit_fire"), '"lit_fire" is no kind of entry known here'),
        ('{"kind": {}, "at": 1}', "is no kind of entry"),
        ('{"kind": "soaked"}', "at is missing"),
        ('{"kind": "soaked", "at": 1780000000}', "1780000000 is no time"),
        ('{"kind": "soaked", "at": "2026-05-30"}', "does not say its time zone"),
        ('{"kind": "soaked", "at": "0001-01-01T00:00+23:00"}', "the year 1 cannot be right"),
        ('{"kind": "unwatched", "at": "2026-05-30T09:00Z", "until": 5}', "until: 5 is no time"),
        (READ.replace("151", "NaN"), "NaN is not a number; leave out what was not measured"),
        (READ.replace("151", "-Infinity"), "-Infinity is not a number"),
        (READ.replace("151", "1e999"), "top_c: inf is not a number"),
        (READ.replace("151", "true"), "top_c: True is not a number"),
        (READ.replace("151", '"151"'), "top_c: '151' is not a number"),
        (READ.replace("151", "1510"), "top_c: 1510 cannot be right"),
        (READ.replace("140", '"x"'), "side_c, 0: 'x' is not a number"),
        ('{"at": "2026-05-30T09:00Z", "kind": "surface_read"}', "at least one temperature"),
        (LIT.replace("aim_c", "aim"), "aim does not belong to fire_lit"),
        ('{"at": "2026-05-30T09:00Z", "kind": "door_set", "on": 1}', "on: "),
        (f"{OUT}\n{LIT}", "put the journal in order of time"),
        (LIT.replace("2026-05-30", "2026-06-30"), "lies in the future"),
        (LIT.replace("2026-05-30", "2026-04-30"), "before the oven's wet work ended"),
    ],
)  # fmt: skip
def test_a_slip_gets_a_sentence(text: str, says: str) -> None:
    with pytest.raises(JournalError) as caught:
        read_journal(text, AFTER, UNTIL)
    assert says in str(caught.value)


def test_a_journal_from_long_ago_is_refused_at_once() -> None:
    with pytest.raises(JournalError, match="more than three years before"):
        read_journal(LIT, AFTER, UNTIL.replace(year=2099))


def test_each_bad_line_is_named_but_not_a_thousand_of_them() -> None:
    with pytest.raises(JournalError) as caught:
        read_journal(f"x\n{LIT}\ny\n" + "z\n" * 1000, AFTER, UNTIL)
    assert [said.split(":")[0] for said in caught.value.sentences[:2]] == [
        "Journal, line 1",
        "Journal, line 3",
    ]
    assert len(caught.value.sentences) == MOST_FAULTS


@settings(derandomize=True, max_examples=150)
@given(
    st.integers(0, len(READ)),
    st.integers(0, 12),
    st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Z")), max_size=6),
)
def test_any_scribble_is_either_a_journal_or_a_sentence(at: int, cut: int, scribble: str) -> None:
    with contextlib.suppress(JournalError):
        assert read_journal(READ[:at] + scribble + READ[at + cut :], AFTER, UNTIL)
