"""How this dome answers wood: how far a kilogram lifts it, and how fast it falls without.

The crown is taken as a store that is fed by burning wood and leaks: ``dT/dt = g b - l (T - air)``,
``b`` being what burns (kg/h), ``g`` the gain and ``l`` the loss. A charge burns away
exponentially. A first guess of both comes from the make-up; every interval between two readings
corrects it, as a Bayesian linear regression with forgetting (own choice of model and widths).
Where a peak is to be kept in bounds the stronger end of what is believed counts.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np

from scheduling.firing.session import Session, crown_c
from scheduling.firing.wood import AIR_C, LAID_MM, THIN_MM
from scheduling.oven.fire_heat import (
    CROWN_OVER_DOME,
    DOME_PART,
    mouth_share,
    net_heat_j_kg,
    taken_up,
)
from scheduling.oven.makeup import MakeUp
from scheduling.oven.reading import shell_effusivity

GAIN_K_KG = 80.0
"""Taken where no make-up is known (own choice)."""

BURNS_H_PER_MM = 0.0125
"""Hours in which a piece burns to 1/e, for each millimetre of its thickness: three quarters of
an hour for a thick one (own choice)."""
LAID_BURNS_H = BURNS_H_PER_MM * LAID_MM

BURNT_IN_S = 3600.0
"""A charge that falls to 1/e in half an hour has all but burnt by then."""

GUESSED_AT_C = 100.0
"""Where the first guess is made of a dome that nobody has read."""

LOSS_PER_H = 0.35
"""Share of its excess over the air that a crown loses in an hour, until it was watched."""

GAIN_SHARE_SD, LOSS_SD = 0.4, 0.15
"""How sure the first guess is: of the gain as a share of it, of the loss per hour."""

STRONGER = 1.0 + GAIN_SHARE_SD
"""The strong end of the first guess, as a share of it."""

AHEAD = 120.0
"""Minutes for which a charge must not lift the crown too far, should nobody look again."""

READ_SD_K = 10.0
"""What one interval may be off: two readings by hand, and a charge that caught late."""

FORGETS = 0.75
"""Weight of an interval over that of the next one: the wall behind grows warmer."""

LEAST_GAIN, MOST_GAIN = 0.6, 2.0
LEAST_LOSS, MOST_LOSS = 0.08, 0.8
"""What was watched counts within these shares of the first guess, and per hour. Less gain than
the least is wood that has not burnt yet."""

WEAKEST_K_KG = 40.0
"""So little a kilogram may lift any dome, whatever its make-up promised: the face of a light shell
is guessed to leap, and one that does not must not be starved for it (own choice)."""

STRONGEST_TOLD_K_KG, ANSWERS = 120.0, 3
"""Once a dome has answered wood so many times, its make-up's guess bounds the peak no higher than
a dense dome's would (own choice)."""

CATCHES_C = 280.0
"""In a dome this hot split wood takes fire by itself (common practice, no published source)."""

SMOULDERS_H = 2.0
"""Wood that shows no flame is charred away in about this time (own choice)."""

SHOWS = 0.75
"""Share of what is believed of the gain by which a charge is held to have shown (own choice):
readings by hand scatter, and a charge must not count as unburnt for that."""

CAUGHT = 0.3
"""Share of the wood put on that a reading must speak for, even in the weakest dome; else it is
held not to burn (own choice)."""

SHORTEST_H, LONGEST_H = 0.1, 1.5
"""An interval between readings tells something if it is as long as this, and no longer."""

HOUR = timedelta(hours=1)

LOOKS = 12
"""Instants of a stretch ahead at which its peak is looked for."""


