"""How this dome answers wood: how far a kilogram lifts it, and how fast it falls without.

A first guess comes from the make-up; every pair of readings around a charge corrects it. Where
there is a choice the stronger answer is believed, since that asks for less wood.
"""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from scheduling.firing.session import Session, crown_c
from scheduling.journal import Measured
from scheduling.oven.makeup import MakeUp
from scheduling.oven.passage import HEAT_OF_WOOD_J_KG, INTO_DOME
from scheduling.oven.reading import shell_effusivity

GAIN_K_KG = 80.0
"""Taken where no make-up is known (own choice)."""

BURNS_MINUTES, BURNS_MINUTES_PER_MM = 8.0, 0.5
"""Minutes that a charge flames, by the thickness of its pieces (own choice)."""

FALL_PER_H = 0.5
"""Share of its excess over the air that a fresh hot face loses in the hour after the flames,
until it has been watched falling (own choice)."""

AIR_C = 20.0
LEAST_GAIN, MOST_GAIN = 0.5, 2.0
"""What was watched counts within these shares of the first guess."""

SLOW_FALL_PER_H = 0.2
"""The same once the wall behind is warm: on the low side, so that more wood counts as unburnt."""

CATCHES_C = 280.0
"""In a dome this hot split wood takes fire by itself (common practice, no published source)."""

SMOULDERS_H = 2.0
"""Wood that shows no flame chars away in about this time (own choice)."""

WATCHED = 2


@dataclass(frozen=True, slots=True)
class Response:
    """``gain_k_kg`` is the rise of the crown for a kilogram burnt, ``fall_k_h`` its fall
    afterwards, ``burns_minutes`` how long a charge flames. ``pending_kg`` is wood that was put on
    and has not shown: a fire that smoulders may take it up all at once."""

    gain_k_kg: float
    fall_k_h: float
    burns_minutes: float
    pending_kg: float = 0.0

    def unfed_c(self, top_c: float, climb_k_h: float, since_fed: float, minutes: float) -> float:
        """The crown in so many minutes with nothing added, ``since_fed`` minutes after wood."""
        flames = min(minutes, max(0.0, self.burns_minutes - since_fed))
        rise = max(0.0, climb_k_h) * flames / 60.0 * 0.5
        return top_c + rise - self.fall_k_h * (minutes - flames) / 60.0

    def fed_c(self, top_c: float, kg: float, minutes: float) -> float:
        """The crown in so many minutes after ``kg`` went on."""
        flames = min(minutes, self.burns_minutes)
        lost = _loss_k_h(top_c) * flames + self.fall_k_h * (minutes - flames)
        return top_c + self.gain_k_kg * kg - lost / 60.0


def first_guess_k_kg(makeup: MakeUp | None) -> float:
    """Rise of a thick wall's face under the flux of a kilogram burnt in 20 minutes:
    2q√(t/π)/e (Carslaw & Jaeger §2.9)."""
    if makeup is None:
        return GAIN_K_KG
    seconds = 1200.0
    flux = INTO_DOME * HEAT_OF_WOOD_J_KG / (makeup.dome_area_m2 * seconds)
    return 2.0 * flux * math.sqrt(seconds / math.pi) / shell_effusivity(makeup)


def response_of(session: Session, guess_k_kg: float) -> Response:
    """The answer of the dome as this fire has shown it so far.

    A walk through the readings: what lies on the hearth and the rise between two of them tell
    how far a kilogram lifts, or that it has not burnt.
    """
    mm = session.aim.piece_mm if session.aim is not None else 40.0
    burns, fall = BURNS_MINUTES + BURNS_MINUTES_PER_MM * mm, _fall_k_h(session)
    gains: list[float] = []
    pending = 0.0
    for before, after in pairwise(_series(session)):
        start_c, end_c = crown_c(before), crown_c(after)
        if start_c is None or end_c is None:
            continue
        hours = (after.at - before.at) / timedelta(hours=1)
        there = pending + _fed_between(session, before.at, after.at)
        rise_k = max(0.0, end_c - start_c + _loss_k_h(start_c) * hours)
        if 0.1 <= hours <= 1.0 and there > 0.0 and rise_k >= LEAST_GAIN * guess_k_kg * there:
            gains.append(rise_k / there)
        pending = max(0.0, there - rise_k / guess_k_kg) * math.exp(-hours / SMOULDERS_H)
    pending += _fed_since(session)
    if session.top_c is not None and session.top_c >= CATCHES_C:
        pending = 0.0
    if not gains:
        return Response(guess_k_kg, fall, burns, pending)
    watched = gains[-WATCHED:]
    gain = min(max(sum(watched) / len(watched), watched[-1]), MOST_GAIN * guess_k_kg)
    return Response(gain, fall, burns, pending)


def _loss_k_h(top_c: float) -> float:
    """What the face gives to the wall and the mouth all the time."""
    return SLOW_FALL_PER_H * max(0.0, top_c - AIR_C)


def _series(session: Session) -> tuple[Measured, ...]:
    """The readings of a fire, with the one it was lit from."""
    return session.believed if session.start is None else (session.start, *session.believed)


def _fed_between(session: Session, first: datetime, last: datetime) -> float:
    """Wood that went on between two readings, the laying with it; unsaid amounts as advised."""
    aim = session.aim
    laid = aim.lay_kg if aim is not None and first <= session.lit_at <= last else 0.0
    charge = aim.charge_kg if aim is not None else 0.0
    return laid + sum(
        charge if one.kg is None else one.kg for one in session.stokes if first < one.at <= last
    )


def _fed_since(session: Session) -> float:
    """Wood that went on after the last reading."""
    since = session.believed[-1].at if session.believed else session.lit_at
    charge = session.aim.charge_kg if session.aim is not None else 0.0
    return sum(charge if one.kg is None else one.kg for one in session.stokes if one.at > since)


def _fall_k_h(session: Session) -> float:
    """How fast it fell when last watched falling unfed; else the first guess."""
    for before, after in reversed(list(pairwise(session.believed))):
        start_c, end_c = crown_c(before), crown_c(after)
        hours = (after.at - before.at) / timedelta(hours=1)
        unfed = _fed_between(session, before.at - timedelta(minutes=10), after.at) == 0.0
        if unfed and start_c is not None and end_c is not None and end_c < start_c and hours > 0.1:
            return min((start_c - end_c) / hours, FALL_PER_H * max(10.0, start_c - AIR_C))
    top_c = session.top_c
    return FALL_PER_H * max(10.0, (AIR_C if top_c is None else top_c) - AIR_C)
