"""``stokewatch plan``: a plan on paper, and a sentence for everything that stands in its way."""

import json
import subprocess
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from typer.testing import CliRunner, Result

from bot.__main__ import app_for
from bot.commands.ovenfile import read_oven
from bot.commands.plan import EXAMPLE_LIMITS
from bot.commands.planning import limits_of, moment

app = app_for(["plan"])

RUNNER = CliRunner()
LONDON = ZoneInfo("Europe/London")

THIN = """
name = "Lane end"
construction = "cast-thin"
inner_diameter_mm = 600
wet_work_ended = 2026-05-02
cover = "roof"
[instrument]
max_c = 550
[place]
latitude = 52.2
longitude = -1.5
zone = "Europe/London"
"""

ONE = "[limits]\nmost_firings = 1\n"
"""Enough of a plan where its length does not matter."""

FIRED = """\
{"at": "2026-06-01T09:00+01:00", "kind": "fire_lit", "aim_c": 150}
{"at": "2026-06-01T10:30+01:00", "kind": "surface_read", "top_c": 148, "side_c": [139]}
{"at": "2026-06-01T12:00+01:00", "kind": "surface_read", "top_c": 151, "side_c": [142]}
{"at": "2026-06-01T14:00+01:00", "kind": "surface_read", "top_c": 150, "side_c": [143]}
{"at": "2026-06-01T14:05+01:00", "kind": "fire_out"}
{"at": "2026-06-01T14:30+01:00", "kind": "door_set", "on": true}
{"at": "2026-06-02T06:00+01:00", "kind": "surface_read", "top_c": 36}
"""

FIRING_KEYS = {
    "number", "plateau_c", "climb_c_per_h", "hold_h", "stoke_minutes", "wood_kg",
    "water_left_l", "steam_share", "morning_c", "limited_by", "reason",
}  # fmt: skip


class Paper:
    """An oven file and a journal in a folder, and the command run on them."""

    def __init__(self, folder: Path) -> None:
        self.oven = folder / "oven.toml"
        self.journal = folder / "journal.jsonl"
        self.picture = folder / "plan.png"

    def run(
        self, oven: str, *more: str, journal: str | None = None, at: str = "2026-06-02T07:00"
    ) -> Result:
        self.oven.write_text(oven, encoding="utf-8")
        given = ["plan", "--oven", str(self.oven), "--at", at, *more]
        if journal is not None:
            self.journal.write_text(journal, encoding="utf-8")
            given += ["--journal", str(self.journal)]
        return RUNNER.invoke(app, given)

    def json(self, oven: str, *more: str, **told: Any) -> dict[str, Any]:
        result = self.run(oven, "--json", *more, **told)
        assert result.exit_code == 0, result.output
        shown: dict[str, Any] = json.loads(result.stdout)
        return shown


@pytest.fixture
def paper(tmp_path: Path) -> Paper:
    return Paper(tmp_path)


def told(result: Result) -> str:
    """What was said of a refusal, which is never a stack trace."""
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    return result.stderr


def test_the_example_is_an_oven_file_with_limits_that_hold() -> None:
    result = RUNNER.invoke(app, ["plan", "--example"])
    assert result.exit_code == 0
    read = read_oven(result.stdout)
    assert set(read.limits) == set(EXAMPLE_LIMITS)
    assert limits_of(read).cure_floor_d == 21


def test_a_fresh_oven_from_the_real_command_line(tmp_path: Path) -> None:
    oven = tmp_path / "oven.toml"
    oven.write_text(THIN, encoding="utf-8")
    picture = tmp_path / "plan.png"
    run = subprocess.run(
        [sys.executable, "-m", "bot", "plan", "--oven", str(oven), "--at", "2026-05-10T20:00",
         "--json", "--picture", str(picture)],
        capture_output=True, text=True, encoding="utf-8", timeout=150, check=False,
    )  # fmt: skip
    assert (run.returncode, run.stderr) == (0, "")
    shown = json.loads(run.stdout)
    assert set(shown) >= {"ready_on", "firings", "believed"}
    ready_on = date.fromisoformat(shown["ready_on"])
    assert 21 <= (ready_on - date(2026, 5, 2)).days <= 31
    firings = shown["firings"]
    assert firings[0]["start"] == f"{ready_on}T09:00:00+01:00"
    assert all(set(firing) >= FIRING_KEYS for firing in firings)
    assert [firing["number"] for firing in firings] == list(range(1, len(firings) + 1))
    assert firings[0]["plateau_c"] <= 155
    assert firings[-1]["plateau_c"] == 400
    assert all(0 <= firing["steam_share"] <= 1 for firing in firings)
    assert all(firing["reason"].endswith(".") for firing in firings)
    waters = [shown["believed"]["water_left_l"], *(one["water_left_l"] for one in firings)]
    assert all(one["low"] <= one["mid"] <= one["high"] for one in waters)
    assert sorted((one["mid"] for one in waters), reverse=True) == [one["mid"] for one in waters]
    assert picture.read_bytes().startswith(b"\x89PNG")