@dataclass(frozen=True, slots=True)
class Response:
    """``gain_k_kg`` is what a kilogram burnt gives the crown, ``strong_k_kg`` the same one
    standard deviation higher; ``loss_per_h`` the share of its excess over the air that it loses.
    ``burning_kg`` lies on the hearth and burns; ``late_kg`` was put on and has not shown: a fire
    that smoulders may take it up all at once. ``caught`` is whether the last reading showed the
    wood put on before it."""

    gain_k_kg: float
    strong_k_kg: float
    loss_per_h: float
    burns_h: float
    burning_kg: float = 0.0
    late_kg: float = 0.0
    caught: bool = True

    @property
    def there_kg(self) -> float:
        """All wood that may still burn."""
        return self.burning_kg + self.late_kg

    def after_c(self, top_c: float, kg: float, minutes: float) -> float:
        """The crown in so many minutes if ``kg`` goes on now."""
        hours = minutes / 60.0
        lit_kg = self.burning_kg + kg
        return self.unfed_c(top_c, hours) + self.gain_k_kg * lit_kg * self.lift(hours)

    def peak_c(self, top_c: float, kg: float, minutes: float) -> float:
        """The highest crown within so many minutes, at the strong end of the gain, with the wood
        that is late burning too."""
        kg += self.there_kg
        return max(
            self.unfed_c(top_c, hours) + self.strong_k_kg * kg * self.lift(hours)
            for hours in self.looks(minutes)
        )

    def kg_to(self, goal_c: float, top_c: float, minutes: float) -> float:
        """Wood that brings the crown to ``goal_c`` in so many minutes; below 0 if it is too
        much already."""
        short_k = goal_c - self.after_c(top_c, 0.0, minutes)
        return short_k / (self.gain_k_kg * self.lift(minutes / 60.0))

    def kg_below(self, limit_c: float, top_c: float, minutes: float) -> float:
        """The most wood with which the crown stays below ``limit_c`` for so many minutes."""
        most_kg = min(
            (limit_c - self.unfed_c(top_c, hours)) / (self.strong_k_kg * self.lift(hours))
            for hours in self.looks(minutes)
        )
        return most_kg - self.there_kg

    def unfed_c(self, top_c: float, hours: float) -> float:
        """The crown in so many hours over a bare hearth."""
        return AIR_C + (top_c - AIR_C) * math.exp(-self.loss_per_h * hours)

    def lift(self, hours: float) -> float:
        """Share of its gain that a kilogram burning from now on shows after ``hours``."""
        burns, loses = 1.0 / self.burns_h, self.loss_per_h
        if abs(burns - loses) < 1e-6:
            return burns * hours * math.exp(-burns * hours)
        return burns / (burns - loses) * (math.exp(-loses * hours) - math.exp(-burns * hours))

    @staticmethod
    def looks(minutes: float) -> Iterator[float]:
        """Instants of the next minutes at which a peak is looked for, in hours."""
        return (minutes / 60.0 * (look + 1) / LOOKS for look in range(LOOKS))


def first_guess_k_kg(makeup: MakeUp | None, face_c: float = GUESSED_AT_C) -> float:
    """Rise of a thick wall's crown, standing at ``face_c``, under the flux of a kilogram burnt in
    an hour: 2q√(t/π)/e (Carslaw & Jaeger §2.9), q by the balance of ``fire_heat``."""
    if makeup is None:
        return GAIN_K_KG
    seconds = BURNT_IN_S
    share = taken_up(face_c, AIR_C, mouth_share(makeup.mouth_area_m2, makeup.dome_area_m2))
    crown_j_m2 = CROWN_OVER_DOME * DOME_PART * float(share) * net_heat_j_kg() / makeup.dome_area_m2
    return 2.0 * crown_j_m2 / math.sqrt(seconds * math.pi) / shell_effusivity(makeup)


def unread_room_kg(
    session: Session, now: datetime, guess_k_kg: float, start_c: float, limit_c: float
) -> float:
    """The most wood (kg) with which the crown of a fire that nobody reads stays below ``limit_c``,
    by all that was put on since it was lit at ``start_c``, at the strong end of the gain and the
    slow end of the loss."""
    wood = _wood(session)
    slow_per_h = LOSS_PER_H - LOSS_SD
    strong = Response(guess_k_kg, STRONGER * guess_k_kg, slow_per_h, wood[-1].burns_h)

    def crown_at(instant: datetime) -> float:
        hours = (instant - session.lit_at) / timedelta(hours=1)
        lifts = (
            one.kg * replace(strong, burns_h=one.burns_h).lift((instant - one.at) / HOUR)
            for one in wood
            if one.at <= instant
        )
        return strong.unfed_c(start_c, hours) + strong.strong_k_kg * sum(lifts)

    return min(
        (limit_c - crown_at(now + hours * HOUR)) / (strong.strong_k_kg * strong.lift(hours))
        for hours in strong.looks(AHEAD)
    )


def response_of(session: Session, now: datetime, guess_k_kg: float) -> Response:
    """The answer of the dome as this fire has shown it up to ``now``."""
    wood = _wood(session)
    watched = tuple(_watched(session, wood))
    gain, gain_sd, loss = _fitted(watched, guess_k_kg)
    since = session.embers_at
    burning = sum(one.left_kg(now) for one in wood if since is None or one.at > since)
    unseen = tuple(one for one in watched if since is None or one.begins >= since)
    late = _late_kg(unseen, SHOWS * gain, min(loss, LOSS_PER_H))
    if session.top_c is not None and session.top_c >= CATCHES_C:
        # What had not caught is catching now.
        burning, late = burning + late, 0.0
    answered = sum(one.caught(guess_k_kg) for one in watched) >= ANSWERS
    told_k_kg = min(guess_k_kg, STRONGEST_TOLD_K_KG) if answered else guess_k_kg
    return Response(
        gain,
        max(gain + gain_sd, told_k_kg),
        loss,
        wood[-1].burns_h,
        burning,
        late,
        late == 0.0 or not unseen or unseen[-1].caught(guess_k_kg),
    )


