"""Forecasts are kept fresh, one question a place, and only what is new goes to an oven."""

from collections.abc import AsyncIterator, Iterator
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import httpx
import pytest

from bot.weather.climate_source import ClimateSource
from bot.weather.fallback import FirstThatTells
from bot.weather.met_norway import MetNorway
from bot.weather.watch import MISSED_FOR, WeatherWatch
from scheduling.breakin.renewal import KEPT_D, bounded
from scheduling.breakin.weather import Forecast, Source
from scheduling.clock import SteppedClock
from scheduling.happening import Forecasted, Happening
from scheduling.journal import ENTRY, Foretold
from scheduling.oven.makeup import MakeUp
from scheduling.oven.preset import shipped
from scheduling.ports import OvenCard, PromisedDay
from storage.memory import MemoryStore
from tests.weatherserver.server import Answer, WeatherServer, document, running

NOW = datetime(2026, 5, 4, 6, 20, tzinfo=UTC)
HALF_HOUR = timedelta(minutes=30)
OSLO = (59.9139, 10.7522)
ZONE = ZoneInfo("Europe/Oslo")


@dataclass(frozen=True)
class Known:
    makeup: MakeUp | None
    forecast: Forecast | None = None
    promised: tuple[PromisedDay, ...] = ()
    finished: bool = False
    zoneinfo: ZoneInfo = ZONE


@dataclass
class KnownOvens:
    """Ovens that take in what they are told, but for one that cannot."""

    store: MemoryStore
    records: dict[str, Known] = field(default_factory=dict)
    handed_in: list[tuple[str, Forecast]] = field(default_factory=list)
    broken: str = ""

    async def add(
        self,
        oven: str,
        place: tuple[float, float] | None = OSLO,
        firing_on: date | None = None,
        finished: bool = False,
        state: str = "curing",
    ) -> None:
        days = () if firing_on is None else (PromisedDay(firing=1, day=firing_on, told_at=NOW),)
        self.records[oven] = Known(standing_at(place), promised=days, finished=finished)
        async with self.store.write() as unit:
            await unit.ovens.put(OvenCard(id=oven, name=oven, state=state))
            await unit.commit()

    async def record(self, oven_id: str) -> Known:
        return self.records[oven_id]

    async def happen(self, oven_id: str, happening: Happening) -> None:
        assert isinstance(happening, Forecasted)
        if oven_id == self.broken:
            raise RuntimeError("this one cannot take anything in")
        self.handed_in.append((oven_id, happening.forecast))
        kept = replace(self.records[oven_id], forecast=happening.forecast)
        self.records[oven_id] = kept


def standing_at(place: tuple[float, float] | None) -> MakeUp:
    latitude, longitude = place or (None, None)
    return shipped().make_up(
        "cast-dense",
        name="dome",
        inner_diameter_mm=900.0,
        wet_work_ended=date(2026, 3, 1),
        latitude=latitude,
        longitude=longitude,
        zone="Europe/Oslo",
    )


@pytest.fixture
def clock() -> SteppedClock:
    return SteppedClock(NOW)


@pytest.fixture
def ovens() -> KnownOvens:
    return KnownOvens(MemoryStore())


@pytest.fixture
def server() -> Iterator[WeatherServer]:
    with running() as one:
        tells(one, NOW - HALF_HOUR)
        yield one


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    async with httpx.AsyncClient(trust_env=False) as one:
        yield one


@pytest.fixture
def watch(
    server: WeatherServer, client: httpx.AsyncClient, ovens: KnownOvens, clock: SteppedClock
) -> WeatherWatch:
    met = MetNorway(client, "weather@example.org", "1.2", server.address)
    return WeatherWatch(FirstThatTells((met, ClimateSource())), ovens.store, ovens, clock)


def tells(server: WeatherServer, issued_at: datetime, **instant: float) -> None:
    expires = issued_at + timedelta(hours=1)
    settled = document(issued_at, 90, 0, **instant)
    server.answer = Answer.of(settled, expires, issued_at)


async def test_a_forecast_is_fetched_and_handed_in(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer
) -> None:
    await ovens.add("dome")
    assert await watch.look() == 1
    (oven, forecast) = ovens.handed_in[0]
    assert (oven, forecast.source) == ("dome", Source.MET_NORWAY)
    assert (forecast.latitude, forecast.longitude) == OSLO
    assert forecast.attribution == "MET Norway, CC BY 4.0"


async def test_ovens_that_share_a_place_share_a_question(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer
) -> None:
    await ovens.add("dome")
    await ovens.add("barrel", place=(OSLO[0] + 0.00004, OSLO[1]))
    await ovens.add("far", place=(52.5, 13.4))
    assert await watch.look() == 3
    assert len(server.asked) == 2


