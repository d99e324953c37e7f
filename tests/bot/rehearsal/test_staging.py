"""A rehearsal set up from an oven file and a seed."""

from datetime import datetime

from bot.commands.ovenfile import example, read_oven
from bot.rehearsal.owners import Kind
from bot.rehearsal.staging import OWNER, Played, Weather, stage
from bot.weather.source import WeatherSource
from tests.bot.rehearsal.scripted import ScriptedCoach


async def staged(kind: Kind, weather: Weather, seed: int) -> Played:
    async def open_chat(start: datetime, *, weather: WeatherSource) -> ScriptedCoach:
        return ScriptedCoach(start, OWNER, (150,), 1.0)

    return await stage(read_oven(example({})).make_up, kind, weather, seed, open_chat)


async def test_the_same_seed_is_the_same_rehearsal_and_another_is_not() -> None:
    runs = [await staged(Kind.CAREFUL, Weather.SHOWERY, seed) for seed in (5, 5, 6)]
    assert runs[0].closing == runs[1].closing
    assert runs[0].lines == runs[1].lines
    assert runs[0].closing != runs[2].closing


async def test_an_oven_half_broken_in_is_not_called_good() -> None:
    played = await staged(Kind.NO_THERMOMETER, Weather.GALE, 1)
    assert played.closing.told_done
    assert not played.closing.good
    assert any("NOT dry" in line for line in played.closing.lines())
    assert len(played.diary.moments) > 10
