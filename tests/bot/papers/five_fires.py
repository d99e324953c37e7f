"""An invented oven with five fires: two at the fire, a builder who orders, cracks and doubts."""

import io
from datetime import UTC, date, datetime, timedelta

from PIL import Image

from bot.papers.letterhead import Letterhead
from bot.papers.record import OvenRecord, People, record_of
from scheduling.breakin.weather import Forecast, HourWeather, Source
from scheduling.choice import About
from scheduling.firing.aim import Action, Aim, Laying
from scheduling.journal import (
    Advised,
    Answered,
    Capped,
    CrackSeen,
    Described,
    DoorMoved,
    Entry,
    Finished,
    FireDied,
    FireLit,
    FiringEnded,
    Forbidden,
    Foretold,
    HazardClosed,
    Held,
    Joined,
    Jotted,
    LimitsSet,
    Measured,
    Noted,
    Nudged,
    Opened,
    Promised,
    PromisedFiring,
    Released,
    Seen,
    Silent,
    TakenBack,
    TalkSaid,
    Undone,
    WeatherTold,
    WoodPutOn,
)
from scheduling.oven.makeup import Cover, Instrument
from scheduling.oven.preset import shipped
from scheduling.oven.reading import Suspicion
from scheduling.record import Record
from scheduling.remark import CrackSize, Sky

OWNER, SECOND, BUILDER = "p-owner", "p-second", "p-builder"
NAMES = {OWNER: "Zoë Łukášová-Ñíguez", SECOND: "Đặng Thị Ẹ̀bùn", BUILDER: "Ole Åström"}
DAYS = (date(2026, 5, 30), date(2026, 5, 31), date(2026, 6, 2), date(2026, 6, 3), date(2026, 6, 6))
AIMS_C = (150.0, 200.0, 260.0, 330.0, 400.0)
MINUTE = timedelta(minutes=1)
LETTERHEAD = Letterhead("Åström Ovens", ("3 Kiln Lane", "Little Hollow"), "logo")


def photo(colour: str = "#9A7B5B") -> bytes:
    """A picture as a telephone sends it."""
    kept = io.BytesIO()
    Image.new("RGB", (1600, 1200), colour).save(kept, format="JPEG")
    return kept.getvalue()


def aim(number: int) -> PromisedFiring:
    """What fire ``number`` was promised to be."""
    plateau_c, day = AIMS_C[number - 1], DAYS[number - 1]
    return PromisedFiring(
        number=number, plateau_c=plateau_c, low_c=plateau_c - 30, high_c=plateau_c + 20,
        climb_c_per_h=100.0, hold_h=3.0, session_h=5.5, stoke_minutes=30.0,
        wood_kg=6.0 + number, lay_kg=0.8, charge_kg=0.75, charge_pieces=3, piece_mm=40.0,
        laying=Laying.SMALL_AT_MOUTH, limited_by="rule", last=number == 5, left=6 - number,
        day=day, start=datetime(day.year, day.month, day.day, 8, tzinfo=UTC),
    )  # fmt: skip


def journal() -> tuple[Entry, ...]:
    """The whole journal, in order."""
    entries: list[Entry] = [*_opened(), *_days_and_orders()]
    for number in range(1, 6):
        entries += _fire(number)
    entries += _afterwards(len(entries))
    return tuple(entries)


def record(entries: tuple[Entry, ...] | None = None) -> Record:
    """The same folded, by the rule of thumb alone."""
    return Record(entries if entries is not None else journal(), "oven-1", members=0)


def paper(unit: str = "C", entries: tuple[Entry, ...] | None = None) -> OvenRecord:
    """What the record of it holds."""
    return record_of(
        record(entries),
        People(NAMES, frozenset({BUILDER})),
        datetime(2026, 6, 7, 9, tzinfo=UTC),
        place="Little Hollow",
        letterhead=LETTERHEAD,
        unit=unit,
    )


