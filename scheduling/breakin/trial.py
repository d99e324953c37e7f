"""A firing tried out on the ensemble: what plateau, climb and hold would do to it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from scheduling.breakin.limits import Limits
from scheduling.oven.belief import Belief
from scheduling.oven.history import FireLit
from scheduling.oven.passage import Stand, Watch, held_at
from scheduling.oven.saturation import ATMOSPHERE_PA
from scheduling.oven.steam import surface_ceiling_c
from scheduling.oven.surroundings import Surroundings
from scheduling.oven.wall import WallState, water_kg

Floats = npt.NDArray[np.float64]

STEP_S = 180.0
SEARCH_STEP_S = 240.0

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
    """How a trial ended: the stand, hours held, heat (J) that the fire gave, middle member."""

    stand: Stand
    held_h: float
    heat_j: float
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
    held_h, heat_j = 0.0, 0.0
    open_w_k = ensemble.drawn.door_off_w_m2k * ensemble.make_up.dome_area_m2
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
        stand, crossed = held_at(ensemble, stand, seconds, faces, around, watch)
        given = np.maximum(crossed.heat_in_w.sum(axis=1) + open_w_k * (crown - air), 0.0)
        heat_j += float(np.median(given)) * seconds
        if held_h >= profile.hold_least_h and is_dry(belief, stand, limits):
            break
    return Tried(stand, held_h, heat_j, start_c)


def is_dry(belief: Belief, stand: Stand, limits: Limits) -> bool:
    """Whether no water is left in the shells of as many members as the limits ask for."""
    mesh = belief.ensemble.drawn.mesh
    wet = water_kg(mesh, stand.wall, mesh.shell).max(axis=1) > 0
    return float(belief.weights[wet].sum()) <= 1.0 - limits.confidence + 1e-9


def steam_share(belief: Belief, stand: Stand, limits: Limits) -> float:
    """Highest steam pressure of the firing over its limit, at the limits' confidence."""
    return belief.quantile(belief.steam_shares(limits.steam_safety, stand), limits.confidence)


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
    some, start = belief.of_members(worst), _warmed(stand.of_members(worst))
    weights = belief.weights[worst]

    def excess(plateau_c: float) -> float:
        """By how much the steam of the worst that must hold passes its limit."""
        profile = Profile(plateau_c, limits.hold_h, limits.hold_h)
        done = tried(some, start, profile, limits, around, step_s=SEARCH_STEP_S)
        shares = some.steam_shares(limits.steam_safety, done.stand)
        order = np.argsort(-shares, kind="stable")
        fails = int(np.searchsorted(np.cumsum(weights[order]), allowed, side="right"))
        return float(shares[order[min(fails, shares.size - 1)]]) - 1.0

    return _highest(excess, top_c, least_c, grid_k)


def _highest(
    excess: Callable[[float], float], top_c: float, least_c: float, grid_k: float
) -> float:
    """Highest grid point below ``top_c`` with no excess, by false position kept on the grid."""
    over = excess(top_c)
    if over <= 0:
        return top_c
    high, low, under = 0, int(np.ceil((top_c - least_c) / grid_k)), -1.0
    while low - high > 1:
        guess = high + round((low - high) * over / (over - under))
        guess = min(max(guess, high + 1), low - 1)
        found = excess(top_c - guess * grid_k)
        if found <= 0:
            low, under = guess, found
        else:
            high, over = guess, found
    return max(least_c, top_c - low * grid_k)


def _warmed(stand: Stand) -> Stand:
    wall = stand.wall
    warm = WallState(
        np.full_like(wall.temperature_c, SEARCH_FROM_C),
        wall.water_kg_m3,
        np.full_like(wall.pressure_pa, ATMOSPHERE_PA),
    )
    return replace(stand, wall=warm, face_c=np.full_like(stand.face_c, SEARCH_FROM_C))