def test_what_happened_is_believed_and_the_plan_goes_on_from_it(paper: Paper) -> None:
    shown = paper.json(THIN, journal=FIRED)
    believed = shown["believed"]
    assert (believed["firings"], believed["reached_c"], believed["burning"]) == (1, 150.0, False)
    assert believed["at"] == "2026-06-02T07:00:00+01:00"
    assert believed["surface_c"]["low"] <= 36 <= believed["surface_c"]["high"]
    first = shown["firings"][0]
    assert (first["number"], first["day"]) == (2, "2026-06-02")
    assert first["plateau_c"] <= 250


def test_no_second_fire_on_the_day_of_one_that_burns(paper: Paper) -> None:
    lit = "".join(FIRED.splitlines(keepends=True)[:2])
    shown = paper.json(THIN + ONE, journal=lit, at="2026-06-01T11:00")
    assert shown["believed"]["burning"] is True
    assert shown["firings"][0]["day"] == "2026-06-02"


def test_the_table_is_for_people(paper: Paper) -> None:
    result = paper.run(THIN + ONE, journal=FIRED)
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "Lane end"
    assert max(map(len, lines)) <= 80
    assert "carbon" in result.stdout


def test_mortar_that_froze_gets_a_plan_without_a_day(paper: Paper) -> None:
    frozen = THIN + "[air]\nmean_c = 4\ncoldest_c = -6\n"
    shown = paper.json(frozen, "--picture", str(paper.picture))
    assert (shown["ready_on"], shown["firings"]) == (None, [])
    assert "Light nothing until the builder has looked" in shown["reason"]
    assert not paper.picture.exists()
    table = paper.run(frozen)
    assert table.exit_code == 0
    assert "No day can be given for the first fire." in table.stdout


def test_mortar_that_never_warms_gets_no_day_either(paper: Paper) -> None:
    polar = THIN.replace("52.2", "-82.0").replace("-1.5", "40.0")
    shown = paper.json(polar)
    assert (shown["ready_on"], shown["firings"]) == (None, [])
    assert "gains too little strength" in shown["reason"]


def test_a_light_frost_is_told_and_forbids_nothing(paper: Paper) -> None:
    shown = paper.json(THIN + ONE + "[air]\nmean_c = 12\ncoldest_c = -1\n", journal=FIRED)
    assert shown["ready_on"] is not None
    assert any("met frost (-1 °C)" in note for note in shown["notes"])


def test_a_season_of_frost_is_told_where_nobody_watched_the_air(paper: Paper) -> None:
    winter = THIN.replace("2026-05-02", "2026-01-10").replace("52.2", "60.0")
    winter = winter.replace("-1.5", "25.0")
    shown = paper.json(winter + ONE)
    assert any("frost can break" in note for note in shown["notes"])
    watched = winter + ONE + "[air]\nmean_c = 12\n"
    assert not any("frost can break" in note for note in paper.json(watched)["notes"])


def test_fresh_mortar_in_the_journal_begins_the_wait_anew(paper: Paper) -> None:
    patched = '{"at": "2026-06-01T10:00Z", "kind": "rendered", "reaches_shell": true}\n'
    shown = paper.json(THIN + ONE, journal=patched)
    assert date.fromisoformat(shown["ready_on"]) > date(2026, 6, 15)
    assert shown["firings"][0]["day"] >= shown["ready_on"]