def _opened() -> list[Entry]:
    at = datetime(2026, 5, 8, 17, tzinfo=UTC)
    makeup = shipped().make_up(
        "cast-dense", name="Garden oven", inner_diameter_mm=900, wet_work_ended=date(2026, 5, 2),
        cover=Cover.SHEET, instrument=Instrument(max_c=550), latitude=52.2, longitude=-1.5,
        zone="Europe/London",
    )  # fmt: skip
    return [
        Opened(at=at, by=OWNER, name="Garden oven of Zoë", builder="team-b"),
        Joined(at=at, by=OWNER, person=OWNER),
        Answered(at=at, by=OWNER, about=About.UNITS, value="C"),
        Answered(at=at, by=OWNER, about=About.SIZE, value="900"),
        Described(at=at, by=OWNER, makeup=makeup),
        Joined(at=at + MINUTE, by=SECOND, person=SECOND),
        LimitsSet(
            at=at + 2 * MINUTE, by=BUILDER, why="my own castable, gently", cure_floor_d=28,
            climb_low_k_h=80.0, stoke_min_minutes=40.0,
        ),
    ]  # fmt: skip


def _days_and_orders() -> list[Entry]:
    first = tuple(aim(n).model_copy(update={"day": date(2026, 5, 29 + n)}) for n in (1, 2))
    at = datetime(2026, 5, 9, 9, tzinfo=UTC)
    return [
        Promised(at=at, firings=first, why="first"),
        Held(at=at + MINUTE, by=BUILDER, why="I want to see the crown first"),
        Released(at=at + 120 * MINUTE, by=BUILDER, why="seen, sound", confirmed=True),
        Promised(at=at + 121 * MINUTE, firings=tuple(aim(n) for n in range(1, 6)), why="weather"),
        Jotted(at=at + 130 * MINUTE, by=BUILDER, text="owner is in a hurry", name="Ole"),
        Jotted(at=at + 131 * MINUTE, by=BUILDER, text="Bring the key", name="Ole", shown=True),
        TalkSaid(at=at + 132 * MINUTE, by=OWNER, side="owner", text="The key hangs by the door"),
        Noted(at=at + 140 * MINUTE, by=OWNER, text="Sheet is tied down <well>", photo="photo-note"),
    ]


def _fire(number: int) -> list[Entry]:
    """Reading by reading every half hour: up to the plateau, held, and left to die."""
    promised = aim(number)
    lit = datetime.combine(DAYS[number - 1], promised.start.time(), UTC) + 7 * MINUTE
    plateau_c = promised.plateau_c + (35.0 if number == 3 else 0.0)
    entries: list[Entry] = [_foretold(lit), Measured(at=lit - 20 * MINUTE, by=OWNER, top_c=18.0)]
    if number == 2:
        day = lit.date()
        entries.append(WeatherTold(at=lit, by=OWNER, what=Sky.RAIN, day=day))
    entries.append(FireLit(at=lit, by=OWNER, aim=_planned(promised)))
    climb_steps = max(2, round((plateau_c - 18.0) / 42.0))
    for step in range(1, climb_steps + 7):
        at = lit + 30 * step * MINUTE
        top_c = 18.0 + (plateau_c - 18.0) * min(1.0, step / climb_steps) - step % 3
        by = SECOND if step % 4 == 0 else OWNER
        sides_c = (top_c - 25.0, top_c - 31.0) if step % 2 else ()
        hearth_c = top_c - 60.0 if number == 5 else None
        entries.append(Nudged(at=at - 3 * MINUTE))
        read = Measured(at=at, by=by, top_c=top_c, sides_c=sides_c, hearth_c=hearth_c)
        entries.append(read.model_copy(update={"approximate": number == 2 and step == 3}))
        adds = step < climb_steps + 5
        action = Action.ADD if adds else Action.HOLD_DONE
        charge = {"kg": 0.75, "pieces": 3, "minutes": 30.0} if adds else {}
        entries.append(Advised.model_validate({"at": at, "action": action} | charge))
        if adds:
            entries.append(WoodPutOn(at=at + 2 * MINUTE, by=by, pieces=3, kg=0.75, advised=True))
        entries += _troubles(number, step, at)
    over = lit + 30 * (climb_steps + 7) * MINUTE
    entries.append(FireDied(at=over, by=OWNER))
    entries.append(
        FiringEnded(
            at=over, by=OWNER, firing=number, aim_c=promised.plateau_c, peak_c=plateau_c,
            held_h=3.0, completed=True, why="held", soot_clear=number == 5,
        )
    )  # fmt: skip
    entries.append(DoorMoved(at=over + 12 * MINUTE, by=OWNER, on=True))
    return entries


