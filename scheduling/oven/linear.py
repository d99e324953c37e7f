"""The linear system of a step: every cell's heat balance, all members end to end."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.linalg import lapack

Floats = npt.NDArray[np.float64]
Places = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Equations:
    """A step without steam: ``middle`` (M, 2n) and ``beside`` (M, 2n; last column 0) of a
    symmetric tridiagonal matrix, W/K, and its right side (M, 2n), W."""

    middle: Floats
    beside: Floats
    right: Floats

    def of_members(self, rows: Places) -> "Equations":
        """The same for some members."""
        return Equations(self.middle[rows], self.beside[rows], self.right[rows])

    def copy(self) -> "Equations":
        """To be changed."""
        return Equations(self.middle.copy(), self.beside.copy(), self.right.copy())


class Held:
    """A system with some cells held at a temperature: solved, and the heat that it takes.

    ``places`` are the held cells in the flattened (M, 2n); the system is used up.
    """

    def __init__(self, system: Equations, places: Places) -> None:
        self._shape = system.right.shape
        self._size = system.right.size
        self._places = places
        self._middle, self._beside = system.middle.ravel(), system.beside.ravel()
        self._before = np.maximum(places - 1, 0)
        self._after = np.minimum(places + 1, self._size - 1)
        self._own = self._middle[places]
        self._from = np.where(places > 0, self._beside[self._before], 0.0)
        self._onto = self._beside[places]
        self._right = system.right.ravel()
        self._given = self._right[places]
        self._middle[places] = 1.0
        self._beside[places] = 0.0
        self._beside[self._before[places > 0]] = 0.0

    def solved(self, held_c: list[Floats]) -> Floats:
        """Temperatures (k, M, 2n): the first with the right side as it is and the places at
        ``held_c[0]``, each further one with a right side of nothing and them at ``held_c[k]``."""
        right = np.zeros((len(held_c), self._size))
        right[0] = self._right
        for one, known in zip(right, held_c, strict=True):
            # What held cells give their neighbours moves over: the matrix stays symmetric.
            np.subtract.at(one, self._before, self._from * known)
            np.subtract.at(one, self._after, self._onto * known)
            one[self._places] = known
        return solved(self._middle, self._beside, right).reshape(len(held_c), *self._shape)

    def taken_w(self, temperature_c: Floats, *, of_right: bool) -> Floats:
        """Heat that holding takes from each place; ``of_right``: for the first of the answers."""
        flat = temperature_c.ravel()
        taken = -self._own * flat[self._places]
        taken -= self._from * flat[self._before] + self._onto * flat[self._after]
        return taken + self._given if of_right else taken


def solved(middle: Floats, beside: Floats, right: Floats) -> Floats:
    """Solutions (k, N) for k right sides of an N by N system; all three are overwritten.

    Symmetric and positive definite: factored without pivoting, half the work of the general
    tridiagonal solver, and measured three times as fast as elimination looped over cells.
    """
    solution, info = lapack.dptsv(
        middle, beside[:-1], right.T, overwrite_d=1, overwrite_e=1, overwrite_b=1
    )[2:]
    if info != 0:
        raise FloatingPointError(f"the wall's equations have no solution (LAPACK {info})")
    return np.asarray(solution.T, dtype=np.float64)
