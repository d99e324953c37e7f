"""What a rehearsal leaves in a folder."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from pypdf import PdfReader

from bot.papers.gathering import Gathered
from bot.papers.ovenjournal import entries_of
from bot.papers.record import People
from bot.rehearsal.closing import Closing
from bot.rehearsal.diary import Diary, Moment
from bot.rehearsal.keepsakes import keep
from bot.rehearsal.rehearsal import Line
from scheduling.ports import OvenCard
from tests.bot.papers.five_fires import NAMES, journal

START = datetime(2026, 6, 7, 9, tzinfo=UTC)
HOUR = timedelta(hours=1)
CLOSING = Closing(
    ended="finished", told_done=True, began=START, first_fire=START, over=START, firings=5,
    wood_kg=40.0, peak_crown_c=400.0, peak_sides_c=360.0, shell_water_l=0.0, water_left_share=0.0,
    soot_clear=True, worst_share=0.1, worst_at=None, worst_zone="crown", worst_depth_mm=40.0,
    worst_pressure_kpa=10.0, wood_orders=30, bad_orders=0, false_alarms=0,
)  # fmt: skip


def test_the_ovens_journal_and_its_record_lie_beside_the_transcript(tmp_path: Path) -> None:
    diary = Diary()
    diary.moments = [Moment(START + HOUR * h, 20, 20, 20, 15, 1.0, 0.0, 0.0) for h in range(2)]
    oven = Gathered(OvenCard(id="o", name="Garden oven"), journal(), People(NAMES))
    lines = [Line(START, "robin", "hello")]
    files = keep(tmp_path, lines, diary, CLOSING, ZoneInfo("Europe/London"), oven)
    assert {"transcript.txt", "journal.jsonl", "record.pdf"} <= {file.name for file in files}
    assert all(file.exists() for file in files)
    assert entries_of((tmp_path / "journal.jsonl").read_text("utf-8")) == journal()
    assert "Fire 5" in "".join(p.extract_text() for p in PdfReader(tmp_path / "record.pdf").pages)
