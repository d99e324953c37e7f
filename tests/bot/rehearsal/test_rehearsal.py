"""Owner, oven and a (scripted) coach together."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from bot.rehearsal.air import PlainSky
from bot.rehearsal.closing import Closing
from bot.rehearsal.diary import Diary
from bot.rehearsal.keepsakes import keep
from bot.rehearsal.owners import Kind, Owner
from bot.rehearsal.rehearsal import Line, Rehearsal
from bot.rehearsal.trueoven import TrueOven
from bot.rehearsal.truth import draw_truth
from scheduling.oven.makeup import MakeUp
from scheduling.oven.preset import shipped
from tests.bot.rehearsal.scripted import Said, ScriptedCoach

START = datetime(2026, 5, 25, 18, tzinfo=UTC)


def told(shell_mm: float = 60) -> MakeUp:
    return shipped().make_up(
        "cast-dense",
        name="Test oven",
        inner_diameter_mm=700,
        wet_work_ended=date(2026, 5, 1),
        thickness_mm={"shell": shell_mm},
    )


async def played(
    kind: Kind, coach: ScriptedCoach, seed: int = 1, permeability_m2: float | None = None
) -> tuple[Closing, list[Line], Rehearsal, Diary]:
    make_up = told()
    rng = np.random.default_rng(seed)
    truth = draw_truth(make_up, rng)
    if permeability_m2 is not None:
        tight = replace(truth.crown[0], permeability_m2=permeability_m2)
        truth = replace(truth, crown=(tight, *truth.crown[1:]))
    oven = TrueOven(make_up, truth, PlainSky(), START)
    owner = Owner("robin", kind, oven, rng)
    lines: list[Line] = []
    diary = Diary()
    rehearsal = Rehearsal(coach, oven, owner, lines.append, diary.watch)
    return await rehearsal.play(), lines, rehearsal, diary


async def test_a_careful_owner_with_a_gentle_coach_ends_dry_clear_and_unharmed(
    tmp_path: Path,
) -> None:
    closing, lines, rehearsal, diary = await played(Kind.CAREFUL, ScriptedCoach(START, "robin"))
    assert closing.ended == "finished"
    assert closing.firings == 5
    assert closing.dry
    assert closing.soot_clear
    assert closing.unharmed
    assert closing.good
    assert closing.wood_orders > 5
    assert rehearsal.audit.faults == []
    files = keep(tmp_path, lines, diary, closing, ZoneInfo("UTC"))
    assert all(path.stat().st_size > 100 for path in files)
    assert "robin" in (tmp_path / "replay.jsonl").read_text()


async def test_a_reckless_coach_is_found_out_by_the_wall() -> None:
    coach = ScriptedCoach(START, "robin", (430,), 3.0, heavy_kg=2.5)
    closing, *_ = await played(Kind.CAREFUL, coach, permeability_m2=2e-17)
    assert not closing.unharmed
    assert not closing.good
    assert any("DAMAGED" in line for line in closing.lines())


async def test_a_coach_that_stops_halfway_leaves_a_wet_sooty_oven() -> None:
    closing, *_ = await played(Kind.CAREFUL, ScriptedCoach(START, "robin", (150,), 2.0))
    assert closing.told_done
    assert not closing.dry
    assert not closing.good


async def test_the_same_seed_tells_the_same_story() -> None:
    runs = [await played(Kind.CARELESS, ScriptedCoach(START, "robin", (150,), 1.0)) for _ in "ab"]
    assert runs[0][1] == runs[1][1]


async def test_a_silent_owner_says_less_than_a_careful_one() -> None:
    said = {}
    for kind in (Kind.CAREFUL, Kind.SILENT):
        coach = ScriptedCoach(START, "robin", (150,), 3.0)
        await played(kind, coach)
        said[kind] = len(coach.said)
    assert said[Kind.SILENT] < said[Kind.CAREFUL]


async def test_an_owner_without_a_thermometer_never_sends_a_number() -> None:
    coach = ScriptedCoach(START, "robin", (150,), 1.5)
    await played(Kind.NO_THERMOMETER, coach)
    spoken = [text for _, text in coach.said if not text.startswith(("put", "added"))]
    assert any("no thermometer" in text for text in spoken)
    assert not any(digit in text for text in spoken for digit in "123456789")


class PushyCoach(ScriptedCoach):
    """Asks for wood without ever asking for a number."""

    def _due(self) -> list[Said]:
        if self.lit_at is None or self.now - self.lit_at > timedelta(hours=self.hours):
            return super()._due()
        self.asked_at = self.now
        return self._heard("Add 0.5 kg now.", "Put on")


async def test_wood_asked_for_without_a_fresh_number_is_noticed() -> None:
    _, _, rehearsal, _ = await played(Kind.CAREFUL, PushyCoach(START, "robin", (150,), 2.0))
    assert {fault.why for fault in rehearsal.audit.faults} == {"stale"}


@pytest.mark.parametrize("kind", list(Kind))
async def test_every_owner_gets_through_a_first_firing(kind: Kind) -> None:
    closing, *_ = await played(kind, ScriptedCoach(START, "robin", (150,), 1.5))
    assert closing.firings >= 1
    assert closing.unharmed
