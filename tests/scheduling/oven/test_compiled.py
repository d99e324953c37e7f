"""What is compiled, and kept from run to run, is what its source says."""

import os
import subprocess
import sys
from typing import Any

import numpy as np

from scheduling.oven import boiling
from scheduling.oven.prior import drawn, members_of
from scheduling.oven.wall import ColdFaces, HotFaces, WallState, at_rest, stepped
from tests.scheduling.oven.domes import an_oven

HOT_C = (60.0, 150.0, 90.0, 230.0, 260.0)


def a_short_fire() -> WallState:
    """Five half hours of two walls, boiling, cooling, boiling."""
    there = members_of(an_oven(), drawn(2, 1))
    state = at_rest(there.mesh, 20.0, there.water_kg_m3)
    for hot_c in HOT_C:
        hot = HotFaces(np.full((2, 2), 40.0), np.asarray(hot_c), np.zeros(2), 5.0)
        cold = ColdFaces(np.full((1, 2), 12.0), 10.0)
        state, _ = stepped(there.mesh, state, 1800.0, hot, cold)
    return state


def told(state: WallState) -> str:
    parts = (state.temperature_c, state.water_kg_m3, state.pressure_pa)
    return " ".join(f"{value:.6e}" for part in parts for value in part.ravel())


def interpreted() -> None:
    """The same where nothing is compiled: the interpreter wants records with attributes."""
    loop: Any = boiling._step

    def step(*given: Any) -> None:
        loop(*(one.view(np.recarray) if _has_fields(one) else one for one in given))

    setattr(boiling, "_step", step)  # noqa: B010 - a checker would have it compiled
    print(told(a_short_fire()))


def _has_fields(value: object) -> bool:
    return isinstance(value, np.ndarray) and value.dtype.names is not None


def test_a_compiled_loop_gives_what_the_interpreter_gives() -> None:
    """Else what is kept is older than a file it was compiled from: delete __pycache__."""
    other = subprocess.run(
        [sys.executable, "-c", f"from {__name__} import interpreted; interpreted()"],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    state = a_short_fire()
    theirs = np.array(other.stdout.split(), dtype=np.float64)
    np.testing.assert_allclose(np.array(told(state).split(), dtype=np.float64), theirs, rtol=1e-5)
    assert state.pressure_pa.max() > 110_000.0, "nothing boiled: the test would show little"
