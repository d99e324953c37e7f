"""One fire as the record holds it: row by row, beside what was planned, and the weather of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise

from bot.papers.rows import Row, rows_of
from scheduling.advance.showing import firing as shown_firing
from scheduling.breakin.walltime import local_day
from scheduling.breakin.weather import Source
from scheduling.firing.aim import Aim
from scheduling.firing.session import LONGEST_LINK, SHORTEST_LINK, Session, crown_c
from scheduling.firing.session_fold import FROM_AFAR
from scheduling.journal import (
    Advised,
    AllWell,
    Asked,
    CrackSeen,
    DoorMoved,
    Entry,
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
    Seen,
    Silent,
    TakenBack,
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
    AllWell, FireLit, FireDied, DoorMoved, FiringEnded, HazardClosed, Order, WeatherTold, Asked,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Climb:
    """A rise between two believed readings: K/h, and the limit at that heat."""

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

    ``asked`` counts the readings that were asked for, ``silences`` are the times from a question
    to the next word of anybody, where nobody answered for so long that others were told.
    """

    number: int
    session: Session
    rows: tuple[Row, ...]
    shown: FiringShown | None
    promised: date | None
    """The day it was last promised for, before it was lit."""
    lit_on: date
    climbs: tuple[Climb, ...]
    weather: Weather
    asked: int
    silences: tuple[tuple[datetime, datetime], ...]
    wood_kg: float | None
    """Of what went on after the first laying."""
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
        """Hours in the range or above; the figure that chat and picture tell."""
        return self.session.held_h()

    @property
    def is_read(self) -> bool:
        """Whether the hold was seen on a thermometer; else it is by the clock alone."""
        return bool(self.session.readings)

    @property
    def laid_kg(self) -> float:
        """The first laying as it was asked for: nobody weighs it."""
        return 0.0 if self.session.lit_for is None else self.session.lit_for.lay_kg

    @property
    def all_kg(self) -> float | None:
        """All wood, the first laying as it was asked for; None where none was told of."""
        return None if self.wood_kg is None else self.wood_kg + self.laid_kg

    @property
    def climb(self) -> Climb | None:
        """The steepest."""
        return max(self.climbs, key=lambda one: one.k_h, default=None)

    @property
    def peak_at(self) -> datetime | None:
        """When the crown was read at its highest."""
        tops = [(crown_c(one) or 0.0, one.at) for one in self.session.believed]
        return max(tops, key=lambda one: one[0])[1] if tops else None

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
    """The entries of each fire, with its morning and its evening; and those of none.

    An order that was taken back is among them: while it stood, people went by it.
    """
    groups: list[list[Numbered]] = []
    loose: list[Numbered] = []
    burning = False
    for one in _with_orders(record):
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


def _with_orders(record: Record) -> tuple[Numbered, ...]:
    """What counts, and orders that have been taken back since."""
    gone = {one.entry.seq for one in record.live if isinstance(one.entry, TakenBack)}
    orders = (
        Numbered(seq, entry)
        for seq, entry in enumerate(record.entries, 1)
        if seq in gone and isinstance(entry, Order)
    )
    return tuple(sorted((*record.live, *orders), key=lambda one: one.seq))


def _belongs_after(one: Numbered) -> bool:
    return isinstance(one.entry, Measured | DoorMoved | Seen | CrackSeen)


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
        climbs=_climbs(record, session),
        weather=_weather(record, session),
        asked=sum(isinstance(e, Nudged) and not e.repeat for e in entries),
        silences=_silences(session, entries),
        wood_kg=sum(weighed) if weighed else None,
        pieces=sum(counted) if counted else None,
        door_on_at=doors[-1] if doors else None,
    )


def _promised(record: Record, session: Session) -> date | None:
    if session.aim is None:
        return None
    told = [one for one in record.promises if one.at < session.lit_at and one.firings]
    if not told:
        return None
    return next((f.day for f in told[-1].firings if f.number == session.aim.number), None)


def _silences(session: Session, entries: Sequence[Entry]) -> tuple[tuple[datetime, datetime], ...]:
    """From the question that nobody answered to the next word from the fire, or to its end."""
    found: list[tuple[datetime, datetime]] = []
    over = session.ended.at if session.ended is not None else session.heard_at
    for entry in entries:
        if not isinstance(entry, Silent) or (found and entry.at <= found[-1][1]):
            continue
        heard = [one.at for one in entries if _is_heard(one) and one.at <= entry.at]
        since = max(heard, default=session.lit_at)
        asked = [one.at for one in entries if isinstance(one, Nudged) and since <= one.at]
        later = [one.at for one in entries if _is_heard(one) and one.at > entry.at]
        begin = min([*asked, entry.at])
        found.append((begin, max(begin, min([*later, over]))))
    return tuple(found)


def _is_heard(entry: Entry) -> bool:
    return bool(entry.by) and not isinstance(entry, FROM_AFAR)


def _climbs(record: Record, session: Session) -> tuple[Climb, ...]:
    """Between believed readings that lie near enough together to tell it, and not too near."""
    bounds = bounds_of(record)
    found: list[Climb] = []
    # The dome stood as it was read before; it climbs from the match on, as the chat reckons too.
    start = [session.start] if session.start is not None else []
    lit = [one.model_copy(update={"at": session.lit_at}) for one in start]
    for one, other in pairwise([*lit, *session.believed]):
        apart, low_c, high_c = other.at - one.at, crown_c(one), crown_c(other)
        if low_c is None or high_c is None or not SHORTEST_LINK <= apart <= LONGEST_LINK:
            continue
        k_h = (high_c - low_c) / (apart / timedelta(hours=1))
        found.append(Climb(k_h, bounds.climb_cap(high_c), one.at, other.at))
    return tuple(found)


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
