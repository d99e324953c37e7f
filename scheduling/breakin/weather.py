"""Weather as values: hours, forecasts, what an owner says, and a day summed up.

Times are UTC instants at the start of an hour. Any number of an hour may be missing (None) and
whole hours may be; nothing here fills a hole silently. Frozen pydantic models, because
forecasts are stored as they came.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from typing import Annotated, Any, Self

from pydantic import (
    AwareDatetime,
    BaseModel,
    ConfigDict,
    Field,
    field_serializer,
    field_validator,
    model_validator,
)

from scheduling.remark import Sky

HOUR = timedelta(hours=1)

FRESH_FOR = timedelta(hours=8)
"""Weather services renew several times a day; past this a forecast is ageing (own choice)."""

STALE_AFTER = timedelta(hours=36)
"""Past this a forecast says less than the climate does about the day at hand (own choice)."""


class _Value(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Source(StrEnum):
    """Where weather comes from."""

    MET_NORWAY = "met_norway"
    OWNER = "owner"
    CLIMATE = "climate"
    MADE_UP = "made_up"  # by the rehearsal


ATTRIBUTION: dict[Source, str] = {Source.MET_NORWAY: "MET Norway, CC BY 4.0"}
"""Credit that must be shown beside data of a source: proper names, the same in any language."""


class Freshness(StrEnum):
    """How much a forecast's age leaves of it."""

    FRESH = "fresh"
    AGEING = "ageing"
    STALE = "stale"


class FlawKind(StrEnum):
    """What was wrong with a forecast, and was left out or lived with."""

    NEGATIVE_RAIN = "negative_rain"
    ABSURD_RAIN = "absurd_rain"
    ABSURD_WIND = "absurd_wind"
    ABSURD_AIR = "absurd_air"
    GUST_BELOW_MEAN = "gust_below_mean"
    NOT_A_NUMBER = "not_a_number"
    MISSING_HOURS = "missing_hours"
    UNREADABLE_HOUR = "unreadable_hour"
    UNIT_UNKNOWN = "unit_unknown"
    DEPRECATED = "deprecated"  # the service announces the end of this version
    NOT_RENEWED = "not_renewed"  # a fresh one could not be had; this one was kept


class Flaw(_Value):
    """One kind of flaw: how many hours it touched, the first of them, and the odd value."""

    kind: FlawKind
    count: int = 1
    at: AwareDatetime | None = None
    value: float | None = None


class HourWeather(_Value):
    """One hour that begins ``at``: means over the hour, rain as its sum.

    ``wind_ms`` is the 10 minute mean at 10 m, ``gust_ms`` the highest gust. ``rain_mm`` counts
    snow as melted. Probabilities and ``cloud`` run from 0 to 1.
    """

    at: AwareDatetime
    air_c: Annotated[float, Field(ge=-90, le=60)] | None = None
    wind_ms: Annotated[float, Field(ge=0, le=90)] | None = None
    gust_ms: Annotated[float, Field(ge=0, le=115)] | None = None
    rain_mm: Annotated[float, Field(ge=0, le=300)] | None = None
    rain_probability: Annotated[float, Field(ge=0, le=1)] | None = None
    cloud: Annotated[float, Field(ge=0, le=1)] | None = None
    humidity: Annotated[float, Field(ge=0, le=1)] | None = None


class Forecast(_Value):
    """Hours in order of time, with where they are from and how old they are.

    ``expires_at`` and ``last_modified`` are the service's own words, kept so that a stored
    forecast can be asked after again without fetching what has not changed.
    """

    source: Source
    issued_at: AwareDatetime
    fetched_at: AwareDatetime
    latitude: Annotated[float, Field(ge=-90, le=90)]
    longitude: Annotated[float, Field(ge=-180, le=180)]
    hours: tuple[HourWeather, ...] = ()
    flaws: tuple[Flaw, ...] = ()
    expires_at: AwareDatetime | None = None
    last_modified: str | None = None

    @field_serializer("hours", when_used="json")
    def _in_columns(self, hours: tuple[HourWeather, ...]) -> dict[str, Any]:
        """A quantity a column: a stored forecast is a fifth of what rows would take."""
        columns: dict[str, Any] = {"at": [int(hour.at.timestamp()) for hour in hours]}
        for name in HourWeather.model_fields.keys() - {"at"}:
            column = [getattr(hour, name) for hour in hours]
            if any(value is not None for value in column):
                columns[name] = column
        return columns

    @field_validator("hours", mode="before")
    @classmethod
    def _from_columns(cls, told: Any) -> Any:
        if not isinstance(told, dict):
            return told
        columns = dict(told)
        instants = [datetime.fromtimestamp(at, UTC) for at in columns.pop("at", ())]
        if any(len(column) != len(instants) for column in columns.values()):
            raise ValueError("a forecast's columns must be of one length")
        return [
            {"at": at, **{name: column[row] for name, column in columns.items()}}
            for row, at in enumerate(instants)
        ]

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        before: datetime | None = None
        for hour in self.hours:
            if before is not None and hour.at <= before:
                raise ValueError("a forecast's hours must follow one another, each once")
            before = hour.at
        return self

    @property
    def attribution(self) -> str | None:
        """The credit to show beside anything taken from this forecast."""
        return ATTRIBUTION.get(self.source)

    def freshness(self, now: datetime) -> Freshness:
        """By the time since it was issued; one from the future counts as stale."""
        age = now - self.issued_at
        if age > STALE_AFTER or age < -HOUR:
            return Freshness.STALE
        return Freshness.FRESH if age <= FRESH_FOR else Freshness.AGEING

    def between(self, first: datetime, last: datetime) -> tuple[HourWeather, ...]:
        """The hours that begin in [first, last)."""
        return tuple(hour for hour in self.hours if first <= hour.at < last)

    def with_flaw(self, flaw: Flaw) -> "Forecast":
        """The same, with one more flaw told, in place of an older one of its kind."""
        others = tuple(one for one in self.flaws if one.kind is not flaw.kind)
        return self.model_copy(update={"flaws": (*others, flaw)})


class OwnersWord(_Value):
    """Weather as the owner told it for one day; it outranks any forecast made before it."""

    day: date
    what: Sky
    wind_ms: float | None = None
    said_at: AwareDatetime
    now: bool = False
    """Said of that very moment ("raining now"), not of the whole day."""


class DayWeather(_Value):
    """A local day summed up over the hours in which a fire would burn.

    ``rain_mm`` and ``rain_probability`` are of those hours, ``day_rain_mm`` of all 24.
    ``coverage`` is the share of those hours that the source knew, 0 for pure climate. ``lead_d``
    is how many days ahead it was told.
    """

    day: date
    source: Source
    low_c: float
    mean_c: float
    high_c: float
    wind_ms: float
    gust_ms: float
    rain_mm: float
    rain_probability: Annotated[float, Field(ge=0, le=1)]
    day_rain_mm: float = 0.0
    humidity: float | None = None
    lead_d: float = 0.0
    coverage: Annotated[float, Field(ge=0, le=1)] = 1.0
    said: tuple[Sky, ...] = ()


def hours_of(first: datetime, last: datetime) -> Iterator[datetime]:
    """The full UTC hours that begin in [first, last)."""
    at = first.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    if at < first:
        at += HOUR
    while at < last:
        yield at
        at += HOUR
