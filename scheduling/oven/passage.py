"""Time passing over the walls of an ensemble: cooling, driven by readings, or burning on unread.

Each function takes a ``Stand`` and returns the next;
``watch`` is called after every step with the new stand, for pictures.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import numpy.typing as npt

from scheduling.oven import hearth as floor
from scheduling.oven.fire_heat import (
    BREATH_W_M2K,
    DOME_PART,
    mouth_share,
    mouth_shines_w_m2k,
    net_heat_j_kg,
    taken_up,
    wood_kg,
)
from scheduling.oven.history import FireLit, SurfaceRead, Unwatched, WoodPut
from scheduling.oven.infrared import KELVIN, STEFAN_BOLTZMANN
from scheduling.oven.maturity import ageing_rate
from scheduling.oven.prior import BURNS_DOWN_S, FIRE_SPREAD, FLOOR_W_M2K, Drawn
from scheduling.oven.saturation import ATMOSPHERE_PA
from scheduling.oven.stand import Ensemble, Stand
from scheduling.oven.surroundings import (
    RAIN_REACHES,
    Surroundings,
    outer_film_w_m2k,
    wind_at_wall_ms,
)
from scheduling.oven.wall import ColdFaces, Crossed, HotFaces, stepped
from scheduling.oven.weathering import dried, rained_on

Floats = npt.NDArray[np.float64]
Watch = Callable[[Stand], None]

FIRING_STEP_S = 120.0
COOLING_STEP_S = 900.0
GAP_STEP_S = 3600.0
SETTLES_S = 12 * 3600.0
"""A wall cools fast for some hours; then longer steps follow it as well."""

FLARE_K_H = 20.0
"""How far an unwatched fire may have flared above the line between two readings, per hour and
deviation (own choice), up to ``FLARE_MOST_K``."""
FLARE_MOST_K = 60.0

UNKNOWN_AIM_C = 200.0
"""What a fire is taken to have reached of which nothing at all is known (own choice)."""


def cooled(
    ensemble: Ensemble,
    stand: Stand,
    until: datetime,
    around: Surroundings,
    watch: Watch | None = None,
) -> Stand:
    """No fire: heat leaves through mouth and wall, rain comes, mortar ages."""
    drawn, since = ensemble.drawn, stand.at
    quiet_s = 0.0 if stand.fired_at is None else (since - stand.fired_at).total_seconds()
    while stand.at < until:
        gone = (stand.at - since).total_seconds() + quiet_s
        if stand.fired_at is None:
            gone = math.inf
        longest = GAP_STEP_S if gone >= SETTLES_S else COOLING_STEP_S if gone >= 3600 else 300.0
        seconds = min(longest, (until - stand.at).total_seconds())
        air = around.air_at(stand.at + timedelta(seconds=seconds / 2))
        breath = BREATH_W_M2K * drawn.mouth_m2_m2[:, np.newaxis]
        mouth = shining_w_m2k(drawn, stand.face_c, air) + breath + FLOOR_W_M2K
        if stand.door_on:
            mouth = np.minimum(mouth, drawn.door_on_w_m2k[:, np.newaxis])
        hot = HotFaces(
            mouth,
            np.asarray(air),
            np.zeros(2),
            _radiation(stand.face_c),
        )
        stand = _moved(ensemble, stand, seconds, hot, around, watch)
    return stand


def driven(
    ensemble: Ensemble,
    stand: Stand,
    read: SurfaceRead,
    between: Sequence[object],
    around: Surroundings,
    watch: Watch | None = None,
) -> Stand:
    """A burning fire up to a reading: the hot faces run straight from where they were to it.

    Where only the crown was read, each member has its own idea of the sides; where several sides
    were, the coolest counts. What nobody watched may have flared.
    """
    total = (read.at - stand.at).total_seconds()
    begin = stand.face_c
    end = faces_read(ensemble, read, around.air_at(read.at))
    flare = _flare_k(ensemble, between, total)
    steps = max(1, math.ceil(total / FIRING_STEP_S)) if total > 0 else 0
    given = np.zeros_like(begin)
    tail_s = 0.0
    for index in range(steps):
        seconds, share = total / steps, (index + 1) / steps
        faces = begin + share * (end - begin) + (4 * share * (1 - share) * flare)[:, np.newaxis]
        stand, crossed = held_at(ensemble, stand, seconds, faces, around, watch)
        if (read.at - stand.at).total_seconds() < 600.0:
            given += crossed.heat_in_w / ensemble.drawn.mesh.inner_m2 * seconds
            tail_s += seconds
    fire = stand.fire_w_m2
    if tail_s > 0:
        air = around.air_at(read.at)
        lost = shining_w_m2k(ensemble.drawn, end, air) * (end - air)
        fire = np.maximum(given / tail_s + lost, 0.0)
    if read.between:
        return replace(stand, at=read.at, face_c=end, fire_w_m2=fire)
    shown = read.top_c if read.top_c is not None else float(np.median(end[:, 0]))
    top = shown if stand.top_c is None else max(stand.top_c, shown)
    return replace(stand, at=read.at, face_c=end, fire_w_m2=fire, read_at=read.at, top_c=top)


def faces_read(ensemble: Ensemble, read: SurfaceRead, air_c: float) -> Floats:
    """What a reading means for the faces of every member (M, 2)."""
    drawn = ensemble.drawn
    wrong = read.spread_c * ensemble.draws.of("reading")
    sides = min(read.side_c) + wrong if read.side_c else None
    if read.top_c is not None:
        crown = read.top_c + wrong
        if sides is None:
            sides = air_c + drawn.side_share * (crown - air_c)
    else:
        coolest = min(read.side_c) + wrong
        crown = np.maximum(air_c + (coolest - air_c) / drawn.side_share, coolest)
        sides = coolest
    return np.stack([crown, sides], axis=1)


def burnt_on(
    ensemble: Ensemble,
    stand: Stand,
    until: datetime,
    between: Sequence[object],
    around: Surroundings,
    watch: Watch | None = None,
    step_s: float = FIRING_STEP_S,
) -> Stand:
    """A burning fire that nobody has read since: it goes on as it was, and burns down.

    Without any reading of this fire it is taken to do what it was lit for, each member in its
    own way.
    """
    if stand.read_at is None:
        return _as_meant(ensemble, stand, until, around, watch, step_s)
    strength = np.ones(ensemble.draws.members)
    burns_s = BURNS_DOWN_S * ensemble.draws.factor("burning")
    puts = [one for one in between if isinstance(one, WoodPut)]
    fire = stand.fire_w_m2
    usual = np.maximum(fire.mean(axis=1), 1.0)
    while stand.at < until:
        seconds = min(step_s, (until - stand.at).total_seconds())
        while puts and puts[0].at <= stand.at:
            kg, air = puts.pop(0).kg, around.air_at(stand.at)
            given = None if kg is None else kg * given_j_m2_kg(ensemble, stand.face_c, air)
            strength = _refuelled(strength, given, usual, burns_s)
        strength = strength * np.exp(-seconds / burns_s)
        air = around.air_at(stand.at)
        hot = HotFaces(
            shining_w_m2k(ensemble.drawn, stand.face_c, air),
            np.asarray(air),
            fire * strength[:, np.newaxis],
            _radiation(stand.face_c),
        )
        stand = _moved(ensemble, stand, seconds, hot, around, watch)
    return replace(stand, fire_w_m2=fire * strength[:, np.newaxis])


def given_j_m2_kg(ensemble: Ensemble, face_c: Floats, air_c: float) -> Floats:
    """What a kilogram of wood gives a square metre of each member's dome (M,), J."""
    make_up = ensemble.make_up
    opening = mouth_share(make_up.mouth_area_m2, make_up.dome_area_m2)
    share = taken_up(face_c.mean(axis=1), air_c, opening) * ensemble.draws.factor("taken_up")
    return np.asarray(DOME_PART * share * net_heat_j_kg() / make_up.dome_area_m2)


