"""What a rehearsal leaves behind in a folder: transcript, replayable lines, truth and picture,
and from the bot's side the oven's journal and its record."""

import csv
import dataclasses
import json
from collections.abc import Callable
from pathlib import Path
from zoneinfo import ZoneInfo

from matplotlib.figure import Figure

from bot.papers.gathering import Gathered
from bot.papers.ovenjournal import journal_lines
from bot.papers.record_pdf import record_pdf
from bot.rehearsal.closing import Closing
from bot.rehearsal.diary import Diary, Moment, in_words
from bot.rehearsal.rehearsal import Line


def keep(
    out: Path,
    lines: list[Line],
    diary: Diary,
    closing: Closing,
    zone: ZoneInfo,
    oven: Gathered | None = None,
) -> tuple[Path, ...]:
    """Write everything into ``out``; returns the files. Raises OSError where it cannot.

    ``oven`` is what the bot knew of it: its journal, and the record made of that.
    """
    out.mkdir(parents=True, exist_ok=True)
    files = {
        "transcript.txt": "\n".join(in_words(line, zone) for line in lines) + "\n",
        "replay.jsonl": "".join(_replayable(line) for line in lines),
        "closing.json": json.dumps(dataclasses.asdict(closing), default=str, indent=1) + "\n",
    }
    for name, text in files.items():
        (out / name).write_text(text, encoding="utf-8")
    with (out / "truth.csv").open("w", newline="", encoding="utf-8") as sink:
        writer = csv.writer(sink)
        writer.writerow([field.name for field in dataclasses.fields(Moment)])
        writer.writerows(dataclasses.astuple(moment) for moment in diary.moments)
    _picture(diary).savefig(out / "truth.png", dpi=110)
    kept = [*files, "truth.csv", "truth.png"]
    if oven is not None and oven.entries:
        (out / "journal.jsonl").write_text(journal_lines(oven.entries), encoding="utf-8")
        paper = oven.paper(max(line.at for line in lines))
        (out / "record.pdf").write_bytes(record_pdf(paper, oven.photos))
        kept += ["journal.jsonl", "record.pdf"]
    return tuple(out / name for name in kept)


def _replayable(line: Line) -> str:
    """What a person did, as a line that ``stokewatch replay`` takes."""
    if line.who.startswith("to "):
        return ""
    told = {"at": line.at.isoformat(), "from": line.who}
    told["press" if line.pressed else "text"] = line.text
    return json.dumps(told, ensure_ascii=False) + "\n"


def _picture(diary: Diary) -> Figure:
    """True temperatures, and the water left in the shell, over the whole break-in."""
    moments = diary.moments
    hours = [(one.at - moments[0].at).total_seconds() / 86400 for one in moments]
    figure = Figure(figsize=(8, 5), layout="constrained")
    above, below = figure.subplots(2, 1, sharex=True, height_ratios=[2, 1])
    series: tuple[tuple[str, Callable[[Moment], float]], ...] = (
        ("crown", lambda one: one.crown_c),
        ("sides", lambda one: one.sides_c),
        ("outside", lambda one: one.outside_c),
    )
    for name, pick in series:
        above.plot(hours, [pick(one) for one in moments], label=name, linewidth=1.2)
    above.set_ylabel("true surface, °C")
    above.legend(loc="upper left")
    below.plot(hours, [one.shell_water_l for one in moments], label="water in shell, l")
    below.plot(hours, [10 * one.worst_share for one in moments], label="worst steam, tenths")
    below.set_xlabel("days")
    below.legend(loc="upper right")
    return figure
