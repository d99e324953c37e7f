"""A firing tried out on the ensemble: what plateau, climb and hold would do to it."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from scheduling.breakin.limits import Limits
from scheduling.oven.belief import Belief
from scheduling.oven.fire_heat import HEARTH_SHARE
from scheduling.oven.hearth import tile_water_kg
from scheduling.oven.history import FireLit
from scheduling.oven.mesh import Mesh
from scheduling.oven.passage import Watch, held_at, wood_burnt_kg
from scheduling.oven.saturation import ATMOSPHERE_PA
from scheduling.oven.stand import Stand
from scheduling.oven.steam import surface_ceiling_c
from scheduling.oven.surroundings import Surroundings, outer_film_w_m2k, wind_at_wall_ms
from scheduling.oven.wall import ColdFaces, HotFaces, WallState, stepped, water_kg

Floats = npt.NDArray[np.float64]

STEP_S = 300.0
SEARCH_STEP_S = 300.0

STEP_ERROR = 0.03
"""What shorter steps may add to a pressure found with these: they are within it of an independent
solver, and a planned fire is to stay within its limit whatever the step it is reckoned with."""

SINK_MM, SINK_LEFT = 80.0, 0.02
"""Cold wet stone far behind the front takes up heat that would else make steam: a thicker shell
would bear a hotter surface. That is true, and not to be relied on (own choice): behind this
depth the search leaves the stone only this share of its heat capacity, so that a thicker wall
never gets the hotter fire."""

AT_ONCE = 5
"""Plateaus that the search tries side by side."""

HEARTH_DRY_KG_M2 = 0.1
"""Less water than this in the tiles of a hearth is none (own choice)."""

SEARCH_FROM_C = 95.0
"""The steam search starts from a wall that is nearly boiling all through, not from the believed
temperatures: that only raises the pressure, and no gap can then raise the plateau."""


@dataclass(frozen=True, slots=True)
class Profile:
    """A firing as the crown is led through it."""

    plateau_c: float
    hold_h: float
    hold_least_h: float


@dataclass(frozen=True, slots=True)
class Tried:
    """How a trial ended: the stand, hours held, the wood that each member took (M,), kg."""

    stand: Stand
    held_h: float
    wood_kg: Floats
    start_c: float


def tried(
    belief: Belief,
    stand: Stand,
    profile: Profile,
    limits: Limits,
    around: Surroundings,
    watch: Watch | None = None,
    step_s: float = STEP_S,
) -> Tried:
    """Fire the ensemble along a profile, from match to the end of the hold.

    The hold ends once the shell of as many members is dry as the limits ask for, not before
    ``hold_least_h``.
    """
    ensemble = belief.ensemble
    side_share = ensemble.drawn.side_share
    crown = start_c = min(belief.quantile(stand.face_c[:, 0], 0.5), profile.plateau_c)
    none = np.zeros_like(stand.peak_pa)
    stand = replace(
        stand,
        reached_c=stand.built_on_c(stand.at),
        lit=FireLit(at=stand.at, aim_c=profile.plateau_c),
        peak_pa=none,
        door_on=False,
    )
    held_h, burnt_kg = 0.0, np.zeros(belief.members)
    while held_h < profile.hold_h - 1e-9:
        rise = profile.plateau_c - crown
        pace = limits.climb_k_h(crown)
        seconds = min(step_s, rise / pace * 3600.0) if rise > 1e-9 else step_s
        if rise <= 1e-9:
            seconds = min(seconds, (profile.hold_h - held_h) * 3600.0)
            held_h += seconds / 3600.0
        else:
            crown = min(profile.plateau_c, crown + pace * seconds / 3600.0)
        air = around.air_at(stand.at)
        sides = air + side_share * (crown - air)
        faces = np.stack([np.full_like(sides, crown), sides], axis=1)
        before = stand
        stand, crossed = held_at(ensemble, stand, seconds, faces, around, watch)
        burnt_kg += wood_burnt_kg(ensemble, before, stand, crossed.heat_in_w, air)
        if held_h >= profile.hold_least_h and is_dry(belief, stand, limits):
            break
    return Tried(stand, held_h, burnt_kg, start_c)


def is_dry(belief: Belief, stand: Stand, limits: Limits) -> bool:
    """Whether no water is left in the shells of as many members as the limits ask for."""
    mesh = belief.ensemble.drawn.mesh
    wet = water_kg(mesh, stand.wall, mesh.shell).max(axis=1) > 0
    return float(belief.weights[wet].sum()) <= 1.0 - limits.confidence + 1e-9


def hearth_dry(belief: Belief, stand: Stand, limits: Limits) -> bool:
    """The same of the hearth's tiles. A wet hearth binds no plateau, but the oven is not done."""
    left = tile_water_kg(belief.ensemble.drawn.hearth, stand.hearth).sum(axis=1)
    wet = left > HEARTH_DRY_KG_M2 * HEARTH_SHARE * belief.make_up.dome_area_m2
    return float(belief.weights[wet].sum()) <= 1.0 - limits.confidence + 1e-9


def steam_share(belief: Belief, stand: Stand, limits: Limits) -> float:
    """Highest steam pressure of the firing over its limit, at the limits' confidence, with what
    the step may hide."""
    shares = belief.steam_shares(limits.steam_safety, stand)
    return (1.0 + STEP_ERROR) * belief.quantile(shares, limits.confidence)


