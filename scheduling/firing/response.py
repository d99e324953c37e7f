"""How this dome answers wood from now on, by all that was read of it.

``dome`` holds the ways in which it may; here they are fitted to this fire, and before it to the
fires that were: gain, loss, how fast its owner's wood burns. Where a peak is to be kept in bounds
the strong end of what is believed counts.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from scheduling.firing.dome import MOST_UNREAD_H, STEP_H, Run, Samples
from scheduling.firing.fire_course import HOUR, FireCourse, course_of, piece_mm_in, put_kg
from scheduling.firing.session import Session, crown_c
from scheduling.firing.wood import AIR_C, LAID_MM
from scheduling.journal import Measured
from scheduling.oven.fire_heat import (
    CROWN_OVER_DOME,
    DOME_PART,
    mouth_share,
    net_heat_j_kg,
    taken_up,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.reading import shell_effusivity

Floats = npt.NDArray[np.float64]

GAIN_K_KG = 80.0
"""Taken where no make-up is known (own choice)."""

BURNT_IN_S = 3600.0
"""The first guess is that of a kilogram burnt in an hour."""

GUESSED_AT_C = 100.0
"""Where the first guess is made of a dome that nobody has read."""

AHEAD = 120.0
"""Minutes for which a charge must not lift the crown too far, should nobody look again."""

STRONG = 0.85
"""Share of what is believed in which a peak is kept in bounds (own choice: one standard
deviation)."""

SURE = 0.98
"""The same of a lid, that nothing may pass (own choice)."""

CATCHES_C = 280.0
"""In a dome this hot split wood takes fire by itself (common practice, no published source)."""

SULKING = 0.15
"""How often wood does not catch, before anything is read (own choice)."""

SULKS = timedelta(minutes=75)
"""Wood that does not catch lies there about so long before it is charred away (own choice)."""

PAST_FIRES, PAST_WEIGHT, OTHER_DAY = 2, 0.4, 1.3
"""So many fires before this one teach of the dome, at this share of their evidence; a new day
makes what is believed less sure by that factor: a drier wall, another pile of wood (own choice)."""

PEAK_WORTH_K, PEAK_MOST_K = 10.0, 50.0
"""So far above the readings on both sides a peak is worth telling the wall, and it is told as no
higher than that: nobody has read it, and the wood may have been mistyped (own choice)."""


@dataclass(frozen=True, slots=True)
class Response:
    """What the crown does from now on: in each way that is believed (S,), at every step of
    ``dome.STEP_H``, if nothing goes on (°C), over a hearth swept bare (°C), and what a kilogram put
    on now adds (K).

    ``burning_kg`` lies on the hearth and burns, or is about to; ``late_kg`` was put on and has not
    caught: a fire that smoulders may take it up all at once. ``learnt`` is how many readings of
    this fire have told of it."""

    unfed: Floats
    bare: Floats
    lift: Floats
    burning_kg: float = 0.0
    late_kg: float = 0.0
    learnt: int = 0

    @property
    def there_kg(self) -> float:
        """All wood that may still burn."""
        return self.burning_kg + self.late_kg

    def course_c(self, kg: float) -> Floats:
        """The middle of the crown at every step ahead if ``kg`` goes on now."""
        return np.asarray((self.unfed + kg * self.lift).mean(axis=0))

    def after_c(self, kg: float, minutes: float) -> float:
        """The same in so many minutes."""
        return float(self.course_c(kg)[_look(minutes)])

    def bare_c(self, minutes: float) -> float:
        """The middle of the crown in so many minutes over a bare hearth."""
        return float(self.bare[:, _look(minutes)].mean())

    def range_c(self, kg: float, minutes: float) -> tuple[float, float]:
        """Between what it lies then in seven of ten ways."""
        crowns = (self.unfed + kg * self.lift)[:, _look(minutes)]
        low, high = np.quantile(crowns, [1.0 - STRONG, STRONG])
        return float(low), float(high)

    def peak_c(self, kg: float, minutes: float) -> float:
        """The highest crown within so many minutes, at the strong end, with the wood that is late
        burning too."""
        crowns = (self.unfed + (kg + self.late_kg) * self.lift)[:, : _look(minutes) + 1]
        return float(np.quantile(crowns.max(axis=1), STRONG))

    def kg_to(self, goal_c: float, minutes: float) -> float:
        """Wood that brings the crown to ``goal_c`` in so many minutes; below 0 if it is too
        much already."""
        look = _look(minutes)
        return float((goal_c - self.unfed[:, look].mean()) / self.lift[:, look].mean())

    def kg_around(self, goal_c: float, minutes: float) -> float:
        """Wood that keeps the crown on the mean of so many minutes at ``goal_c``."""
        until = _look(minutes) + 1
        short_k = goal_c - self.unfed[:, :until].mean()
        return float(short_k / self.lift[:, :until].mean())

    def kg_below(
        self, limit_c: float | Floats, minutes: float = AHEAD, sure: float = STRONG
    ) -> float:
        """The most wood with which the crown stays below ``limit_c`` for so many minutes, in that
        share of what is believed."""
        until = _look(minutes) + 1
        limit = np.broadcast_to(limit_c, self.unfed.shape[1])[:until]
        lift = np.maximum(self.lift[:, :until], 1e-9)  # nothing has caught at the first step
        room = ((limit - self.unfed[:, :until]) / lift).min(axis=1)
        return float(np.quantile(room, 1.0 - sure)) - self.late_kg


def _look(minutes: float) -> int:
    """The step ahead that lies so many minutes from now."""
    return max(0, min(round(minutes / 60.0 / STEP_H), round(AHEAD / 60.0 / STEP_H)) - 1)


def first_guess_k_kg(makeup: MakeUp | None, face_c: float = GUESSED_AT_C) -> float:
    """Rise of a thick wall's crown, standing at ``face_c``, under the flux of a kilogram burnt in
    an hour: 2q√(t/π)/e (Carslaw & Jaeger §2.9), q by the balance of ``fire_heat``."""
    if makeup is None:
        return GAIN_K_KG
    seconds = BURNT_IN_S
    share = taken_up(face_c, AIR_C, mouth_share(makeup.mouth_area_m2, makeup.dome_area_m2))
    crown_j_m2 = CROWN_OVER_DOME * DOME_PART * float(share) * net_heat_j_kg() / makeup.dome_area_m2
    return 2.0 * crown_j_m2 / math.sqrt(seconds * math.pi) / shell_effusivity(makeup)


@dataclass(frozen=True, slots=True)
class Known:
    """What of a dome is known beside the fire that burns: the first guess of its gain (K/kg), the
    fires before, and where the crown stood at the match (°C), as far as it was not read."""

    guess_k_kg: float = GAIN_K_KG
    past: tuple[Session, ...] = ()
    start_c: float = AIR_C

    @property
    def taught(self) -> "_Taught":
        """What the next fire begins with."""
        return self.guess_k_kg, tuple(course_of(one) for one in _telling(self.past))


def at_the_match(known: Known) -> Response:
    """How a cold hearth answers its first laying."""
    run = _fitted(known.taught, FireCourse(known.start_c, (), (), 0.0))
    return _response(run, known.start_c, LAID_MM)


def response_of(session: Session, now: datetime, known: Known) -> Response:
    """The answer of the dome as this fire and those before it have shown it up to ``now``."""
    course, taught, last = course_of(session, now, known.start_c), known.taught, session.last
    late_kg = 0.0
    if last is not None and _sulks(session, taught, course):
        # Wood that does not burn says nothing of how a dome answers wood that does.
        late_kg = put_kg(session, last.at - SULKS, last.at)
        course = course.without_wood_after(course.read[-1][0] - SULKS / HOUR)
    run = _fitted(taught, course)
    if session.embers_at is not None:
        run = run.with_at_most(put_kg(session, session.embers_at, now))
    just_read = last is not None and (now - last.at) / HOUR <= STEP_H
    response = _response(run, session.top_c if just_read else None, piece_mm_in(session))
    return replace(response, late_kg=late_kg, learnt=len(course.read))


def unread_room_kg(session: Session, now: datetime, known: Known, limit_c: float) -> float:
    """The most wood (kg) with which the crown of a fire that nobody reads stays below ``limit_c``,
    by all that was put on since it was lit, at the strong end."""
    run = _fitted(known.taught, course_of(session, now, known.start_c))
    return _response(run, None, piece_mm_in(session)).kg_below(limit_c, sure=SURE)


def foretold(session: Session, known: Known, read: Sequence[Measured]) -> float:
    """How well these readings of a fire are foretold by the wood that went on and by what was known
    before it: the logarithm of their likelihood, up to a constant."""
    course = course_of(replace(session, readings=tuple(read)), read[-1].at, known.start_c)
    fits = _learnt(known.taught).run(course.course()).fits
    most = float(fits.max())
    return most + math.log(float(np.exp(fits - most).mean()))


def peak_before(session: Session, read: Measured, known: Known) -> tuple[datetime, float] | None:
    """When, and how high (°C), the crown is believed to have stood highest between a reading and
    the one before; None where it was no higher than they, or nobody can tell."""
    earlier = [one for one in session.believed if one.at < read.at]
    read_c = crown_c(read)
    before_c = crown_c(earlier[-1]) if earlier else None
    if read_c is None or before_c is None:
        return None
    before = earlier[-1].at
    steps = round((read.at - before) / HOUR / STEP_H)
    if not 2 <= steps <= round(MOST_UNREAD_H / STEP_H):
        return None
    run = _fitted(known.taught, course_of(session, before, known.start_c))
    course_c = _with_wood(run, before_c, session, before, read.at, steps)
    # It is known where it came to: what was foretold wrong is shared out over the time.
    course_c += np.arange(1, steps + 1) / steps * (read_c - course_c[-1])
    highest = int(np.argmax(course_c))
    read_most_c = max(before_c, read_c)
    peak_c = min(float(course_c[highest]), read_most_c + PEAK_MOST_K)
    if peak_c < read_most_c + PEAK_WORTH_K:
        return None
    return before + (highest + 1) * STEP_H * HOUR, peak_c


def _with_wood(
    run: Run, from_c: float, session: Session, begin: datetime, end: datetime, steps: int
) -> Floats:
    """The middle of the crown at each step from one reading to the next, wood as it went on."""
    unfed, _, lift = run.ahead(from_c, piece_mm_in(session), steps)
    course_c = unfed.mean(axis=0)
    for one in session.stokes:
        if begin < one.at < end and one.kg:
            late = round((one.at - begin) / HOUR / STEP_H)
            course_c[late:] += one.kg * lift[:, : steps - late].mean(axis=0)
    return np.asarray(course_c)


def _telling(past: Sequence[Session]) -> list[Session]:
    """The last fires that tell something of the dome, in order."""
    return [one for one in past if len(one.believed) > 2][-PAST_FIRES:]


_Taught = tuple[float, tuple[FireCourse, ...]]
"""The first guess of a dome's gain (K/kg), and the fires before."""


