"""The weather port: who can tell the weather of a place, and how it may fail.

WeatherUnavailableError   nothing could be had now; ask again at ``retry_at``
"""

from datetime import datetime
from typing import Protocol

from scheduling.breakin.weather import Forecast


class WeatherUnavailableError(Exception):
    """No forecast could be had, and none was kept. ``why`` is a short fixed word for the log."""

    def __init__(self, why: str, retry_at: datetime) -> None:
        super().__init__(f"no weather: {why}; ask again at {retry_at:%Y-%m-%d %H:%M} UTC")
        self.why = why
        self.retry_at = retry_at


class WeatherSource(Protocol):
    """Tells the weather ahead at a place."""

    async def forecast(
        self, latitude: float, longitude: float, now: datetime, kept: Forecast | None = None
    ) -> Forecast:
        """The weather ahead, ``kept`` being what is stored of an earlier answer.

        Returns ``kept`` itself while it is good; ``kept`` with a NOT_RENEWED flaw where a new
        one could not be had. Raises WeatherUnavailableError where there is neither.
        """
        ...
