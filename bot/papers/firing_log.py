"""One fire as the record holds it: row by row, beside what was planned, and the weather of it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import pairwise

from scheduling.advance.showing import firing as shown_firing
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import Source
from scheduling.firing.aim import Aim
from scheduling.firing.session import LONGEST_LINK, SHORTEST_LINK, Session, crown_c
from scheduling.journal import (
    Advised,
    AllWell,
    CrackSeen,
    DoorMoved,
    FireDied,
    FireLit,
    FiringEnded,
    Foretold,
    HazardClosed,
    HazardSeen,
    Hushed,
    Measured,
    Nudged,
    Order,
    Promised,
    Seen,
    Silent,
    Unheard,
    WeatherTold,
    WoodPutOn,
)
from scheduling.meaning import FiringShown
from scheduling.record import Record
from scheduling.record.live import Numbered
from scheduling.record.outlook import bounds_of
from scheduling.remark import Sky

BEFORE = timedelta(hours=3)
"""A reading so long before the match belongs to that fire: the morning's reading."""

AFTER = timedelta(hours=18)
"""The door of the evening and the reading of the next morning still belong to it."""

IN_A_LOG = (
    Measured, WoodPutOn, Advised, Nudged, Silent, Hushed, Seen, CrackSeen, HazardSeen, Unheard,
    AllWell, FireLit, FireDied, DoorMoved, FiringEnded, HazardClosed, Order, WeatherTold,
)  # fmt: skip

