"""Keeps the forecasts of all ovens that have firings left fresh, and hands new ones in.

A forecast goes the road of every happening (``Forecasted``), so that what follows from it is
decided where everything is decided, and nothing moves without a word. Most renewals say nothing
new and go no further than here.
"""

import asyncio
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Protocol
from zoneinfo import ZoneInfo

import structlog

from bot.weather.met_norway import cut
from bot.weather.source import WeatherSource, WeatherUnavailableError
from scheduling.breakin.renewal import NEAR_D, bounded, worth_keeping
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import FlawKind, Forecast
from scheduling.clock import Clock
from scheduling.happening import Forecasted, Happening
from scheduling.oven.makeup import MakeUp
from scheduling.ports import PromisedDay, Store
from scheduling.record import Phase

EVERY = timedelta(minutes=30)
"""Between two looks. A source is only asked again once its answer has expired."""

AT_ONCE = 4
"""Places asked for side by side."""

MISSED_FOR = timedelta(hours=6)
"""A place whose weather could not be renewed for this long is told as a fault."""

UNWATCHED = (Phase.SET_UP, Phase.DONE, Phase.LEFT)
WATCHED = tuple(phase.value for phase in Phase if phase not in UNWATCHED)
"""States of ovens that have firings left."""

_log = structlog.get_logger(__name__)

Place = tuple[float, float]


class Record(Protocol):
    """What the watch needs to know of an oven."""

    @property
    def makeup(self) -> MakeUp | None:
        """Where it stands, among other things."""
        ...

    @property
    def finished(self) -> bool:
        """No firings are left."""
        ...

    @property
    def forecast(self) -> Forecast | None:
        """The forecast that was kept last."""
        ...

    @property
    def promised(self) -> Sequence[PromisedDay]:
        """The days that the owner was told."""
        ...

    @property
    def zoneinfo(self) -> ZoneInfo:
        """The oven's own time zone."""
        ...


class Ovens(Protocol):
    """What the watch needs of the engine."""

    async def record(self, oven_id: str) -> Record:
        """The record as it stands."""
        ...

    async def happen(self, oven_id: str, happening: Happening) -> object:
        """Take a happening to the oven."""
        ...


def _near(place: Place) -> str:
    """A place as a log may name it: the whole degree it lies in, nobody's garden."""
    return f"{place[0]:.0f}, {place[1]:.0f}"


@dataclass(frozen=True, slots=True)
class _Oven:
    id: str
    kept: Forecast | None
    zone: ZoneInfo
    firing_days: tuple[date, ...]


class WeatherWatch:
    """``look`` does what is due and can be called at any time; ``next_due`` says when."""

    def __init__(
        self,
        source: WeatherSource,
        store: Store,
        ovens: Ovens,
        clock: Clock,
        every: timedelta = EVERY,
    ) -> None:
        self._source = source
        self._store = store
        self._ovens = ovens
        self._clock = clock
        self._every = every
        self._next = clock.now()
        self._answers: dict[Place, Forecast] = {}
        self._missed_since: dict[Place, datetime] = {}
        self._deprecated = False

    async def next_due(self) -> datetime:
        """When to look again."""
        return self._next

    async def look(self) -> int:
        """Ask after every place, if it is time; returns how many forecasts were handed in.

        One oven's or one place's failure is logged and stops no other.
        """
        now = self._clock.now()
        if now < self._next:
            return 0
        self._next = now + self._every
        ovens = await self._by_place()
        self._forget_but(ovens.keys())
        gate = asyncio.Semaphore(AT_ONCE)
        told = await asyncio.gather(
            *(self._ask(place, ovens[place], now, gate) for place in sorted(ovens))
        )
        count = 0
        for place, forecast in zip(sorted(ovens), told, strict=True):
            if forecast is not None:
                for oven in ovens[place]:
                    count += await self._hand_in(oven, forecast, now)
        return count

    async def fault(self) -> str | None:
        """What is wrong with the weather, in a sentence; None when nothing is."""
        now = self._clock.now()
        missed = [since for since in self._missed_since.values() if now - since >= MISSED_FOR]
        if missed:
            return (
                f"the weather of {len(missed)} of {len(self._answers.keys() | self._missed_since)} "
                f"places has not been renewed since {min(missed):%Y-%m-%d %H:%M} UTC"
            )
        if self._deprecated:
            return "the weather service announces the end of the version that is asked"
        return None

    async def _by_place(self) -> dict[Place, list[_Oven]]:
        async with self._store.read() as unit:
            cards = await unit.ovens.in_states(WATCHED)
        found: dict[Place, list[_Oven]] = {}
        for card in cards:
            try:
                record = await self._ovens.record(card.id)
            except Exception:  # noqa: BLE001 - a journal that cannot be read stops no other
                _log.exception("no weather for an oven", oven=card.id)
                continue
            makeup = record.makeup
            if record.finished or makeup is None:
                continue
            if makeup.latitude is None or makeup.longitude is None:
                continue
            days = tuple(one.day for one in record.promised)
            oven = _Oven(card.id, record.forecast, record.zoneinfo, days)
            place = (cut(makeup.latitude), cut(makeup.longitude))
            found.setdefault(place, []).append(oven)
        return found

    async def _ask(
        self, place: Place, ovens: Sequence[_Oven], now: datetime, gate: asyncio.Semaphore
    ) -> Forecast | None:
        kept = self._answers.get(place) or _newest(place, ovens)
        async with gate:
            try:
                told = await self._source.forecast(*place, now, kept)
            except WeatherUnavailableError as error:
                self._missed(place, now, error.why)
                return None
            except Exception:  # noqa: BLE001 - whatever one answer holds, the others count
                _log.exception("weather failed", near=_near(place))
                self._missed(place, now, "failed")
                return None
        flaws = {flaw.kind for flaw in told.flaws}
        self._deprecated = FlawKind.DEPRECATED in flaws
        if FlawKind.NOT_RENEWED in flaws:
            self._missed(place, now, "not renewed")
            return None
        if self._missed_since.pop(place, None) is not None:
            _log.info("weather renewed", near=_near(place))
        if told is not kept and flaws:
            _log.warning("flawed weather", near=_near(place), flaws=flaws)
        self._answers[place] = told
        return told

    def _missed(self, place: Place, now: datetime, why: str) -> None:
        if place not in self._missed_since:
            _log.warning("weather not renewed", near=_near(place), why=why)
            self._missed_since[place] = now

    async def _hand_in(self, oven: _Oven, told: Forecast, now: datetime) -> int:
        today = local_day(now, oven.zone)
        near = any(0 <= (day - today).days <= NEAR_D for day in oven.firing_days)
        if not worth_keeping(oven.kept, told, now, oven.zone, firing_near=near):
            return 0
        try:
            await self._ovens.happen(oven.id, Forecasted(bounded(told, now)))
        except Exception:  # noqa: BLE001 - one oven's fault must not stop the others
            _log.exception("forecast not handed in", oven=oven.id)
            return 0
        return 1

    def _forget_but(self, places: Collection[Place]) -> None:
        """Nobody asks after the other places any more."""
        for known in (self._answers, self._missed_since):
            for place in known.keys() - set(places):
                known.pop(place)


def _newest(place: Place, ovens: Sequence[_Oven]) -> Forecast | None:
    """What the journals keep of that place: asked after, not asked for again, after a restart."""
    kept = [
        oven.kept
        for oven in ovens
        if oven.kept is not None and (oven.kept.latitude, oven.kept.longitude) == place
    ]
    return max(kept, key=lambda one: one.fetched_at, default=None)
