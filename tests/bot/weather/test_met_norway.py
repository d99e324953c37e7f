"""MET Norway's terms and the many ways in which a forecast can be wrong, over loopback."""

import asyncio
from collections.abc import AsyncIterator, Iterator
from datetime import UTC, datetime, timedelta

import httpx
import pytest

from bot.weather.climate_source import ClimateSource
from bot.weather.fallback import FirstThatTells
from bot.weather.met_norway import MetNorway, cut
from bot.weather.source import WeatherUnavailableError
from scheduling.breakin.weather import FlawKind, Forecast, Source
from tests.weatherserver.server import Answer, WeatherServer, document, running

NOW = datetime(2026, 5, 4, 6, 20, tzinfo=UTC)
ISSUED = NOW - timedelta(minutes=40)
EXPIRES = NOW + timedelta(minutes=32)


@pytest.fixture
def server() -> Iterator[WeatherServer]:
    with running() as one:
        one.answer = Answer.of(document(ISSUED), EXPIRES, ISSUED)
        yield one


@pytest.fixture
async def client() -> AsyncIterator[httpx.AsyncClient]:
    async with httpx.AsyncClient(trust_env=False) as one:
        yield one


@pytest.fixture
def source(server: WeatherServer, client: httpx.AsyncClient) -> MetNorway:
    return MetNorway(client, "weather@example.org", "1.2", server.address)


async def first(source: MetNorway) -> Forecast:
    return await source.forecast(60.123456, 10.98765, NOW)


async def test_it_says_who_asks_and_cuts_the_place_to_four_decimals(
    source: MetNorway, server: WeatherServer
) -> None:
    told = await source.forecast(60.123456, -10.98769, NOW)
    assert server.asked[0].query == {"lat": "60.1234", "lon": "-10.9876"}
    assert server.asked[0].headers["user-agent"] == "stokewatch/1.2 weather@example.org"
    assert "gzip" in server.asked[0].headers["accept-encoding"]
    assert (told.latitude, told.longitude) == (60.1234, -10.9876)


def test_without_a_contact_there_is_no_source() -> None:
    with pytest.raises(ValueError, match="contact"):
        MetNorway(httpx.AsyncClient(), "  ", "1.2")


def test_cutting_never_rounds() -> None:
    assert cut(0.00009) == 0.0
    assert cut(-0.00019) == -0.0001
    assert cut(51.47789) == 51.4778
    assert cut(51.4779) == 51.4779


async def test_hours_carry_numbers_age_and_credit(source: MetNorway) -> None:
    told = await first(source)
    assert told.attribution == "MET Norway, CC BY 4.0"
    assert told.issued_at == ISSUED
    assert told.hours[0].at == ISSUED.replace(minute=0)
    assert told.hours[0].rain_probability == pytest.approx(0.12)
    assert (told.hours[0].air_c, told.hours[0].wind_ms, told.hours[0].gust_ms) == (14.0, 4.0, 7.5)
    assert told.flaws == ()


async def test_six_hour_steps_become_hours_with_the_same_rain_in_all(source: MetNorway) -> None:
    told = await first(source)
    assert len(told.hours) == 48 + 20 * 6
    assert sum(h.rain_mm or 0 for h in told.hours) == pytest.approx(48 * 0.1 + 20 * 3.0)


async def test_nothing_is_asked_again_before_it_expires(
    source: MetNorway, server: WeatherServer
) -> None:
    told = await first(source)
    again = await source.forecast(60.123456, 10.98765, EXPIRES - timedelta(seconds=1), told)
    assert again is told
    assert len(server.asked) == 1


async def test_after_it_expires_only_a_newer_one_is_fetched(
    source: MetNorway, server: WeatherServer
) -> None:
    told = await first(source)
    server.answer.headers["Expires"] = "Mon, 04 May 2026 07:40:00 GMT"
    again = await source.forecast(60.123456, 10.98765, EXPIRES, told)
    assert server.asked[1].headers["if-modified-since"] == told.last_modified
    assert again.hours == told.hours
    assert again.expires_at == datetime(2026, 5, 4, 7, 40, tzinfo=UTC)


async def test_a_stored_forecast_of_another_place_is_not_mistaken_for_this_one(
    source: MetNorway, server: WeatherServer
) -> None:
    told = await first(source)
    await source.forecast(48.0, 2.0, NOW, told)
    assert "if-modified-since" not in server.asked[1].headers


async def test_the_end_of_the_version_is_told_by_a_flaw(
    source: MetNorway, server: WeatherServer
) -> None:
    server.answer.status = 203
    told = await first(source)
    assert [flaw.kind for flaw in told.flaws] == [FlawKind.DEPRECATED]
    assert told.hours


async def test_a_refused_service_is_left_alone_as_long_as_it_asks(
    source: MetNorway, server: WeatherServer
) -> None:
    server.answer = Answer(429, headers={"Retry-After": "3600"})
    with pytest.raises(WeatherUnavailableError) as refused:
        await first(source)
    assert refused.value.retry_at == NOW + timedelta(hours=1)
    with pytest.raises(WeatherUnavailableError):
        await source.forecast(50.0, 5.0, NOW + timedelta(minutes=59))
    assert len(server.asked) == 1
    server.answer = Answer.of(document(ISSUED), EXPIRES, ISSUED)
    assert (await source.forecast(50.0, 5.0, NOW + timedelta(hours=1))).hours