Told = (
    FireLit | FireDied | DoorMoved | FiringEnded | Seen | CrackSeen | Silent | Hushed | Nudged
    | HazardSeen | Unheard | AllWell | HazardClosed | Order | WeatherTold
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """What happened at one instant: a reading, wood, what was told, and what was then advised."""

    at: datetime
    by: str = ""
    reading: Measured | None = None
    wood: WoodPutOn | None = None
    told: tuple[Told, ...] = ()
    advised: Advised | None = None


@dataclass(frozen=True, slots=True)
class Climb:
    """The steepest rise between two believed readings: K/h, and the limit at that heat."""

    k_h: float
    limit_k_h: float
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Weather:
    """The forecast for the hours of a fire as it stood when it was lit, and what people said.

    Numbers are None where the forecast did not tell them; ``source`` is None without one.
    """

    source: Source | None = None
    issued_at: datetime | None = None
    attribution: str | None = None
    air_low_c: float | None = None
    air_high_c: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    rain_mm: float | None = None
    said: tuple[Sky, ...] = ()


@dataclass(frozen=True, slots=True)
class FiringLog:
    """A fire from the match to the shut door, by its number in the order of lighting.

    ``asked`` counts the readings that were asked for, ``answered_min`` is the longest wait for
    any answer in minutes. ``unasked_kg`` and ``unasked`` are charges put on without advice.
    """

    number: int
    session: Session
    rows: tuple[Row, ...]
    shown: FiringShown | None
    promised: date | None
    """The day it was last promised for, before it was lit."""
    lit_on: date
    climb: Climb | None
    weather: Weather
    asked: int
    unasked: int
    wood_kg: float | None
    pieces: int | None
    door_on_at: datetime | None

    @property
    def aim(self) -> Aim | None:
        """What it was lit for; None for a fire that nobody planned."""
        return self.session.aim

    @property
    def ended(self) -> FiringEnded | None:
        """How it ended; None while it burns."""
        return self.session.ended

    @property
    def held_h(self) -> float:
        """Hours in the range or above, as they were reckoned at its end."""
        return self.ended.held_h if self.ended is not None else self.session.held_h()

    @property
    def peak_c(self) -> float | None:
        """The highest believed crown."""
        return self.session.peak_c


def firing_logs(record: Record) -> tuple[FiringLog, ...]:
    """Every fire that a record tells of, in the order of lighting."""
    groups, _ = grouped(record)
    return tuple(
        _log(record, number, session, group)
        for number, (session, group) in enumerate(zip(record.sessions, groups, strict=True), 1)
    )


def grouped(record: Record) -> tuple[list[list[Numbered]], list[Numbered]]:
    """The live entries of each fire, with its morning and its evening; and those of none."""
    groups: list[list[Numbered]] = []
    loose: list[Numbered] = []
    burning = False
    for one in record.live:
        entry = one.entry
        if isinstance(entry, FireLit) and not burning:
            mornings = [n for n in loose if timedelta(0) <= entry.at - n.entry.at <= BEFORE]
            loose = [n for n in loose if n not in mornings]
            groups.append([*mornings, one])
            burning = True
        elif not isinstance(entry, IN_A_LOG):
            continue
        elif burning:
            groups[-1].append(one)
            burning = not isinstance(entry, FiringEnded)
        else:
            loose.append(one)
    left: list[Numbered] = []
    ends = [session.ended.at for session in record.sessions if session.ended is not None]
    for one in loose:
        index = sum(end <= one.entry.at for end in ends) - 1
        if index >= 0 and one.entry.at - ends[index] <= AFTER and _belongs_after(one):
            groups[index].append(one)
        else:
            left.append(one)
    return groups, left


def _belongs_after(one: Numbered) -> bool:
    return isinstance(one.entry, Measured | DoorMoved | Seen | CrackSeen)


def rows_of(entries: Iterable[Numbered]) -> tuple[Row, ...]:
    """Entries as rows: what fell on one instant stands together, each kind once a row.

    A nudge that was answered gets no row of its own; one that had to be repeated does.
    """
    rows: list[Row] = []
    for one in sorted(entries, key=lambda one: (one.entry.at, one.seq)):
        entry = one.entry
        if isinstance(entry, Nudged) and not entry.repeat:
            continue
        last = rows[-1] if rows and rows[-1].at == entry.at else Row(entry.at)
        added = _with(last, entry)
        if added is None:
            last, added = Row(entry.at), _with(Row(entry.at), entry)
        if added is None:
            continue
        if rows and rows[-1] is last:
            rows[-1] = added
        else:
            rows.append(added)
    return tuple(rows)


def _with(row: Row, entry: object) -> Row | None:
    """The row with one more entry in it; None where that place is taken."""
    match entry:
        case Measured() if row.reading is None and row.advised is None:
            return replace(row, reading=entry, by=row.by or entry.by)
        case WoodPutOn() if row.wood is None and row.advised is None:
            return replace(row, wood=entry, by=row.by or entry.by)
        case Advised() if row.advised is None:
            return replace(row, advised=entry)
        case (
            FireLit() | FireDied() | DoorMoved() | FiringEnded() | Seen() | CrackSeen() | Silent()
            | HazardSeen() | Unheard() | AllWell()
            | Hushed() | Nudged() | HazardClosed() | Order() | WeatherTold()
        ) if row.advised is None or not row.told:  # fmt: skip
            return replace(row, told=(*row.told, entry), by=row.by or entry.by)
    return None


def _log(record: Record, number: int, session: Session, group: Sequence[Numbered]) -> FiringLog:
    entries = [one.entry for one in group]
    stokes = session.stokes
    weighed = [one.kg for one in stokes if one.kg is not None]
    counted = [one.pieces for one in stokes if one.pieces is not None]
    doors = [e.at for e in entries if isinstance(e, DoorMoved) and e.on and e.at > session.lit_at]
    return FiringLog(
        number=number,
        session=session,
        rows=rows_of(group),
        shown=shown_firing(session),
        promised=_promised(record, session),
        lit_on=local_day(session.lit_at, record.zoneinfo),
        climb=_steepest(record, session),
        weather=_weather(record, session),
        asked=sum(isinstance(e, Nudged) and not e.repeat for e in entries),
        unasked=sum(not one.advised for one in stokes),
        wood_kg=sum(weighed) if weighed else None,
        pieces=sum(counted) if counted else None,
        door_on_at=doors[-1] if doors else None,
    )


def _promised(record: Record, session: Session) -> date | None:
    if session.aim is None:
        return None
    told = [one for one in record.all_of(Promised) if one.at < session.lit_at and one.firings]
    if not told:
        return None
    return next((f.day for f in told[-1].firings if f.number == session.aim.number), None)


def _steepest(record: Record, session: Session) -> Climb | None:
    """Between believed readings that lie near enough together to tell it, and not too near."""
    bounds = bounds_of(record)
    found: list[Climb] = []
    start = [session.start] if session.start is not None else []
    for one, other in pairwise([*start, *session.believed]):
        apart, low_c, high_c = other.at - one.at, crown_c(one), crown_c(other)
        if low_c is None or high_c is None or not SHORTEST_LINK <= apart <= LONGEST_LINK:
            continue
        k_h = (high_c - low_c) / (apart / timedelta(hours=1))
        found.append(Climb(k_h, bounds.climb_cap(high_c), one.at, other.at))
    return max(found, key=lambda climb: climb.k_h, default=None)


def _weather(record: Record, session: Session) -> Weather:
    day = local_day(session.lit_at, record.zoneinfo)
    said = tuple(dict.fromkeys(one.what for one in record.all_of(WeatherTold) if one.day == day))
    told = [one.forecast for one in record.all_of(Foretold) if one.at <= session.lit_at]
    end = session.ended.at if session.ended is not None else session.heard_at
    hour = timedelta(hours=1)
    hours = told[-1].between(session.lit_at - hour, max(end, session.lit_at + hour)) if told else ()
    if not hours:
        return Weather(said=said)
    airs = [one.air_c for one in hours if one.air_c is not None]
    winds = [one.wind_ms for one in hours if one.wind_ms is not None]
    gusts = [one.gust_ms for one in hours if one.gust_ms is not None]
    rains = [one.rain_mm for one in hours if one.rain_mm is not None]
    return Weather(
        source=told[-1].source,
        issued_at=told[-1].issued_at,
        attribution=told[-1].attribution,
        air_low_c=min(airs, default=None),
        air_high_c=max(airs, default=None),
        wind_ms=max(winds, default=None),
        gust_ms=max(gusts, default=None),
        rain_mm=sum(rains) if rains else None,
        said=said,
    )