@dataclass(frozen=True, slots=True)
class _Charge:
    """Wood that went on at once."""

    at: datetime
    kg: float
    burns_h: float

    def left_kg(self, instant: datetime) -> float:
        hours = (instant - self.at) / timedelta(hours=1)
        return self.kg * math.exp(-hours / self.burns_h) if hours >= 0.0 else 0.0

    def burnt_kg(self, first: datetime, last: datetime) -> float:
        if last <= self.at:
            return 0.0
        return self.left_kg(max(first, self.at)) - self.left_kg(last)


@dataclass(frozen=True, slots=True)
class _Watched:
    """An interval between two readings: when it begins, hours, rise (K), mean excess over the air
    (K), and the wood (kg) that should have burnt in it."""

    begins: datetime
    hours: float
    rise_k: float
    excess_k: float
    burnt_kg: float

    def shown_kg(self, gain_k_kg: float, loss_per_h: float) -> float:
        """Wood that the rise speaks for."""
        return max(0.0, self.rise_k + loss_per_h * self.excess_k * self.hours) / gain_k_kg

    def caught(self, guess_k_kg: float) -> bool:
        """Whether enough of the wood put on has shown for it to burn at all."""
        return self.shown_kg(_least_k_kg(guess_k_kg), LOSS_PER_H) >= CAUGHT * self.burnt_kg


def _least_k_kg(guess_k_kg: float) -> float:
    return min(LEAST_GAIN * guess_k_kg, WEAKEST_K_KG)


def _wood(session: Session) -> tuple[_Charge, ...]:
    """All wood of a fire, the laying first; unsaid amounts as they were planned."""
    aim = session.lit_for
    laid_kg, charge_kg = (0.0, 0.0) if aim is None else (aim.lay_kg, aim.charge_kg)
    burns_h = BURNS_H_PER_MM * (THIN_MM if aim is None else aim.piece_mm)
    return (
        _Charge(session.lit_at, laid_kg, LAID_BURNS_H),
        *(_Charge(one.at, charge_kg if one.kg is None else one.kg, burns_h) for one in session.fed),
    )


def _watched(session: Session, wood: Sequence[_Charge]) -> Iterator[_Watched]:
    """The intervals between readings that tell how the dome answers, in order."""
    series = session.believed
    if session.start is not None:
        series = (session.start, *series)
    for before, after in pairwise(series):
        start_c, end_c = crown_c(before), crown_c(after)
        hours = (after.at - before.at) / timedelta(hours=1)
        if start_c is None or end_c is None or not SHORTEST_H <= hours <= LONGEST_H:
            continue
        yield _Watched(
            before.at,
            hours,
            end_c - start_c,
            max(0.0, 0.5 * (start_c + end_c) - AIR_C),
            sum(one.burnt_kg(before.at, after.at) for one in wood),
        )


def _fitted(watched: Sequence[_Watched], guess_k_kg: float) -> tuple[float, float, float]:
    """Gain (K/kg), its standard deviation, and loss (1/h), by what was watched."""
    mean = np.array([guess_k_kg, LOSS_PER_H])
    precision = np.diag([(GAIN_SHARE_SD * guess_k_kg) ** -2, LOSS_SD**-2])
    moment = precision @ mean
    # Wood that did not burn says nothing of how a dome answers wood that does.
    telling = [one for one in watched if one.caught(guess_k_kg)]
    for age, one in enumerate(reversed(telling)):
        row = np.array([one.burnt_kg, -one.excess_k * one.hours])
        weight = FORGETS**age / READ_SD_K**2
        precision = precision + weight * np.outer(row, row)
        moment = moment + weight * row * one.rise_k
    spread = np.linalg.inv(precision)
    gain, loss = (float(value) for value in spread @ moment)
    return (
        min(max(gain, _least_k_kg(guess_k_kg)), MOST_GAIN * guess_k_kg),
        float(np.sqrt(spread[0, 0])),
        min(max(loss, LEAST_LOSS), MOST_LOSS),
    )


def _late_kg(watched: Sequence[_Watched], gain_k_kg: float, loss_per_h: float) -> float:
    """Wood that should have shown, and that has not: it lies there, until it shows or is charred
    away."""
    late = 0.0
    for one in watched:
        missing = late + one.burnt_kg - one.shown_kg(gain_k_kg, loss_per_h)
        late = max(0.0, missing) * math.exp(-one.hours / SMOULDERS_H)
    return late
