"""A rehearsal's own forecast: of its own sky, and honest about how far it sees."""

from datetime import UTC, date, datetime, timedelta

import numpy as np

from bot.commands.ovenfile import example, read_oven
from bot.rehearsal.air import HourlySky, made_up_sky
from bot.rehearsal.foretelling import RENEWED_AFTER, USUAL_CHANCE, ForetoldSky
from scheduling.breakin.weather import Source

NOW = datetime(2026, 5, 10, 6, 0, tzinfo=UTC)
PLACE = (52.2, -1.5)


def sky(kind: str) -> HourlySky:
    make_up = read_oven(example({})).make_up
    return made_up_sky(kind, make_up, np.random.default_rng(3), date(2026, 5, 1), 60)


async def test_the_coming_hours_are_told_as_they_will_be() -> None:
    gale = sky("gale")
    told = await ForetoldSky(gale).forecast(*PLACE, NOW)
    hour = next(one for one in told.hours if one.at == NOW)
    assert told.source is Source.MADE_UP
    assert hour.wind_ms is not None
    assert abs(hour.wind_ms - gale.at(NOW).wind_ms) < 0.01
    assert hour.air_c == gale.at(NOW).temperature_c


async def test_far_rain_is_told_with_less_certainty() -> None:
    told = await ForetoldSky(sky("showery")).forecast(*PLACE, NOW)
    rainy = [one for one in told.hours if one.rain_mm]
    assert rainy, "a showery week has rain"
    chances = [one.rain_probability or 0.0 for one in rainy]
    assert chances == sorted(chances, reverse=True)
    assert all(USUAL_CHANCE < chance < 0.96 for chance in chances)


async def test_it_is_renewed_when_it_has_expired() -> None:
    source = ForetoldSky(sky("dry"))
    first = await source.forecast(*PLACE, NOW)
    assert await source.forecast(*PLACE, NOW + timedelta(hours=1), first) is first
    later = await source.forecast(*PLACE, NOW + RENEWED_AFTER, first)
    assert later.issued_at > first.issued_at
