"""The air that a mortar cures in: measured where it was, foretold where it is, else usual."""

from collections.abc import Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from scheduling.breakin.climate import usual
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import Forecast, Source
from scheduling.oven.maturity import HORIZON_D, DayTemperature

HOURS_OF_A_DAY = 18
"""Hours that a forecast must tell of a day before their mean stands for it (own choice)."""


def curing_air(
    began: date,
    today: date,
    place: tuple[float, float],
    zone: ZoneInfo,
    forecast: Forecast | None = None,
    measured: Sequence[DayTemperature] = (),
) -> tuple[DayTemperature, ...]:
    """Every day's air from ``began`` on, as ``maturity.cure`` takes it, in order of time.

    ``place`` is latitude and longitude. What was measured outranks a forecast, a forecast the
    usual weather of the place; a forecast's hours gone by count as measured. Two years of days
    at most: long before then any mortar that will ever be strong is strong.
    """
    ahead = max(today, began) + timedelta(days=HORIZON_D)
    span = min((ahead - began).days, 2 * HORIZON_D)
    days = (began + timedelta(days=i) for i in range(span + 1))
    air = {day: DayTemperature(day, usual(*place, day).mean_c, None, "climate") for day in days}
    air |= {one.day: one for one in _told(forecast, today, zone) if one.day in air}
    air |= {one.day: one for one in measured if one.day in air}
    return tuple(air[day] for day in sorted(air))


def _told(forecast: Forecast | None, today: date, zone: ZoneInfo) -> list[DayTemperature]:
    """Means and lows of the local days that a forecast covers well."""
    if forecast is None or forecast.source is Source.CLIMATE:
        return []
    airs: dict[date, list[float]] = {}
    for hour in forecast.hours:
        if hour.air_c is not None:
            airs.setdefault(local_day(hour.at, zone), []).append(hour.air_c)
    return [
        DayTemperature(
            day,
            sum(seen) / len(seen),
            min(seen),
            "measured" if day < today else "forecast",
        )
        for day, seen in airs.items()
        if len(seen) >= HOURS_OF_A_DAY
    ]