async def test_nothing_is_asked_again_before_it_expires(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome")
    await watch.look()
    assert await watch.look() == 0, "it is not time yet"
    assert await watch.next_due() == NOW + HALF_HOUR
    clock.move_to(NOW + timedelta(minutes=29))
    await watch.look()
    assert len(server.asked) == 1
    clock.move_to(NOW + HALF_HOUR)
    await watch.look()
    assert len(server.asked) == 2, "expired: asked after, and unchanged"
    assert "if-modified-since" in server.asked[1].headers
    assert len(ovens.handed_in) == 1, "what has not changed goes nowhere"


async def test_after_a_restart_the_kept_forecast_counts(
    watch: WeatherWatch,
    ovens: KnownOvens,
    server: WeatherServer,
    client: httpx.AsyncClient,
    clock: SteppedClock,
) -> None:
    await ovens.add("dome")
    await watch.look()
    again = WeatherWatch(
        MetNorway(client, "weather@example.org", "1.2", server.address), ovens.store, ovens, clock
    )
    assert await again.look() == 0
    assert len(server.asked) == 1


async def test_a_renewal_that_says_the_same_stays_out_of_the_journal(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome")
    for hour in range(24):
        clock.move_to(NOW + timedelta(hours=hour))
        tells(server, clock.now() - HALF_HOUR)
        await watch.look()
    assert len(server.asked) == 24
    assert len(ovens.handed_in) == 1


async def test_near_a_firing_the_kept_forecast_stays_fresh(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome", firing_on=date(2026, 5, 6))
    for hour in range(24):
        clock.move_to(NOW + timedelta(hours=hour))
        tells(server, clock.now() - HALF_HOUR)
        await watch.look()
    assert 3 <= len(ovens.handed_in) <= 4


async def test_a_gale_is_handed_in_at_once(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome")
    await watch.look()
    clock.move_to(NOW + HALF_HOUR)
    tells(server, NOW + timedelta(minutes=20), wind_speed=21.0, wind_speed_of_gust=30.0)
    assert await watch.look() == 1
    assert ovens.handed_in[-1][1].hours[3].wind_ms == 21.0


async def test_ovens_without_a_place_or_without_firings_left_are_left_alone(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer
) -> None:
    await ovens.add("placeless", place=None)
    await ovens.add("finished", finished=True)
    await ovens.add("done", state="done")
    await ovens.add("new", state="set_up")
    assert await watch.look() == 0
    assert server.asked == []


async def test_one_oven_that_fails_stops_no_other(watch: WeatherWatch, ovens: KnownOvens) -> None:
    await ovens.add("a")
    await ovens.add("b")
    ovens.broken = "a"
    assert await watch.look() == 1
    assert [oven for oven, _ in ovens.handed_in] == ["b"]


async def test_a_service_that_is_down_is_said_after_a_while_and_moves_nothing(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome")
    server.answer = Answer(500)
    assert await watch.look() == 0
    assert await watch.fault() is None
    clock.move_to(NOW + MISSED_FOR)
    await watch.look()
    told = await watch.fault()
    assert told is not None
    assert "1 of 1 places has not been renewed since 2026-05-04 06:20 UTC" in told
    assert ovens.handed_in == [], "the climate is known without being told"
    clock.move_to(NOW + 3 * MISSED_FOR)
    tells(server, clock.now() - HALF_HOUR)
    assert await watch.look() == 1
    assert await watch.fault() is None


async def test_a_kept_forecast_that_could_not_be_renewed_is_not_handed_in_again(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer, clock: SteppedClock
) -> None:
    await ovens.add("dome")
    await watch.look()
    server.answer = Answer(429, headers={"Retry-After": "3600"})
    for hour in range(1, 12):
        clock.move_to(NOW + timedelta(hours=hour))
        await watch.look()
    assert len(ovens.handed_in) == 1
    assert await watch.fault() is not None


async def test_an_end_of_the_version_is_told(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer
) -> None:
    await ovens.add("dome")
    issued = NOW - HALF_HOUR
    server.answer = Answer.of(document(issued), NOW + HALF_HOUR, issued, status=203)
    assert await watch.look() == 1
    assert "end of the version" in (await watch.fault() or "")


async def test_what_is_kept_is_bounded_and_comes_back_whole(
    watch: WeatherWatch, ovens: KnownOvens, server: WeatherServer
) -> None:
    await ovens.add("dome")
    issued = NOW - HALF_HOUR
    long = document(issued, hourly=90, six_hourly=40)
    server.answer = Answer.of(long, NOW + HALF_HOUR, issued)
    await watch.look()
    kept = ovens.handed_in[0][1]
    assert kept.hours[-1].at < NOW + timedelta(days=KEPT_D)
    entry = Foretold(at=NOW, forecast=kept)
    written = ENTRY.dump_json(entry)
    assert ENTRY.validate_json(written) == entry
    assert len(written) < 10_000, "ten days of hours in a few kilobytes"
    assert bounded(kept, NOW) == kept


def test_a_forecast_that_was_stored_hour_by_hour_is_still_read() -> None:
    hour = {"at": "2026-05-04T06:00:00Z", "air_c": 4.0, "rain_mm": 0.2}
    told = {
        "source": "met_norway",
        "issued_at": "2026-05-04T05:00:00Z",
        "fetched_at": "2026-05-04T06:00:00Z",
        "latitude": 59.9,
        "longitude": 10.7,
        "hours": [hour],
    }
    forecast = Forecast.model_validate(told)
    assert forecast.hours[0].air_c == 4.0
    assert Forecast.model_validate_json(forecast.model_dump_json()) == forecast


def test_columns_that_do_not_fit_are_no_forecast() -> None:
    told = {
        "source": "met_norway",
        "issued_at": "2026-05-04T05:00:00Z",
        "fetched_at": "2026-05-04T06:00:00Z",
        "latitude": 59.9,
        "longitude": 10.7,
        "hours": {"at": [1777874400, 1777878000], "air_c": [4.0]},
    }
    with pytest.raises(ValueError, match="of one length"):
        Forecast.model_validate(told)
