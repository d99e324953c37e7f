"""One source behind another: what the first cannot tell, the second does."""

from collections.abc import Sequence
from datetime import datetime

from bot.weather.source import WeatherSource, WeatherUnavailableError
from scheduling.breakin.weather import Flaw, FlawKind, Forecast


class FirstThatTells:
    """Asks sources in order. An answer in place of a failed one says so by its flaw."""

    def __init__(self, sources: Sequence[WeatherSource]) -> None:
        if not sources:
            raise ValueError("at least one weather source is needed")
        self._sources = tuple(sources)

    async def forecast(
        self, latitude: float, longitude: float, now: datetime, kept: Forecast | None = None
    ) -> Forecast:
        """The first answer. Raises the last source's WeatherUnavailableError if all fail."""
        failed: WeatherUnavailableError | None = None
        for source in self._sources:
            try:
                told = await source.forecast(latitude, longitude, now, kept)
            except WeatherUnavailableError as error:
                failed = error
                continue
            return told if failed is None else told.with_flaw(Flaw(kind=FlawKind.NOT_RENEWED))
        assert failed is not None  # noqa: S101 - there is at least one source
        raise failed