def wood_burnt_kg(
    ensemble: Ensemble, before: Stand, after: Stand, heat_in_w: Floats, air_c: float
) -> Floats:
    """Wood that a fire took to lead the walls from one stand to the next (M,), kg: what dome
    (``heat_in_w`` (M, 2) through its faces) and hearth took in, and what the mouth let out, over
    what a kilogram gives them."""
    make_up, drawn = ensemble.make_up, ensemble.drawn
    seconds = (after.at - before.at).total_seconds()
    out_w_m2 = shining_w_m2k(drawn, after.face_c, air_c) * (after.face_c - air_c)
    dome_w = (heat_in_w + out_w_m2 * drawn.mesh.inner_m2).sum(axis=1)
    need_j = dome_w * seconds + after.hearth.heat_j - before.hearth.heat_j
    opening = mouth_share(make_up.mouth_area_m2, make_up.dome_area_m2)
    share = taken_up(after.face_c.mean(axis=1), air_c, opening)
    return np.maximum(wood_kg(need_j, share * ensemble.draws.factor("taken_up")), 0.0)


def shining_w_m2k(drawn: Drawn, face_c: Floats, air_c: float) -> Floats:
    """What crown and side radiate out of the open mouth (M, 2), per m² of dome and K."""
    return np.asarray(drawn.mouth_m2_m2[:, np.newaxis] * mouth_shines_w_m2k(face_c, air_c))


def _refuelled(
    strength: Floats, given_j_m2: Floats | None, usual_w_m2: Floats, burns_s: Floats
) -> Floats:
    """The fire's strength after wood was put on; an untold amount restores it."""
    if given_j_m2 is None:
        return np.maximum(strength, 1.0)
    return np.asarray(strength + given_j_m2 / burns_s / usual_w_m2)


