"""An old hand who sees the true crown: the classical fires, to know what an oven allows.

What she cannot finish nobody should be blamed for; and what she would burn is the measure, by no
sum of ours, of the wood that a fire takes.
"""

from copy import deepcopy
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from tests.trials.unmet_ovens.cases import Case
from tests.trials.unmet_ovens.draw import Drawn, draw_oven, generators
from tests.trials.unmet_ovens.oven import Oven, Weather
from tests.trials.unmet_ovens.structures import Structure

AIMS_C = (150.0, 200.0, 250.0, 300.0, 350.0, 400.0)
CLIMB_K_H = 90.0
HOLD = timedelta(hours=3)
LONGEST_H = 9.0
LOOKS_EVERY = timedelta(minutes=8)
FAIR_SHARE = 0.7
MOISTURE = 0.17
THICK_MM = 40.0
KG_M2_PER_LOOK = 0.35
"""At most, for each square metre inside."""


@dataclass(frozen=True, slots=True)
class Burnt:
    """What one of her fires did."""

    aim_c: float
    peak_c: float
    hours: float
    wood_kg: float
    morning_c: float
    water_kg: float
    worst_share: float


@dataclass(frozen=True, slots=True)
class Led:
    """A fire up to the end of its hold; ``wood_kg`` without what still lay there unburnt."""

    peak_c: float
    hours: float
    wood_kg: float
    reached: bool


def lead(oven: Oven, aim_c: float, hold: timedelta, moisture: float) -> Led:
    """To the aim and through its hold, by looking every eight minutes."""
    began, start_c, wood = oven.now, oven.crown_c, oven.fire.wood_kg
    room = float(oven.cavity.areas.sum())
    gain_k = 60.0 / room
    oven.light(0.35 * room, moisture, 25.0)
    peak, keep_kg = oven.crown_c, 0.0
    reached: datetime | None = None
    while True:
        oven.run_until(oven.now + LOOKS_EVERY)
        peak = max(peak, oven.crown_c)
        hours = (oven.now - began) / timedelta(hours=1)
        led_c = min(aim_c, max(start_c, 60.0) + CLIMB_K_H * (hours + 0.35))
        if reached is None and oven.crown_c > aim_c - 12.0:
            reached = oven.now
        if (reached is not None and oven.now - reached > hold) or hours > LONGEST_H:
            break
        lacks = led_c - oven.crown_c - gain_k * oven.fire.unburnt_kg * 0.7
        keep_kg = min(max(keep_kg + 0.06 * lacks / gain_k, 0.0), KG_M2_PER_LOOK * room)
        kg = min(0.5 * lacks / gain_k + keep_kg, 2.0 * KG_M2_PER_LOOK * room)
        if kg > 0.05 * room:
            oven.stoke(kg, moisture, THICK_MM, paper=not oven.fire.flames)
    put_kg = oven.fire.wood_kg - wood
    return Led(peak, hours, put_kg - oven.fire.unburnt_kg, reached is not None)


def would_lead(oven: Oven, aim_c: float, hold_h: float, moisture: float) -> Led:
    """What she would do with the oven as it stands, in a copy of it."""
    watch, oven.watch = oven.watch, _look_away
    copy = deepcopy(oven, {id(oven.weather_at): oven.weather_at})
    oven.watch = watch
    return lead(copy, aim_c, timedelta(hours=hold_h), moisture)


def _look_away(_: Oven) -> None:
    """Nothing is noted of a copy."""


def fire_to(oven: Oven, aim_c: float) -> Burnt:
    """One of her own fires; then the door, until the next morning."""
    began, wood = oven.now, oven.fire.wood_kg
    led = lead(oven, aim_c, HOLD, MOISTURE)
    while oven.fire.flames:
        oven.run_until(oven.now + LOOKS_EVERY)
    oven.door_on = True
    oven.run_until(began + timedelta(hours=24))
    return Burnt(
        aim_c, led.peak_c, led.hours, oven.fire.wood_kg - wood, oven.crown_c, oven.water_kg,
        oven.account.worst_share,
    )  # fmt: skip


def hard(oven: Oven) -> Burnt:
    """No hand at all: as much as fits, until it reads 420 °C or four hours are over."""
    began, wood, room = oven.now, oven.fire.wood_kg, float(oven.cavity.areas.sum())
    oven.light(0.8 * room, MOISTURE, 25.0)
    while oven.crown_c < 420.0 and oven.now - began < timedelta(hours=4):
        oven.run_until(oven.now + LOOKS_EVERY)
        if oven.fire.unburnt_kg < 2.5 * room:
            oven.stoke(0.8 * room, MOISTURE, THICK_MM)
    hours = (oven.now - began) / timedelta(hours=1)
    return Burnt(
        420.0, oven.crown_c, hours, oven.fire.wood_kg - wood, 0.0, oven.water_kg,
        oven.account.worst_share,
    )  # fmt: skip


def classical(oven: Oven) -> list[Burnt]:
    """All of them, and the hottest again while it is not dry or black."""
    done = [fire_to(oven, aim) for aim in AIMS_C]
    while not (oven.dry and oven.clear) and len(done) < len(AIMS_C) + 3:
        done.append(fire_to(oven, AIMS_C[-1]))
    return done


@dataclass(frozen=True, slots=True)
class Allowed:
    """What an oven allows: what she made of it."""

    fires: int
    wood_kg: float
    worst_share: float
    finished: bool

    @property
    def fair(self) -> bool:
        """Nobody has an excuse with it: she dried and cleared it with steam to spare."""
        return self.finished and self.worst_share < FAIR_SHARE


def allowed(case: Case) -> Allowed:
    """Her fires at the oven of that case."""
    oven = drawn(case.seed, case.number, case.structure).oven
    fires = classical(oven)
    return Allowed(len(fires), oven.fire.wood_kg, oven.account.worst_share, oven.dry and oven.clear)


def calm(_: datetime) -> Weather:
    """An even day."""
    return Weather(14.0, 1.0)


def drawn(seed: int, number: int, structure: Structure) -> Drawn:
    """The same oven as in a trial of that seed and number."""
    start = datetime.combine(date(2026, 6, 1), datetime.min.time(), UTC) + timedelta(hours=8)
    return draw_oven(structure, generators(seed, number, 3)[0], start, calm)
