"""Heat, steam and its pressure at the end of a step, found together.

A step of the wall is one linear system in the temperatures. While water boils it is tied to one
more unknown for each wall, the steam's pressure P: cells that boil stand at the boiling point
τ(P), what heat they get beyond it leaves as steam, and the crust lets that steam through at

    P² - P0² = drag · Σ path·m.

For a given set of boiling cells temperatures and heats are linear in τ: two right sides, one
factorisation, then one equation a wall. The set itself follows from what has to hold of every
wet cell: it is cooler than τ and gives no steam, or it is at τ and gives some, or it has given all
that it had and is hotter than τ. Members whose set has settled are left out of the next round.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from scheduling.oven.front import first_wet, fronts
from scheduling.oven.linear import Equations, Held
from scheduling.oven.mesh import Mesh
from scheduling.oven.saturation import (
    ATMOSPHERE_PA,
    GAS_CONSTANT_STEAM,
    HIGHEST_PA,
    KELVIN,
    boiling_point_c,
    latent_heat_j_kg,
)
from scheduling.oven.steam import drag_pa2_s_m2

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Places = npt.NDArray[np.intp]

BOILS_C = float(boiling_point_c(ATMOSPHERE_PA))

_ROUNDS = 12
_NEWTON_ROUNDS = 20
_NEAR_K = 1e-4

# The boiling point is asked for many times a step: a table is as good to 0.001 K.
_LOG_PA = np.linspace(np.log(0.9 * ATMOSPHERE_PA), np.log(1.1 * HIGHEST_PA), 2000)
_BOILING_C = boiling_point_c(np.exp(_LOG_PA))
_HOTTEST_C = float(boiling_point_c(HIGHEST_PA))


def boiling_at(pressure_pa: Floats) -> Floats:
    """Boiling point (°C) under a pressure (Pa)."""
    return np.asarray(np.interp(np.log(pressure_pa), _LOG_PA, _BOILING_C))


def pressure_at(boiling_c: Floats) -> Floats:
    """Pressure (Pa) under which water boils at that temperature (°C)."""
    return np.asarray(np.exp(np.interp(boiling_c, _BOILING_C, _LOG_PA)))


@dataclass(frozen=True, slots=True)
class Steamed:
    """How a step ends: temperatures, steam given (kg) and the latent heat it took (J/kg) of all
    cells (M, 2n), the highest steam pressure (Pa) of each wall (M, 2); ``hot_node_c`` and
    ``hot_gain_w_k`` (M, 2) say to where, and over what more than to a centre, the face gives."""

    temperature_c: Floats
    gone_kg: Floats
    latent_j_kg: Floats
    pressure_pa: Floats
    hot_node_c: Floats
    hot_gain_w_k: Floats


@dataclass(frozen=True, slots=True)
class Begun:
    """How a step begins: temperatures, water (kg) and heat capacity over time (W/K) of all cells
    (M, 2n), steam pressure (Pa) and hot faces (°C) (M, 2), and whether these are ``given``."""

    temperature_c: Floats
    water_kg: Floats
    inertia_w_k: Floats
    pressure_pa: Floats
    face_c: Floats
    given: bool


def steamed(mesh: Mesh, equations: Equations, seconds: float, begun: Begun) -> Steamed:
    """Temperatures, steam and pressure at the end of a step of ``seconds``."""
    return _Step(mesh, equations, seconds, begun).done()


@dataclass(slots=True)
class _Found:
    """What a round found for m members: temperatures (m, 2n) of the cells' nodes, heat to steam
    at the boiling places (W), pressure and what the faces give more (m, 2), the fronts' means."""

    at_c: Floats
    gone_kg: Floats
    pressure_pa: Floats
    front_cell: Places
    front_apart_k: Floats
    hot_gain_w_k: Floats


