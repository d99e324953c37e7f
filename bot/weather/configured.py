"""The weather source that an installation has by its settings."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib import metadata

import httpx

from bot.settings import Settings
from bot.weather.climate_source import ClimateSource
from bot.weather.fallback import FirstThatTells
from bot.weather.met_norway import MetNorway
from bot.weather.source import WeatherSource


@asynccontextmanager
async def configured_source(settings: Settings) -> AsyncIterator[WeatherSource | None]:
    """MET Norway, and the climate where it fails; None without a contact.

    None means the usual weather of each place, which needs no source: the core knows it. So it
    does on a clock of its own pace, since a service knows only real days.
    """
    if not settings.weather_contact.strip() or settings.pace != 1.0:
        yield None
        return
    async with httpx.AsyncClient(follow_redirects=False) as client:
        met = MetNorway(client, settings.weather_contact, version(), settings.weather_url)
        yield FirstThatTells((met, ClimateSource()))


def version() -> str:
    """Of the program that asks."""
    return metadata.version("stokewatch")
