"""Loops over cells as machine code.

A loop that is compiled is kept beside its file (or in the user's cache); where nothing can be
written it is compiled anew by every process, in some seconds. What is kept is judged by its own
file alone: a compiled function calls compiled functions of its own file only, and is handed every
constant of another.
"""

from collections.abc import Callable
from typing import ParamSpec, TypeVar

from numba import njit

Given = ParamSpec("Given")
Gives = TypeVar("Gives")


def compiled(loop: Callable[Given, Gives]) -> Callable[Given, Gives]:
    """The same function, compiled at its first call. Division by nothing gives infinity, as in
    numpy."""
    try:
        fast: Callable[Given, Gives] = njit(cache=True, nogil=True, error_model="numpy")(loop)
    except RuntimeError:  # no folder to keep it in
        fast = njit(nogil=True, error_model="numpy")(loop)
    return fast