@lru_cache(maxsize=64)
def _learnt(taught: _Taught) -> Samples:
    guess_k_kg, past = taught
    samples = Samples.guessed(guess_k_kg)
    for one in past:
        samples = samples.fitted(one.course(), PAST_WEIGHT).widened(OTHER_DAY)
    return samples


@lru_cache(maxsize=256)
def _told(taught: _Taught, until_its_last: FireCourse) -> Samples:
    """The samples after the last reading of a fire; it is asked about again and again until the
    next."""
    return _learnt(taught).fitted(until_its_last.course())


def _fitted(taught: _Taught, fire: FireCourse) -> Run:
    """The samples at the end of a course."""
    samples = _told(taught, fire.until_its_last()) if fire.read else _learnt(taught)
    return samples.run(fire.course())


def _response(run: Run, stands_c: float | None, thickness_mm: float) -> Response:
    ahead = run.ahead(stands_c, thickness_mm, _look(AHEAD) + 1)
    return Response(*ahead, float(np.median(run.there_kg)))


def _sulks(session: Session, taught: _Taught, frozen: FireCourse) -> bool:
    """Whether the wood of the last hour lies there unlit rather than burnt. A dome so hot that it
    lights wood by itself has no such wood."""
    last, top_c = session.last, session.top_c
    if last is None or top_c is None or top_c >= CATCHES_C or not frozen.read:
        return False
    if session.embers_at is not None and session.embers_at > last.at - SULKS:
        return False
    return frozen.falls_through() or _rather_unlit(taught, frozen)


def _rather_unlit(taught: _Taught, frozen: FireCourse) -> bool:
    """Which of the two foretells the last readings better, by what was known before them."""
    unlit = frozen.without_wood_after(frozen.read[-1][0] - SULKS / HOUR)
    if unlit == frozen:
        return False
    count = min(2, sum(at_h > frozen.read[-1][0] - SULKS / HOUR for at_h, _ in frozen.read))
    before = _fitted(taught, frozen.without_last(count).until_its_last()).samples
    burnt, lies = (
        before.run(one.course()).fits - before.run(one.without_last(count).course()).fits
        for one in (frozen, unlit)
    )
    return float(np.exp(lies).mean()) * SULKING > float(np.exp(burnt).mean()) * (1.0 - SULKING)