def test_a_limit_that_is_less_gentle_than_usual_is_told_and_not_taken(paper: Paper) -> None:
    shown = paper.json(THIN + "[limits]\nfirst_c = 160\ncap_c = 200\n", journal=FIRED)
    assert any(note.startswith("first_c = 160 in the oven file") for note in shown["notes"])
    assert all(firing["plateau_c"] <= 200 for firing in shown["firings"])
    assert shown["unfinished"] in ("builder", "still_wet")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("latitude = 52.2\nlongitude = -1.5\n", ""), "write latitude and longitude"),
        (("latitude = 52.2\n", ""), "A place needs both"),
        (("cast-thin", "cast-iron"), "no construction 'cast-iron'"),
        (("600", "nan"), "inner_diameter_mm"),
        (('zone = "Europe/London"', "[thickness_mm]\nshell = 2"), "shell"),
        (('zone = "Europe/London"', "[limits]\nfirst = 3"), "limits, first is not something"),
        (('zone = "Europe/London"', "[limits]\nsession_h = 30"), "limits, session_h"),
        (('zone = "Europe/London"', "[limits]\ncap_c = nan"), "limits, cap_c"),
        (
            (
                'zone = "Europe/London"',
                '[[layers]]\nkind = "render"\nmaterial = "render"\nthickness_mm = 30\n',
            ),
            "must be the shell",
        ),
        (('52.2\nlongitude = -1.5\nzone = "Europe/London"', "0\nlongitude = -30"), "in the sea"),
    ],
)
def test_an_oven_that_cannot_be_is_refused(
    paper: Paper, change: tuple[str, str], says: str
) -> None:
    assert change[0] in THIN
    assert says in told(paper.run(THIN.replace(*change)))


@pytest.mark.parametrize(
    ("journal", "says"),
    [
        ("", "The journal is empty"),
        ("\n".join(reversed(FIRED.splitlines())), "put the journal in order of time"),
        (FIRED.replace("2026-06-02", "2026-06-03"), "lies in the future"),
        (FIRED.replace("148", "NaN"), "line 2: NaN is not a number"),
        (FIRED.replace("148", "Infinity"), "line 2: Infinity is not a number"),
        (FIRED.replace("fire_out", "fire_off"), '"fire_off" is no kind of entry'),
        (FIRED.replace("2026-06-0", "2026-03-0"), "before the oven's wet work ended"),
    ],
)
def test_a_journal_that_cannot_be_is_refused(paper: Paper, journal: str, says: str) -> None:
    assert says in told(paper.run(THIN, journal=journal))


def refused(given: Sequence[str]) -> str:
    return told(RUNNER.invoke(app, ["plan", *given]))


def test_files_that_cannot_be_read_or_written_are_named(paper: Paper, tmp_path: Path) -> None:
    assert "Name an oven file" in refused([])
    assert "Cannot read the oven file" in refused(["--oven", str(tmp_path / "none.toml")])
    assert "Cannot read the oven file" in refused(["--oven", str(tmp_path)])
    paper.oven.write_bytes(b"\xff\xfe\x00name")
    assert "is not a text in UTF-8" in refused(["--oven", str(paper.oven)])
    paper.oven.write_text(THIN, encoding="utf-8")
    both = ["--oven", str(paper.oven), "--journal", str(tmp_path)]
    assert "Cannot read the journal" in refused(both)
    assert "name it like plan.png" in refused(["--oven", str(paper.oven), "--picture", "plan.svg"])
    assert "Cannot write" in told(
        paper.run(THIN + ONE, "--picture", str(tmp_path / "none" / "plan.png"), journal=FIRED)
    )


@pytest.mark.parametrize("at", ["noonish", "0001-01-01", "9999-12-31T23:59"])
def test_a_time_that_cannot_be_is_refused(paper: Paper, at: str) -> None:
    assert told(paper.run(THIN, at=at)).startswith("--at: ")


def test_a_time_without_an_offset_is_the_ovens_own() -> None:
    now = datetime(2026, 6, 1, tzinfo=UTC)
    assert moment("2026-06-01T09:15", LONDON, now) == datetime(2026, 6, 1, 8, 15, tzinfo=UTC)
    assert moment("2026-06-01T09:15+03:00", LONDON, now).astimezone(UTC).hour == 6
    assert moment(None, LONDON, now) == now
