"""JSON lines over the real engine and store."""

import json
from pathlib import Path
from typing import Any

from bot.commands.replay import replay_lines
from tests.end_to_end.small_house import small_parts

LINES = [
    "not JSON",
    '{"at": "2026-05-13T09:00:00+01:00", "from": "ana", "text": "lit"}',
    '{"at": "2026-05-13T10:05:00+01:00"}',
    '{"at": "2026-05-13T10:06:00+01:00", "from": "ana", "press": "Stoked"}',
]


async def replayed(**options: Any) -> list[dict[str, Any]]:
    said: list[str] = []
    await replay_lines(LINES, said.append, small_parts(), **options)
    return [json.loads(line) for line in said]


async def test_a_conversation_is_replayed_line_by_line() -> None:
    error, no, noted, ready, nudge, again, later, pressed, last = await replayed()
    assert "not JSON" in error["error"]
    assert no == {"ready": None}
    assert noted["text"] == "Noted."
    assert ready == {"ready": "2026-05-13T09:00:00+01:00"}
    assert [nudge["at"][11:16], again["at"][11:16]] == ["09:30", "10:00"]
    assert nudge["buttons"] == [["Stoked"]]
    assert later == {"ready": "2026-05-13T10:05:00+01:00"}
    assert pressed["to"] == "ana"
    assert last == {"ready": "2026-05-13T10:06:00+01:00"}


async def test_two_replays_are_the_same_to_the_letter() -> None:
    assert await replayed(seed=3) == await replayed(seed=3)


async def test_a_database_is_kept_where_one_is_named(tmp_path: Path) -> None:
    await replayed(database=f"sqlite:///{tmp_path / 'report.sqlite'}", builder="ben")
    assert (tmp_path / "report.sqlite").exists()
