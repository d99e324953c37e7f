"""A fire as far as it went: where the dome stood, what went on and what was read of it."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np

from scheduling.firing.dome import MOST_UNREAD_H, Course
from scheduling.firing.session import Session, crown_c
from scheduling.firing.wood import (
    AIR_C,
    KINDLING_MM,
    LAID_MM,
    THICKEST_MM,
    THIN_MM,
    piece_mm_of,
)
from scheduling.journal import WoodPutOn

FALLS_K, SHOWS_H = 3.0, 0.15
"""So far apart two readings show a fall; hours after which wood that burns shows (own choice)."""

HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class FireCourse:
    """What the samples of ``dome`` are run through, as it can be a key: hours since the match with
    kg and mm of what went on, and with °C of what was read."""

    start_c: float
    wood: tuple[tuple[float, float, float], ...]
    read: tuple[tuple[float, float], ...]
    now_h: float

    def course(self) -> Course:
        """The same as arrays."""
        wood = np.array(self.wood, dtype=np.float64).reshape(-1, 3)
        read = np.array(self.read, dtype=np.float64).reshape(-1, 2)
        return Course(self.start_c, wood, read, self.now_h)

    def falls_through(self) -> bool:
        """Whether the crown fell twice although wood went on each time, long enough before to have
        burnt: no charge that burns away lets it."""
        if len(self.read) < 3:
            return False
        for (before_h, before_c), (at_h, at_c) in pairwise(self.read[-3:]):
            fed = any(before_h <= put_h < at_h - SHOWS_H for put_h, _, _ in self.wood)
            if not fed or at_c > before_c - FALLS_K or at_h - before_h > MOST_UNREAD_H:
                return False
        return True

    def without_last(self, readings: int) -> "FireCourse":
        """As far as it was before these."""
        return replace(self, read=self.read[: len(self.read) - readings])

    def until_its_last(self) -> "FireCourse":
        """Up to its last reading."""
        until_h = self.read[-1][0] if self.read else 0.0
        wood = tuple(one for one in self.wood if one[0] <= until_h)
        return replace(self, wood=wood, now_h=until_h)

    def without_wood_after(self, at_h: float) -> "FireCourse":
        """As if what was put on between then and the last reading had never gone on."""
        last_h = self.read[-1][0]
        return replace(self, wood=tuple(o for o in self.wood if not at_h < o[0] < last_h))


def course_of(session: Session, now: datetime | None = None, start_c: float = AIR_C) -> FireCourse:
    """A fire up to ``now`` or its last reading; unsaid amounts of wood as they were planned."""
    last = session.believed[-1].at if session.believed else session.lit_at
    until = last if now is None else now
    aim = session.lit_for
    laid_kg, charge_kg = (0.0, 0.0) if aim is None else (aim.lay_kg, aim.charge_kg)
    wood = [(0.0, laid_kg, LAID_MM)]
    wood += [
        (
            (one.at - session.lit_at) / HOUR,
            charge_kg if one.kg is None else one.kg,
            _thickness_mm(session, one),
        )
        for one in session.fed
        if one.at <= until
    ]
    read = [
        ((one.at - session.lit_at) / HOUR, top_c)
        for one in session.believed
        if one.at <= until and (top_c := crown_c(one)) is not None
    ]
    read_c = None if session.start is None else crown_c(session.start)
    return FireCourse(
        start_c if read_c is None else read_c, tuple(wood), tuple(read),
        max(0.0, (until - session.lit_at) / HOUR),
    )  # fmt: skip


def _thickness_mm(session: Session, put: WoodPutOn) -> float:
    """How thick the pieces of a charge are, by their weight where that was said."""
    if put.kg and put.pieces:
        return min(max(piece_mm_of(put.kg / put.pieces), KINDLING_MM), THICKEST_MM)
    return piece_mm_in(session)


def piece_mm_in(session: Session) -> float:
    """How thick its pieces are where nothing else was said, mm."""
    return THIN_MM if session.aim is None else session.aim.piece_mm


def put_kg(session: Session, after: datetime, before: datetime) -> float:
    """Wood that went on between these instants."""
    return sum(one.kg or 0.0 for one in session.fed if after < one.at < before)