def _planned(promised: PromisedFiring) -> Aim:
    return Aim(**promised.model_dump(include=set(Aim.model_fields)))


def _troubles(number: int, step: int, at: datetime) -> list[Entry]:
    """What went otherwise: a doubtful number, unasked wood, silence, cracks."""
    match number, step:
        case 1, 2:
            doubt = Suspicion.FLAME_IN_SPOT
            return [Measured(at=at + 5 * MINUTE, by=OWNER, top_c=410.0, doubt=doubt)]
        case 3, 4:
            return [WoodPutOn(at=at + 9 * MINUTE, by=SECOND, pieces=4, kg=1.0)]
        case 3, 6:
            return [
                Nudged(at=at + 40 * MINUTE, repeat=True),
                Silent(at=at + 55 * MINUTE, step="told"),
            ]
        case 4, 5:
            hairline = CrackSize.HAIRLINE
            return [CrackSeen(at=at + 6 * MINUTE, by=OWNER, size=hairline, photo="photo-hair")]
        case 5, 3:
            return [
                Seen(at=at + 3 * MINUTE, by=SECOND, what="smoke"),
                CrackSeen(at=at + 4 * MINUTE, by=SECOND, size=CrackSize.OPEN, photo="photo-open"),
            ]
        case 5, 4:
            why = "in the render only, shell sound"
            return [HazardClosed(at=at, by=BUILDER, what="crack", why=why)]
    return []


def _foretold(lit: datetime) -> Foretold:
    start = lit.replace(hour=0, minute=0)
    hours = tuple(
        HourWeather(
            at=start + timedelta(hours=h), air_c=9.0 + h / 2, wind_ms=2.0 + h / 6, gust_ms=6.5,
            rain_mm=0.1 if h > 15 else 0.0, rain_probability=0.1,
        )
        for h in range(24)
    )  # fmt: skip
    issued = start - timedelta(hours=2)
    told = Forecast(
        source=Source.MET_NORWAY, issued_at=issued, fetched_at=issued, latitude=52.2,
        longitude=-1.5, hours=hours,
    )  # fmt: skip
    return Foretold(at=issued + MINUTE, forecast=told)


def _afterwards(count: int) -> list[Entry]:
    at = datetime(2026, 6, 6, 20, tzinfo=UTC)
    return [
        Capped(at=at, by=BUILDER, cap_c=420.0, why="mistyped"),
        TakenBack(at=at + MINUTE, by=BUILDER, seq=count + 1, why="not needed"),
        Forbidden(
            at=at + 2 * MINUTE, by=BUILDER, first=date(2026, 6, 8), last=date(2026, 6, 9),
            why="gale foretold",
        ),
        Measured(at=at + 3 * MINUTE, by=OWNER, top_c=1520.0, key="m1"),
        Undone(at=at + 4 * MINUTE, by=OWNER, seqs=(count + 4,)),
        Measured(at=datetime(2026, 6, 7, 8, tzinfo=UTC), by=OWNER, top_c=152.0),
        Finished(at=datetime(2026, 6, 7, 8, tzinfo=UTC)),
    ]  # fmt: skip
