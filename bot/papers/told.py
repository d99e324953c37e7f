"""What the parts of the record share: its reader's measures, dates in full, and who was who."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bot.papers.record import OvenRecord
from bot.wording.measures import Measures, Unit
from bot.wording.papers import order, told
from scheduling.journal import Order, TakenBack, Written

HOUSE = "stokewatch"
FORGOTTEN = "somebody no longer on file"


@dataclass(frozen=True, slots=True)
class Telling:
    """A record with the means to tell it, on a page so many points wide."""

    paper: OvenRecord
    m: Measures
    wide: float

    @classmethod
    def of(cls, paper: OvenRecord, wide: float) -> "Telling":
        """In the reader's unit and the oven's own time."""
        unit: Unit = "F" if paper.unit == "F" else "C"
        return cls(paper, Measures(unit, ZoneInfo(paper.record.zone), paper.as_of), wide)

    def who(self, person: str) -> str:
        """The name of whoever did or said something."""
        return (self.paper.people.name(person) or FORGOTTEN) if person else HOUSE

    def day(self, day: date) -> str:
        """A date with its weekday and year."""
        return f"{day:%a} {day.day} {day:%B} {day.year}"

    def short(self, day: date) -> str:
        """The same, short enough for a column."""
        return f"{day:%a} {day.day} {day:%b} {day.year}"

    def told(self, entry: Written) -> str:
        """What happened or was said, in a clause."""
        if isinstance(entry, TakenBack) and 1 <= entry.seq <= self.paper.entries:
            gone = self.paper.record.entries[entry.seq - 1]
            return f"order taken back: {order(gone, self.m)}" if isinstance(gone, Order) else ""
        return told(entry, self.m)

    def on(self, at: datetime) -> str:
        """The date of an instant."""
        return self.day(at.astimezone(self.m.zone).date())

    def at(self, at: datetime) -> str:
        """Date and time, short enough for a column: ``30 May 2026, 9:18``."""
        local = at.astimezone(self.m.zone)
        return f"{local.day} {local:%b} {local.year}, {local.hour}:{local:%M}"

    def figure(self, celsius: float | None) -> str:
        """Degrees without their unit; nothing where nothing was read."""
        return "" if celsius is None else self.m.degrees(celsius).split()[0]

    def size(self, millimetres: float) -> str:
        """A size of the oven in millimetres, with inches beside them for who reads °F."""
        inches = f" ({millimetres / 25.4:.1f} in)" if self.m.unit == "F" else ""
        return f"{millimetres:.0f} mm{inches}"

    def rate(self, k_h: float) -> str:
        """A rate, to the degree an hour: a record is not rounded as advice is."""
        scale = 1.0 if self.m.unit == "C" else 1.8
        return f"{k_h * scale:.0f} °{self.m.unit}/h"