def _as_meant(
    ensemble: Ensemble,
    stand: Stand,
    until: datetime,
    around: Surroundings,
    watch: Watch | None,
    step_s: float,
) -> Stand:
    lit = stand.lit or FireLit(at=stand.at)
    aim = UNKNOWN_AIM_C if lit.aim_c is None else lit.aim_c
    luck = np.exp(FIRE_SPREAD * ensemble.draws.of("fire"))
    while stand.at < until:
        seconds = min(step_s, (until - stand.at).total_seconds())
        air = around.air_at(stand.at)
        crown_aim = air + (aim - air) * luck
        rise = lit.climb_c_per_h * luck * seconds / 3600.0
        crown = np.minimum(stand.face_c[:, 0] + rise, np.maximum(crown_aim, stand.face_c[:, 0]))
        sides = air + ensemble.drawn.side_share * (crown - air)
        faces = np.stack([crown, sides], axis=1)
        stand, _ = held_at(ensemble, stand, seconds, faces, around, watch)
        typical = float(np.median(crown))
        stand = replace(stand, top_c=max(typical, stand.top_c or typical))
    return stand


def held_at(
    ensemble: Ensemble,
    stand: Stand,
    seconds: float,
    faces_c: Floats,
    around: Surroundings,
    watch: Watch | None = None,
) -> tuple[Stand, Crossed]:
    """One step with the hot faces at given temperatures (M, 2)."""
    hot = HotFaces(np.asarray(np.inf), faces_c, np.zeros(2))
    moved, crossed = _stepped(ensemble, stand, seconds, hot, around)
    moved = replace(moved, face_c=faces_c)
    if watch is not None:
        watch(moved)
    return moved, crossed


def _moved(
    ensemble: Ensemble,
    stand: Stand,
    seconds: float,
    hot: HotFaces,
    around: Surroundings,
    watch: Watch | None,
) -> Stand:
    moved, _ = _stepped(ensemble, stand, seconds, hot, around)
    if watch is not None:
        watch(moved)
    return moved


def _stepped(
    ensemble: Ensemble, stand: Stand, seconds: float, hot: HotFaces, around: Surroundings
) -> tuple[Stand, Crossed]:
    """One step of everything: heat, steam, rain, drying, age."""
    mesh = ensemble.drawn.mesh
    later = stand.at + timedelta(seconds=seconds)
    middle = stand.at + timedelta(seconds=seconds / 2)
    air = around.air_at(middle)
    film = outer_film_w_m2k(wind_at_wall_ms(ensemble.make_up, around.wind_at(middle)), air)
    wall, crossed = stepped(mesh, stand.wall, seconds, hot, ColdFaces(np.full((1, 2), film), air))
    rain = RAIN_REACHES[ensemble.make_up.cover] * around.rain_between(stand.at, later)
    wet_h = max(0.0, stand.wet_h - seconds / 3600.0)
    if rain > 0:
        wall, wet_h = rained_on(
            mesh,
            wall,
            ensemble.drawn.water_kg_m3,
            rain,
            ensemble.make_up.layers[-1].uptake_kg_m2_h05,
            stand.wet_h,
            seconds / 3600.0,
            0.3 * np.exp(0.5 * ensemble.draws.of("soaking")),
        )
    elif stand.lit is None:
        wall = dried(mesh, wall, air, film, seconds)
    share = ensemble.drawn.hearth_share[:, np.newaxis]
    hearth = floor.passed(
        ensemble.drawn.hearth, stand.hearth, seconds, air + share * (crossed.face_c - air), air
    )
    moved = replace(
        stand,
        at=later,
        wall=wall,
        hearth=hearth,
        face_c=crossed.face_c,
        peak_pa=np.maximum(stand.peak_pa, wall.pressure_pa - ATMOSPHERE_PA),
        age_d=stand.age_d + ageing_rate(air) * seconds / 86400.0,
        wet_h=wet_h,
    )
    return moved, crossed


def _radiation(face_c: Floats) -> Floats:
    """Coefficient of the radiation between crown and side (M,), W/m²K."""
    return np.asarray(4.0 * 0.85 * STEFAN_BOLTZMANN * (face_c.mean(axis=1) + KELVIN) ** 3)


def _flare_k(ensemble: Ensemble, between: Sequence[object], total_s: float) -> Floats:
    """How far each member flared while nobody watched (M,): up only, the sad side counts."""
    silent_s = sum(
        max(0.0, (one.until - one.at).total_seconds())
        for one in between
        if isinstance(one, Unwatched)
    )
    if silent_s <= 0:
        return np.zeros(ensemble.draws.members)
    reach = min(FLARE_MOST_K, FLARE_K_H * min(silent_s, max(total_s, 0.0)) / 3600.0)
    return np.asarray(reach * np.abs(ensemble.draws.of("fire")))
