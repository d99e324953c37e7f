"""Rain into the outer coat, and out of it again.

Capillary uptake w·√t (EN ISO 15148), never more than what fell. Past what the coat can hold,
water runs on into the shell's back, by an amount that differs from member to member. Dry air
takes water from the coat by the analogy of heat and mass transfer (Lewis). The shell itself dries
only by fire here: slower than it does, so the plan stays on the safe side.
"""

import numpy as np
import numpy.typing as npt

from scheduling.oven.mesh import Mesh
from scheduling.oven.saturation import saturation_pressure_pa
from scheduling.oven.wall import WallState

Floats = npt.NDArray[np.float64]

FULL_KG_M3 = 200.0
"""What a coat of render holds by capillarity (from memory)."""

SHELL_FULL_SHARE = 1.2
SHELL_FULL_LEAST_KG_M3 = 40.0
"""A shell takes up no more than a little above what it held when fresh (own choice)."""

SOAK_KG_M2 = 3.0
"""Water that gets behind the coat of an oven which its owner calls soaked (own choice)."""

LEWIS_KG_S_PA_PER_W_K = 6.1e-9
"""Mass over heat transfer coefficient in air, 0.622/(c_p P)."""

AIR_HUMIDITY = 0.8
"""Cautious: in drier air the coat dries faster."""


def rained_on(
    mesh: Mesh,
    state: WallState,
    fresh_kg_m3: Floats,
    rain_kg_m2: float,
    uptake_kg_m2_h05: float,
    wet_h: float,
    hours: float,
    runs_in: Floats,
) -> tuple[WallState, float]:
    """After ``hours`` with ``rain_kg_m2`` on the dome; also the hours it has been wet on end.

    ``runs_in`` (M,) is the share of what the full coat cannot hold that reaches the shell.
    """
    can = uptake_kg_m2_h05 * (np.sqrt(wet_h + hours) - np.sqrt(wet_h))
    taken = min(rain_kg_m2, can) * mesh.outer_m2
    coat = _room_filled(mesh, state, taken, mesh.coat, np.full_like(fresh_kg_m3, FULL_KG_M3))
    held = mesh.wall_sums((coat.water_kg_m3 - state.water_kg_m3) * mesh.volume_m3)
    on = np.clip(runs_in, 0.0, 1.0)[:, np.newaxis] * np.maximum(taken - held, 0.0)
    return into_shell(mesh, coat, fresh_kg_m3, on), wet_h + hours


def into_shell(mesh: Mesh, state: WallState, fresh_kg_m3: Floats, kg: Floats) -> WallState:
    """``kg`` (M, 2) of water into the back of each wall's shell, as far as it has room."""
    room = np.maximum(SHELL_FULL_SHARE * fresh_kg_m3, SHELL_FULL_LEAST_KG_M3)
    outer_half = mesh.shell & _back_of_shell(mesh)
    return _room_filled(mesh, state, kg, outer_half, room)


def soaked(mesh: Mesh, state: WallState, fresh_kg_m3: Floats, deviates: Floats) -> WallState:
    """A coat full of water, and the shell's back wetted; ``deviates`` (M,) in deviations."""
    full = np.where(mesh.coat, np.maximum(state.water_kg_m3, FULL_KG_M3), state.water_kg_m3)
    filled = WallState(state.temperature_c, full, state.pressure_pa)
    kg = (SOAK_KG_M2 * np.exp(0.5 * deviates))[:, np.newaxis] * mesh.outer_m2
    return into_shell(mesh, filled, fresh_kg_m3, kg)


def dried(
    mesh: Mesh, state: WallState, air_c: float, film_w_m2k: float, seconds: float
) -> WallState:
    """What the air takes out of the coat in that time."""
    coat = state.water_kg_m3[:, mesh.coat]
    if not coat.any():
        return state
    skin_c = state.temperature_c[:, mesh.cold_cells]
    pull = saturation_pressure_pa(np.clip(skin_c, 0.0, 99.0)) - AIR_HUMIDITY * float(
        saturation_pressure_pa(max(air_c, 0.0))
    )
    volume = mesh.wall_sums(mesh.volume_m3 * mesh.coat)
    held = mesh.wall_sums(state.water_kg_m3 * mesh.volume_m3 * mesh.coat)
    wetness = np.clip(held / volume / FULL_KG_M3, 0.0, 1.0)
    rate = LEWIS_KG_S_PA_PER_W_K * film_w_m2k * np.maximum(pull, 0.0) * mesh.outer_m2 * wetness
    with np.errstate(invalid="ignore", divide="ignore"):
        left = np.where(held > 0, np.exp(-rate * seconds / held), 1.0)
    n = mesh.cells
    share = np.concatenate([np.repeat(left[:, :1], n, 1), np.repeat(left[:, 1:], n, 1)], axis=1)
    water = np.where(mesh.coat, state.water_kg_m3 * share, state.water_kg_m3)
    return WallState(state.temperature_c, water, state.pressure_pa)


def _back_of_shell(mesh: Mesh) -> npt.NDArray[np.bool_]:
    """The outer half of the shell's cells on both walls (2n,)."""
    shell = np.flatnonzero(mesh.shell[mesh.cells :])
    back = np.zeros(mesh.cells, dtype=np.bool_)
    back[shell[len(shell) // 2 :]] = True
    return np.concatenate([back[::-1], back])


def _room_filled(
    mesh: Mesh, state: WallState, kg: Floats, cells: npt.NDArray[np.bool_], full_kg_m3: Floats
) -> WallState:
    """Deal ``kg`` (M, 2) out to cells by the room they have; what finds none runs off."""
    room = np.where(cells, np.maximum(full_kg_m3 - state.water_kg_m3, 0.0), 0.0) * mesh.volume_m3
    total = mesh.wall_sums(room)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(total > 0, np.minimum(kg / total, 1.0), 0.0)
    n = mesh.cells
    by_cell = np.concatenate([np.repeat(share[:, :1], n, 1), np.repeat(share[:, 1:], n, 1)], axis=1)
    water = state.water_kg_m3 + by_cell * room / mesh.volume_m3
    return WallState(state.temperature_c, water, state.pressure_pa)
