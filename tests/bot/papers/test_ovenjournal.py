"""An oven's own journal as a file, there and back."""

import contextlib
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.__main__ import app_for
from bot.commands.journalfile import JournalError, read_journal
from bot.papers.ovenjournal import entries_of, is_own_journal, journal_lines
from tests.bot.commands.test_plan import ONE, THIN
from tests.bot.papers.five_fires import journal

OPENED, NOW = datetime(2026, 5, 2, tzinfo=UTC), datetime(2026, 6, 7, 9, tzinfo=UTC)


def test_what_was_written_reads_the_same() -> None:
    assert entries_of(journal_lines(journal())) == journal()


def test_a_journal_that_a_person_wrote_is_told_apart() -> None:
    assert is_own_journal(journal_lines(journal()))
    assert not is_own_journal('{"at": "2026-06-01T09:00+01:00", "kind": "fire_lit"}')
    assert not is_own_journal("")
    assert not is_own_journal("[" * 9000)


def test_a_plan_on_paper_takes_it_for_what_it_tells_the_wall() -> None:
    facts = read_journal(journal_lines(journal()), OPENED, NOW)
    kinds = [fact.kind for fact in facts]
    assert kinds.count("fire_lit") == 5
    assert kinds.count("door_set") == 5
    hottest = max(fact.top_c or 0.0 for fact in facts if fact.kind == "surface_read")
    assert hottest < 420.0  # neither the flame of 410 in the spot nor the 1520 taken back


def test_the_plan_command_goes_on_from_it(tmp_path: Path) -> None:
    entries = [entry for entry in journal() if entry.at < datetime(2026, 5, 30, 23, tzinfo=UTC)]
    (tmp_path / "journal.jsonl").write_text(journal_lines(entries), encoding="utf-8")
    (tmp_path / "oven.toml").write_text(THIN + ONE, encoding="utf-8")
    arguments = ["plan", "--oven", "oven.toml", "--journal", "journal.jsonl", "--json"]
    with contextlib.chdir(tmp_path):
        told = CliRunner().invoke(app_for(["plan"]), [*arguments, "--at", "2026-05-31T07:00"])
    assert told.exit_code == 0, told.output
    first = json.loads(told.output)["firings"][0]
    assert first["plateau_c"] > 155.0  # what the first fire reached counts


def test_what_comes_after_the_time_to_plan_from_is_left_out() -> None:
    until = datetime(2026, 5, 30, 23, tzinfo=UTC)
    facts = read_journal(journal_lines(journal()), OPENED, until)
    assert [fact.kind for fact in facts].count("fire_lit") == 1


def test_a_line_that_was_tampered_with_is_refused_with_its_number() -> None:
    lines = journal_lines(journal()).splitlines()
    lines[4] = lines[4].replace('"kind":"described"', '"kind":"imagined"')
    with pytest.raises(JournalError, match="line 5"):
        read_journal("\n".join(lines), OPENED, NOW)
