"""Weather without a network: the climate of the place, hour by hour."""

import math
from datetime import datetime, timedelta

from scheduling.breakin.climate import HALF_RANGE_C, usual
from scheduling.breakin.hourly import WARMEST_SOLAR_HOUR
from scheduling.breakin.weather import HOUR, Forecast, HourWeather, Source, hours_of


class ClimateSource:
    """The offline default. Gives usual temperature and wind, and rain only as a chance."""

    def __init__(self, days: int = 10) -> None:
        self._days = days

    async def forecast(
        self,
        latitude: float,
        longitude: float,
        now: datetime,
        kept: Forecast | None = None,  # noqa: ARG002 - the climate has nothing to revalidate
    ) -> Forecast:
        """Usual weather of the coming days; never fails for a place on the globe."""
        hours = []
        for at in hours_of(now.replace(minute=0, second=0, microsecond=0), self._end(now)):
            day = usual(latitude, longitude, at.date())
            solar = (at.hour + longitude / 15.0) % 24.0
            swing = math.cos(2 * math.pi * (solar - WARMEST_SOLAR_HOUR) / 24.0)
            hours.append(
                HourWeather(
                    at=at,
                    air_c=round(day.mean_c + HALF_RANGE_C * swing, 1),
                    wind_ms=round(day.wind_ms, 1),
                    rain_mm=round(day.wet_probability * day.wet_day_mm / 24.0, 3),
                    rain_probability=round(day.wet_probability / 3.0, 3),
                )
            )
        return Forecast(
            source=Source.CLIMATE,
            issued_at=now,
            fetched_at=now,
            latitude=latitude,
            longitude=longitude,
            hours=tuple(hours),
            expires_at=now + timedelta(days=1),
        )

    def _end(self, now: datetime) -> datetime:
        return now + timedelta(days=self._days) + HOUR
