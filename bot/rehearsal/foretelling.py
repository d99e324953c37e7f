"""The forecast of a made-up sky: true for tomorrow, and less sure of itself the further ahead."""

import math
from datetime import datetime, timedelta

from bot.rehearsal.air import HourlySky
from bot.rehearsal.weathermaking import FORECAST_FADES_D
from scheduling.breakin.weather import HOUR, Forecast, HourWeather, Source

DAYS_AHEAD = 9
RENEWED_AFTER = timedelta(hours=6)
USUAL_CHANCE = 0.15
"""What a chance of rain in one hour fades to (own choice)."""


class ForetoldSky:
    """``WeatherSource`` over a rehearsal's own weather, whatever the place that is asked for."""

    def __init__(self, sky: HourlySky) -> None:
        self._sky = sky
        winds = [hour.wind_ms or 0.0 for hour in sky.told]
        self._usual_wind_ms = sum(winds) / len(winds)

    async def forecast(
        self, latitude: float, longitude: float, now: datetime, kept: Forecast | None = None
    ) -> Forecast:
        """The hours ahead as a service would tell them; it is never out of reach."""
        if kept is not None and kept.expires_at is not None and now < kept.expires_at:
            return kept
        issued_at = now.replace(minute=0, second=0, microsecond=0)
        last = now + timedelta(days=DAYS_AHEAD)
        return Forecast(
            source=Source.MADE_UP,
            issued_at=issued_at,
            fetched_at=now,
            latitude=latitude,
            longitude=longitude,
            hours=tuple(
                self._faded(hour, (hour.at - now) / timedelta(days=1))
                for hour in self._sky.told
                if now - HOUR <= hour.at < last
            ),
            expires_at=issued_at + RENEWED_AFTER,
        )

    def _faded(self, hour: HourWeather, lead_d: float) -> HourWeather:
        skill = math.exp(-max(0.0, lead_d) / FORECAST_FADES_D)

        def fade(value: float | None, usual: float) -> float | None:
            return None if value is None else skill * value + (1.0 - skill) * usual

        wind = fade(hour.wind_ms, self._usual_wind_ms)
        return hour.model_copy(
            update={
                "rain_probability": fade(hour.rain_probability, USUAL_CHANCE),
                "wind_ms": wind,
                "gust_ms": None if wind is None else 1.6 * wind,
            }
        )
