"""One fire told minute by minute: what is asked for, what is done, and what the dome reads."""

from datetime import UTC, date, datetime, timedelta

from bot.papers.firing_log import FiringLog, firing_logs
from bot.papers.record import OvenRecord, People, record_of
from scheduling.firing.aim import Action
from scheduling.journal import (
    Advised,
    Described,
    Entry,
    FireDied,
    FireLit,
    FiringEnded,
    Joined,
    Measured,
    Nudged,
    Opened,
    Promised,
    WoodPutOn,
)
from scheduling.oven.makeup import Instrument
from scheduling.oven.preset import shipped
from scheduling.record import Record
from tests.bot.papers.five_fires import aim

OWNER, BUILDER = "p-owner", "p-builder"
LIT = datetime(2026, 5, 30, 8, tzinfo=UTC)
PROMISED = aim(1)  # 150 °C, from 120 to 170, for three hours


def at(minutes: float) -> datetime:
    """So many minutes after the match."""
    return LIT + timedelta(minutes=minutes)


def read(minutes: float, top_c: float) -> Measured:
    """The crown, as its owner tells it."""
    return Measured(at=at(minutes), by=OWNER, top_c=top_c)


def asked_again(minutes: float) -> Nudged:
    """A reading was wanted, and had been before."""
    return Nudged(at=at(minutes), repeat=True)


def asked(minutes: float) -> Nudged:
    """A reading is wanted."""
    return Nudged(at=at(minutes))


def wood_asked(minutes: float, pieces: int = 2) -> Advised:
    """Wood is asked for, a quarter of a kilogram a piece."""
    kg = 0.25 * pieces
    return Advised(at=at(minutes), action=Action.ADD, minutes=30.0, pieces=pieces, kg=kg)


def wood(minutes: float, pieces: int = 2, *, advised: bool = True) -> WoodPutOn:
    """Wood goes on."""
    return WoodPutOn(at=at(minutes), by=OWNER, pieces=pieces, kg=0.25 * pieces, advised=advised)


def let_die(minutes: float, why: str) -> Advised:
    """It may burn down."""
    return Advised(at=at(minutes), action=Action.HOLD_DONE, minutes=60.0, why=why)


def over(minutes: float, why: str = "held") -> tuple[Entry, ...]:
    """No flame is left, and the fire is over."""
    ended = {"at": at(minutes), "by": OWNER, "firing": 1, "aim_c": 150.0, "peak_c": None}
    ended |= {"held_h": 0.0, "completed": why == "held", "why": why}
    return (FireDied(at=at(minutes), by=OWNER), FiringEnded.model_validate(ended))


def journal(*told: Entry, thermometer: bool = True) -> tuple[Entry, ...]:
    """An oven, its first fire lit as promised, and what is told of it."""
    opened = LIT - timedelta(days=3)
    makeup = shipped().make_up(
        "cast-dense", name="Orchard oven", inner_diameter_mm=800, wet_work_ended=date(2026, 5, 2),
        instrument=Instrument(max_c=550) if thermometer else None, zone="UTC",
    )  # fmt: skip
    promised = PROMISED.model_copy(update={"day": LIT.date(), "start": LIT})
    return (
        Opened(at=opened, by=OWNER, name="Orchard oven"),
        Joined(at=opened, by=OWNER, person=OWNER),
        Described(at=opened, by=OWNER, makeup=makeup),
        Promised(at=opened, firings=(promised,), why="first"),
        *([read(-5, 17.0)] if thermometer else []),
        FireLit(at=LIT, by=OWNER, aim=PROMISED.model_copy(update={"number": 1})),
        *sorted(told, key=lambda one: one.at),
    )


def fire(*told: Entry, thermometer: bool = True) -> FiringLog:
    """That fire as the record has it."""
    return firing_logs(Record(journal(*told, thermometer=thermometer), "oven", members=0))[0]


def paper(*told: Entry, thermometer: bool = True) -> OvenRecord:
    """The record of it."""
    entries = journal(*told, thermometer=thermometer)
    return paper_of(entries)


def paper_of(entries: tuple[Entry, ...]) -> OvenRecord:
    """The record of a journal."""
    people = People({OWNER: "Zoë", BUILDER: "Ole"}, frozenset({BUILDER}))
    record = Record(entries, "oven", members=0)
    return record_of(record, people, max(one.at for one in entries), place="Little Hollow")