async def test_refusals_in_a_row_double_the_pause(source: MetNorway, server: WeatherServer) -> None:
    server.answer = Answer(429)
    pauses, now = [], NOW
    for _ in range(8):
        with pytest.raises(WeatherUnavailableError) as refused:
            await source.forecast(60.0, 10.0, now)
        pauses.append((refused.value.retry_at - now) / timedelta(minutes=1))
        now = refused.value.retry_at
    assert pauses == [10, 20, 40, 80, 160, 320, 360, 360]


@pytest.mark.parametrize("status", [403, 404, 422, 500, 503])
async def test_any_other_status_keeps_the_old_forecast_and_says_so(
    source: MetNorway, server: WeatherServer, status: int
) -> None:
    told = await first(source)
    server.answer = Answer(status, b"<p>no</p>")
    kept = await source.forecast(60.123456, 10.98765, EXPIRES, told)
    assert kept.hours == told.hours
    assert [flaw.kind for flaw in kept.flaws] == [FlawKind.NOT_RENEWED]


@pytest.mark.parametrize(
    "body",
    [b"", b"{", b"null", b"[]", b"\xff\xfe", b'{"properties": {}}', b"[" * 100_000,
     b'{"properties":{"meta":{"updated_at":"2026-05-04T05:00:00Z"},"timeseries":"x"}}',
     b'{"properties":{"meta":{"updated_at":"2026-05-04T05:00:00Z"},"timeseries":[]}}',
     b'{"properties":{"meta":{"updated_at":"yesterday"},"timeseries":[]}}'],
)  # fmt: skip
async def test_a_broken_document_is_no_weather(
    source: MetNorway, server: WeatherServer, body: bytes
) -> None:
    server.answer = Answer(200, body)
    with pytest.raises(WeatherUnavailableError, match="unreadable"):
        await first(source)


async def test_a_service_that_does_not_answer_is_given_up(
    server: WeatherServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.weather.met_norway.TIMEOUT", httpx.Timeout(0.05))
    server.answer.hangs_s = 0.3
    async with httpx.AsyncClient(trust_env=False) as client:
        with pytest.raises(WeatherUnavailableError, match="unreachable"):
            await first(MetNorway(client, "a@example.org", "1", server.address))
    await asyncio.sleep(0)


@pytest.mark.parametrize(
    ("name", "value", "kind"),
    [
        ("wind_speed", 200.0, FlawKind.ABSURD_WIND),
        ("wind_speed", -1.0, FlawKind.ABSURD_WIND),
        ("wind_speed_of_gust", 2.0, FlawKind.GUST_BELOW_MEAN),
        ("air_temperature", 999.9, FlawKind.ABSURD_AIR),
        ("air_temperature", "warm", FlawKind.NOT_A_NUMBER),
        ("wind_speed", True, FlawKind.NOT_A_NUMBER),
        ("wind_speed", float("nan"), FlawKind.NOT_A_NUMBER),
    ],
)
async def test_absurd_numbers_are_left_out_and_told(
    source: MetNorway, server: WeatherServer, name: str, value: object, kind: FlawKind
) -> None:
    odd = document(ISSUED)
    odd["properties"]["timeseries"][3]["data"]["instant"]["details"][name] = value
    server.answer = Answer.of(odd, EXPIRES, ISSUED)
    told = await first(source)
    assert [flaw.kind for flaw in told.flaws] == [kind]
    assert len(told.hours) == 168


async def test_negative_rain_is_unknown_rain_not_dry_weather(
    source: MetNorway, server: WeatherServer
) -> None:
    odd = document(ISSUED)
    period = odd["properties"]["timeseries"][3]["data"]["next_1_hours"]["details"]
    period["precipitation_amount"] = -4.0
    server.answer = Answer.of(odd, EXPIRES, ISSUED)
    told = await first(source)
    assert told.hours[3].rain_mm is None
    assert told.flaws[0].kind is FlawKind.NEGATIVE_RAIN
    assert told.flaws[0].value == -4.0


async def test_missing_hours_stay_a_hole_and_are_counted(
    source: MetNorway, server: WeatherServer
) -> None:
    holed = document(ISSUED)
    del holed["properties"]["timeseries"][10:15]
    server.answer = Answer.of(holed, EXPIRES, ISSUED)
    told = await first(source)
    assert len(told.hours) == 168 - 5
    assert [(f.kind, f.count) for f in told.flaws] == [(FlawKind.MISSING_HOURS, 5)]


async def test_a_quantity_in_an_unknown_unit_is_not_read(
    source: MetNorway, server: WeatherServer
) -> None:
    odd = document(ISSUED)
    odd["properties"]["meta"]["units"]["air_temperature"] = "fahrenheit"
    server.answer = Answer.of(odd, EXPIRES, ISSUED)
    told = await first(source)
    assert told.hours[0].air_c is None
    assert told.flaws[0].kind is FlawKind.UNIT_UNKNOWN


async def test_the_climate_stands_in_and_says_that_it_does(
    source: MetNorway, server: WeatherServer
) -> None:
    server.answer = Answer(503)
    told = await FirstThatTells([source, ClimateSource()]).forecast(60.0, 10.0, NOW)
    assert told.source is Source.CLIMATE
    assert [flaw.kind for flaw in told.flaws] == [FlawKind.NOT_RENEWED]
    assert len(told.hours) >= 240


async def test_a_forecast_survives_being_stored(source: MetNorway) -> None:
    told = await first(source)
    assert Forecast.model_validate_json(told.model_dump_json()) == told
