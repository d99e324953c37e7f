"""MET Norway's Locationforecast 2.0 over httpx, by its terms of service.

An identifying User-Agent with a contact, coordinates cut to four decimals, nothing asked again
before ``Expires`` and then with ``If-Modified-Since``, gzip, a pause after 429, a flaw where 203
announces the end of the version. The data are CC BY 4.0: ``Forecast.attribution`` is to be shown.
"""

import math
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime

import httpx

from bot.settings import LOCATIONFORECAST
from bot.weather import met_document
from bot.weather.source import WeatherUnavailableError
from scheduling.breakin.weather import Flaw, FlawKind, Forecast, Source

TIMEOUT = httpx.Timeout(10.0, connect=5.0)
LARGEST_BYTES = 5_000_000
SHORTEST_WAIT = timedelta(minutes=10)
LONGEST_WAIT = timedelta(hours=6)
"""Own choices: how long a refused or broken service is left alone, doubling from the first."""


class MetNorway:
    """Forecasts for land all over the world. One instance for the whole process.

    ``contact`` is an e-mail address or web address of who runs this bot; the service's terms ask
    for it. ``client`` is the caller's to close.
    """

    def __init__(
        self, client: httpx.AsyncClient, contact: str, version: str, address: str = LOCATIONFORECAST
    ) -> None:
        if not contact.strip():
            raise ValueError(
                "the weather service wants to know whom to write to: set a contact address"
            )
        self._client = client
        self._address = address
        self._agent = f"stokewatch/{version} {contact.strip()}"
        self._rest_until: datetime | None = None
        self._failures = 0

    async def forecast(
        self, latitude: float, longitude: float, now: datetime, kept: Forecast | None = None
    ) -> Forecast:
        """See ``WeatherSource``. Asks the network at most once a call."""
        place = (cut(latitude), cut(longitude))
        if kept is not None and (kept.source, kept.latitude, kept.longitude) != (
            Source.MET_NORWAY,
            *place,
        ):
            kept = None
        if kept is not None and kept.expires_at is not None and now < kept.expires_at:
            return kept
        if self._rest_until is not None and now < self._rest_until:
            return self._without("resting", kept, self._rest_until)
        try:
            response = await self._get(place, kept)
            return self._answer(response, place, now, kept)
        except (httpx.HTTPError, httpx.InvalidURL, met_document.UnreadableError) as error:
            why = "unreadable" if isinstance(error, ValueError) else "unreachable"
            return self._without(why, kept, self._rest(now, None))

    async def _get(self, place: tuple[float, float], kept: Forecast | None) -> httpx.Response:
        headers = {"User-Agent": self._agent, "Accept-Encoding": "gzip, deflate"}
        if kept is not None and kept.last_modified:
            headers["If-Modified-Since"] = kept.last_modified
        params = {"lat": f"{place[0]:.4f}", "lon": f"{place[1]:.4f}"}
        return await self._client.get(
            self._address, params=params, headers=headers, timeout=TIMEOUT
        )

    def _answer(
        self,
        response: httpx.Response,
        place: tuple[float, float],
        now: datetime,
        kept: Forecast | None,
    ) -> Forecast:
        expires = _expires(response, now)
        if response.status_code == httpx.codes.NOT_MODIFIED and kept is not None:
            self._worked()
            flaws = tuple(f for f in kept.flaws if f.kind is not FlawKind.NOT_RENEWED)
            return kept.model_copy(
                update={"expires_at": expires, "fetched_at": now, "flaws": flaws}
            )
        if response.status_code not in (
            httpx.codes.OK,
            httpx.codes.NON_AUTHORITATIVE_INFORMATION,
        ):
            retry = self._rest(now, response.headers.get("Retry-After"))
            return self._without(f"status {response.status_code}", kept, retry)
        document = met_document.read(_decoded(response))
        self._worked()
        told = Forecast(
            source=Source.MET_NORWAY,
            issued_at=document.issued_at,
            fetched_at=now,
            latitude=place[0],
            longitude=place[1],
            hours=document.hours,
            flaws=document.flaws,
            expires_at=expires,
            last_modified=response.headers.get("Last-Modified"),
        )
        if response.status_code == httpx.codes.NON_AUTHORITATIVE_INFORMATION:
            return told.with_flaw(Flaw(kind=FlawKind.DEPRECATED, at=now))
        return told

    def _without(self, why: str, kept: Forecast | None, retry_at: datetime) -> Forecast:
        if kept is None:
            raise WeatherUnavailableError(why, retry_at)
        return kept.with_flaw(Flaw(kind=FlawKind.NOT_RENEWED, at=kept.fetched_at))

    def _rest(self, now: datetime, retry_after: str | None) -> datetime:
        """Leave the service alone: as long as it asks, and longer each time in a row."""
        doubled = SHORTEST_WAIT * 2 ** min(self._failures, 8)
        asked = _retry_after(retry_after, now)
        self._failures += 1
        self._rest_until = now + max(min(doubled, LONGEST_WAIT), asked)
        return self._rest_until

    def _worked(self) -> None:
        self._failures, self._rest_until = 0, None


def cut(degrees: float) -> float:
    """Degrees cut to four decimals, as the terms ask, so that neighbours share an answer."""
    return math.trunc(round(degrees * 10_000, 6)) / 10_000 + 0.0


def _decoded(response: httpx.Response) -> object:
    if len(response.content) > LARGEST_BYTES:
        raise met_document.UnreadableError("it is far larger than a forecast")
    try:
        return response.json()
    except (ValueError, RecursionError) as error:
        raise met_document.UnreadableError("it is not JSON") from error


def _expires(response: httpx.Response, now: datetime) -> datetime:
    """When to ask again; half an hour where the header is missing, absurd or in the past."""
    told = _http_date(response.headers.get("Expires"))
    if told is None or not now < told <= now + timedelta(days=1):
        return now + timedelta(minutes=30)
    return told


def _retry_after(text: str | None, now: datetime) -> timedelta:
    if text is None:
        return timedelta(0)
    if text.strip().isdigit():
        return timedelta(seconds=min(int(text), 86_400))
    told = _http_date(text)
    return timedelta(0) if told is None else min(max(told - now, timedelta(0)), timedelta(days=1))


def _http_date(text: str | None) -> datetime | None:
    if text is None:
        return None
    try:
        return parsedate_to_datetime(text).astimezone(UTC)
    except (ValueError, TypeError):
        return None