class _Step:
    """One step of all members, solved round by round."""

    def __init__(self, mesh: Mesh, equations: Equations, seconds: float, begun: Begun) -> None:
        self._mesh, self._equations = mesh, equations
        self._seconds, self._begun = seconds, begun
        self._wet = begun.water_kg > 0
        self._tau_c = np.maximum(boiling_at(begun.pressure_pa), BOILS_C)
        latent = _by_cell(latent_heat_j_kg(self._tau_c), mesh.cells)
        self._latent = np.where(mesh.shell, latent, float(latent_heat_j_kg(BOILS_C)))
        self._linked = bool(equations.beside[:, mesh.cells - 1].any())
        shape, pairs = begun.water_kg.shape, begun.pressure_pa.shape
        self._ended = Steamed(
            np.empty(shape), np.zeros(shape), self._latent,
            np.empty(pairs), np.empty(pairs), np.empty(pairs),
        )  # fmt: skip

    def done(self) -> Steamed:
        """Round after round until every member's set has settled."""
        boils = self._boiling_on()
        dries, barred = np.zeros_like(boils), np.zeros_like(boils)
        rows, equations, count = np.arange(boils.shape[0]), self._equations, 0
        while True:
            count += 1
            found = self._solved(rows, equations, boils, dries)
            joins, ceases, spent, returns = self._moves(rows, found, boils, dries)
            joins &= ~barred
            returns &= ~barred
            if count > _ROUNDS:
                joins[:], ceases[:], returns[:] = False, False, False
            unsettled = (joins | ceases | spent | returns).any(axis=1)
            kept = np.flatnonzero(unsettled)
            self._settle(rows, np.flatnonzero(~unsettled), found, dries)
            if not kept.size:
                return self._ended
            boils = (boils & ~ceases & ~spent) | joins | returns
            dries = (dries & ~returns) | spent
            if spent.any():
                self._open_next(rows, boils, dries, spent)
            if count > 1:
                # A cell that goes to and fro stands between the two: it is left as it was.
                barred |= ceases | returns
            rows, boils, dries, barred = rows[kept], boils[kept], dries[kept], barred[kept]
            equations = equations.of_members(kept)

    def _boiling_on(self) -> Bools:
        """What boiled before boils on (M, 2n)."""
        begun = self._begun
        boils = self._wet & (begun.temperature_c >= self._boiling_c(slice(None)) - 1e-6)
        column = first_wet(self._wet & self._mesh.shell)
        row = np.arange(boils.shape[0])[:, np.newaxis]
        steams = begun.pressure_pa > 1.0001 * ATMOSPHERE_PA
        boils[row, column] |= steams & self._wet[row, column] & self._mesh.shell[column]
        return boils

    def _open_next(self, rows: Places, boils: Bools, dries: Bools, spent: Bools) -> None:
        """Behind a cell that has boiled dry the next one is likely to boil."""
        column = first_wet(self._wet[rows] & ~dries & self._mesh.shell)
        row = np.arange(rows.size)[:, np.newaxis]
        near = spent.reshape(rows.size, 2, -1).any(axis=2)
        boils[row, column] |= (
            near & self._wet[rows[:, np.newaxis], column] & self._mesh.shell[column]
        )

    def _boiling_c(self, rows: Places | slice) -> Floats:
        """Boiling point of every cell: the shell's by its steam, outside of it the air's."""
        tau = _by_cell(self._tau_c[rows], self._mesh.cells)
        return np.where(self._mesh.shell, tau, BOILS_C)

    def _moves(
        self, rows: Places, found: _Found, boils: Bools, dries: Bools
    ) -> tuple[Bools, Bools, Bools, Bools]:
        """Cells (m, 2n) that should begin to boil, cease to, have boiled dry, have not."""
        water, boiling_c = self._begun.water_kg[rows], self._boiling_c(rows)
        over = found.at_c > boiling_c + _NEAR_K
        joins = self._wet[rows] & over & ~boils & ~dries
        ceases = boils & (found.gone_kg < -1e-9 * water)
        spent = found.gone_kg > water
        returns = dries & (found.at_c < boiling_c - _NEAR_K)
        return joins, ceases, spent, returns

    def _settle(self, rows: Places, done: Places, found: _Found, dries: Bools) -> None:
        """Write down the members that are done."""
        at, ended = rows[done], self._ended
        mean = found.at_c.copy()
        mean.ravel()[found.front_cell] += found.front_apart_k
        ended.temperature_c[at] = mean[done]
        ended.gone_kg[at] = np.where(dries, self._begun.water_kg[rows], found.gone_kg)[done]
        ended.pressure_pa[at] = found.pressure_pa[done]
        ended.hot_node_c[at] = found.at_c[done][:, self._mesh.hot_cells]
        ended.hot_gain_w_k[at] = found.hot_gain_w_k[done]

    def _solved(self, rows: Places, equations: Equations, boils: Bools, dries: Bools) -> _Found:
        """Temperatures and steam for given sets, at the pressure that fits them."""
        mesh, begun, n = self._mesh, self._begun, self._mesh.cells
        system = equations.copy()
        spot = _Spots.of(boils, rows, mesh)
        gone = _Spots.of(dries, rows, mesh)
        latent, dry_latent = self._latent.ravel()[spot.whole], self._latent.ravel()[gone.whole]
        dried_kg_s = begun.water_kg.ravel()[gone.whole] / self._seconds
        system.right.ravel()[gone.place] -= dried_kg_s * dry_latent

        face_c = begun.face_c if begun.given else None
        tau = self._tau_c[rows]
        per_watt = self._seconds / self._latent[rows][:, n - 1 : n + 1]
        front = fronts(
            mesh, rows, boils, self._wet[rows] & ~dries, begun.water_kg, begun.temperature_c,
            face_c, tau, per_watt,
        )  # fmt: skip
        front_face_c = begun.face_c[rows].ravel()[front.wall]
        front.moved_in(system, front_face_c)
        of_front = np.searchsorted(spot.place, front.cell)
        stores = begun.inertia_w_k[rows].ravel()[front.cell]

        at_c = np.where(spot.shell, tau.ravel()[spot.wall], BOILS_C)
        follows = [spot.shell.astype(np.float64)]
        if self._linked:
            side = spot.wall % 2
            follows = [follows[0] * (side == 0), follows[0] * (side == 1)]
        held = Held(system, spot.place)
        base, *answers = held.solved([at_c, *follows])
        heat = held.taken_w(base, of_right=True)
        heat[of_front] -= stores * front.apart(base, front_face_c)
        more = []
        for answer in answers:
            one = held.taken_w(answer, of_right=False)
            one[of_front] -= stores * front.apart(answer, 0.0)
            more.append(one)

        path = mesh.steam_path_m3.ravel()[spot.whole]
        path[of_front] += (front.share - 0.5) * mesh.clog_m3.ravel()[spot.whole[of_front]]
        squares = path / latent
        walls = 2 * rows.size

        def summed(wall: Places, values: Floats) -> Floats:
            return np.bincount(wall, values, walls).astype(np.float64).reshape(-1, 2)

        dried = mesh.steam_path_m3.ravel()[gone.whole] * dried_kg_s
        steam = summed(spot.wall, heat * squares * spot.shell)
        steam += summed(gone.wall, dried * gone.shell)
        slopes = [summed(spot.wall, one * squares * spot.shell) for one in more]
        rise = self._rise(rows, steam, slopes)
        if self._linked:
            base += answers[0] * rise[:, :1] + answers[1] * rise[:, 1:]
            per_place = rise[spot.wall // 2]
            heat += more[0] * per_place[:, 0] + more[1] * per_place[:, 1]
        else:
            base += answers[0] * _by_cell(rise, n)
            heat += more[0] * rise.ravel()[spot.wall]
        outside = summed(spot.wall, heat * squares * ~spot.shell)
        outside += summed(gone.wall, dried * ~gone.shell)
        gone_kg = np.zeros(boils.shape)
        gone_kg.ravel()[spot.place] = heat * (self._seconds / latent)
        gain = np.zeros((rows.size, 2))
        gain.ravel()[front.wall] = np.where(front.first, front.hot_gain, 0.0)
        return _Found(
            base, gone_kg, np.maximum(pressure_at(self._tau_c[rows]), _pressure_outside(outside)),
            front.cell, front.apart(base, front_face_c), gain,
        )  # fmt: skip

    def _rise(self, rows: Places, steam: Floats, slopes: list[Floats]) -> Floats:
        """By how much τ differs from the last guess (m, 2); the guess becomes the answer."""
        begin = tau = self._tau_c[rows]
        face_c = self._begun.face_c[rows]
        own = slopes[0]
        if self._linked:
            own = np.stack([slopes[0][:, 0], slopes[1][:, 1]], axis=1)
        drag = steep = np.empty(0)
        for count in range(_NEWTON_ROUNDS):
            rise = tau - begin
            total = steam + own * rise
            if self._linked:
                total[:, 0] += slopes[1][:, 0] * rise[:, 1]
                total[:, 1] += slopes[0][:, 1] * rise[:, 0]
            if count < 3:
                drag = drag_pa2_s_m2(np.maximum(face_c, tau), tau)
                # Clausius and Clapeyron, steam ideal: d(P²)/dT over P².
                steep = 2.0 * latent_heat_j_kg(tau) / (GAS_CONSTANT_STEAM * (tau + KELVIN) ** 2)
            square = pressure_at(tau) ** 2
            flows = total > 0
            miss = square - ATMOSPHERE_PA**2 - drag * (total * flows)
            better = np.clip(
                tau - miss / (square * steep - drag * own * flows), BOILS_C, _HOTTEST_C
            )
            close = float(np.abs(better - tau).max()) < _NEAR_K
            tau = better
            if close:
                break
        self._tau_c[rows] = tau
        return tau - begin


@dataclass(frozen=True, slots=True)
class _Spots:
    """Marked cells of m members: places in the flattened (m, 2n), in that of all members, their
    wall (2 · member + wall) and whether they are in the shell."""

    place: Places
    whole: Places
    wall: Places
    shell: Bools

    @classmethod
    def of(cls, marked: Bools, rows: Places, mesh: Mesh) -> "_Spots":
        columns = marked.shape[1]
        place = np.flatnonzero(marked)
        member, column = np.divmod(place, columns)
        return cls(place, rows[member] * columns + column, place // mesh.cells, mesh.shell[column])


def _pressure_outside(total: Floats) -> Floats:
    """Pressure of the steam outside the shell (Pa), which is taken to boil as in the open."""
    drag = float(drag_pa2_s_m2(np.asarray(BOILS_C), np.asarray(BOILS_C)))
    return np.sqrt(ATMOSPHERE_PA**2 + drag * np.maximum(total, 0.0))


def _by_cell(by_wall: Floats, cells: int) -> Floats:
    """(M, 2) spread over cells (M, 2n)."""
    return np.repeat(by_wall, cells, axis=1)