def ceilings_c(belief: Belief, stand: Stand, limits: Limits) -> Floats:
    """What the surface of each member may reach while its shell is wet, in closed form (M,);
    infinite for a dry one."""
    mesh = belief.ensemble.drawn.mesh
    return np.where(
        water_kg(mesh, stand.wall, mesh.shell).max(axis=1) > 0,
        surface_ceiling_c(
            belief.allowed_pa(limits.steam_safety),
            belief.ensemble.drawn.conductivity_w_mk,
            belief.ensemble.drawn.permeability_m2,
        ),
        np.inf,
    )


def steam_plateau_c(
    belief: Belief,
    stand: Stand,
    top_c: float,
    least_c: float,
    limits: Limits,
    around: Surroundings,
    grid_k: float,
) -> float:
    """Highest plateau on a grid, from ``top_c`` down, whose steam stays within its limit.

    Where the closed-form ceiling of the wet wall allows ``top_c``, that is the answer. Else
    plateaus are tried on the members whose ceilings are lowest among the wet ones: they are the
    ones to fail, and as much of their weight may as of all. The planner tries the answer out on
    all members.
    """
    ceiling = ceilings_c(belief, stand, limits)
    allowed = 1.0 - limits.confidence + 1e-9
    if float(belief.weights[ceiling < top_c].sum()) <= allowed:
        return top_c
    worst = np.sort(np.argsort(ceiling, kind="stable")[: max(16, ceiling.size // 4)])
    # Some heat always goes on past the front: what the closed form allows is allowed.
    least_c = max(least_c, min(top_c, belief.quantile(ceiling, allowed)))
    good, bad = max(1, int(np.ceil((top_c - least_c) / grid_k))), -1
    while good - bad > 1:
        # Several plateaus at once: a step costs little more for many walls than for few.
        places = np.unique(np.linspace(bad + 1, good - 1, AT_ONCE).round().astype(int))
        shares = _shares(belief, stand, worst, top_c - grid_k * places, limits, around)
        fails = (belief.weights[worst] * (shares > 1.0)).sum(axis=1) > allowed
        held = np.flatnonzero(~fails)
        failed = np.flatnonzero(fails[: held[0]] if held.size else fails)
        good = int(places[held[0]]) if held.size else good
        bad = int(places[failed[-1]]) if failed.size else bad
    return max(least_c, top_c - good * grid_k)


def _without_deep_sink(mesh: Mesh) -> Mesh:
    """The walls with next to no heat capacity in the shell behind ``SINK_MM``."""
    deep = np.tile(mesh.depth_mm > SINK_MM, 2)
    deep[: mesh.cells] = deep[: mesh.cells][::-1]
    light = np.where(mesh.shell & deep, SINK_LEFT, 1.0)
    return replace(mesh, dry_heat_j_k=mesh.dry_heat_j_k * light)


def _shares(
    belief: Belief,
    stand: Stand,
    members: npt.NDArray[np.intp],
    plateaus_c: Floats,
    limits: Limits,
    around: Surroundings,
) -> Floats:
    """Highest steam over its limit for every plateau and member (K, m), over the longest hold.

    The weather is that of the start, and the wall nearly boiling all through.
    """
    count = len(plateaus_c)
    rows = np.tile(members, count)
    drawn = belief.ensemble.drawn
    mesh = _without_deep_sink(drawn.mesh.of_members(rows))
    wall = WallState(
        np.full(mesh.volume_m3.shape, SEARCH_FROM_C),
        stand.wall.water_kg_m3[rows],
        np.full((rows.size, 2), ATMOSPHERE_PA),
    )
    air = around.air_at(stand.at)
    wind = wind_at_wall_ms(belief.make_up, around.wind_at(stand.at))
    cold = ColdFaces(np.full((1, 2), outer_film_w_m2k(wind, air)), air)
    aims = np.repeat(plateaus_c, members.size)
    climbs_h = np.array([limits.climb_hours(SEARCH_FROM_C, one) for one in plateaus_c])
    ends_h = np.repeat(climbs_h, members.size) + limits.hold_h
    peak = np.zeros((rows.size, 2))
    hours, step_h = 0.0, SEARCH_STEP_S / 3600.0
    while hours < ends_h.max() - 1e-9:
        hours += step_h
        crown = np.minimum(aims, limits.climbed_c(SEARCH_FROM_C, hours))
        sides = air + drawn.side_share[rows] * (crown - air)
        hot = HotFaces(np.asarray(np.inf), np.stack([crown, sides], axis=1), np.zeros(2))
        wall, _ = stepped(mesh, wall, SEARCH_STEP_S, hot, cold)
        counts = (hours <= ends_h + 1e-9)[:, np.newaxis]
        peak = np.maximum(peak, np.where(counts, wall.pressure_pa - ATMOSPHERE_PA, 0.0))
    allowed = np.tile(belief.allowed_pa(limits.steam_safety)[members], count)
    shares = (1.0 + STEP_ERROR) * peak.max(axis=1) / allowed
    return np.asarray(shares.reshape(count, members.size))
