"""What a reading of the unlit dome says of the members that foresaw it well or badly."""

import numpy as np
import numpy.typing as npt

from scheduling.oven.history import SurfaceRead

Floats = npt.NDArray[np.float64]

COOLING_ERROR_K, COOLING_ERROR_SHARE, MILD_C = 8.0, 0.15, 15.0
"""What the cooling model itself may be wrong by at one spot: so much, and a share of what the spot
is above mild air (own choice). How a mouth breathes and a door leaks is not known; a tighter error
left few members after some mornings, and a core that was believed too cold."""


def likelihood(face_c: Floats, read: SurfaceRead) -> Floats:
    """How likely the reading was (M,), up to a factor, where crown and side stood at ``face_c``
    (M, 2).

    Student's t with three degrees of freedom: a reading far from all of them moves little.
    """
    seen = []
    if read.top_c is not None:
        seen.append((face_c[:, 0], read.top_c))
    if read.side_c:
        seen.append((face_c[:, 1], float(np.mean(read.side_c))))
    likely = np.ones(face_c.shape[0])
    for foreseen_c, read_c in seen:
        wrong_k = COOLING_ERROR_K + COOLING_ERROR_SHARE * max(0.0, read_c - MILD_C)
        spread_k = float(np.hypot(read.spread_c, wrong_k))
        likely = likely * (1.0 + ((foreseen_c - read_c) / spread_k) ** 2 / 3.0) ** -2.0
    return likely


def resampled(weights: Floats) -> npt.NDArray[np.intp]:
    """Which members to keep, and how often: systematically, from the middle of each interval, so
    that no chance is in it."""
    places = (np.arange(weights.size) + 0.5) / weights.size
    return np.searchsorted(np.cumsum(weights), places).clip(0, weights.size - 1)
