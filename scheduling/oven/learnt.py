"""What finished ovens of one model tell of the next: a narrower prior.

    told_i ~ N(θ_i, sd_i²)      what oven i told of a quantity (``lesson``)
    θ_i    ~ N(μ, τ²)           ovens of one model differ
    μ      ~ N(0, s² - τ²)      and the model from what its make-up says

``s`` is the spread of the population's prior, so that before anything was told the next oven is
what it always was. τ is not known: every value on a grid counts by how likely it makes what was
told (Gelman et al., Bayesian Data Analysis, §5.4). It is floored, since no two ovens are alike
however well five agree.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from scheduling.oven.lesson import QUANTITIES, Told
from scheduling.oven.prior import MOST_MOVED, SPREAD, Narrowed

Floats = npt.NDArray[np.float64]

LEAST_OVENS: Final = 5
"""Fewer finished ovens teach nothing (own choice)."""

APART: Final = np.linspace(0.4, 1.0, 13)
"""τ over ``s``: from the floor to ovens that have nothing in common (own choice)."""

MOST_TOLD: Final = 3.0
"""What one oven told counts no further out than this, in deviations of the prior: numbers in the
wrong unit all along must not rule (own choice)."""

LOWEST: Final = -1.0
"""So far down may a middle move, in deviations of the prior (own choice): however little wood
seemed to give, a plan asks for no more than a quarter more of it, and however warm the mornings
were, the nights are taken to dry little more than the make-up says. What is learnt upward leads to
less wood and gentler fires."""


def learnt_from(ovens: Sequence[Sequence[Told]]) -> tuple[Narrowed, ...]:
    """What finished ovens of one model teach; nothing while they are fewer than five."""
    if len(ovens) < LEAST_OVENS:
        return ()
    found = []
    for quantity in QUANTITIES:
        told = [one for oven in ovens for one in oven if one.quantity == quantity]
        if told:
            found.append(narrowed(quantity, told))
    return tuple(found)


def narrowed(quantity: str, told: Sequence[Told], spread: float | None = None) -> Narrowed:
    """The prior of one quantity after what was told of it; never wider than it was."""
    s = SPREAD[quantity] if spread is None else spread
    means = np.clip([one.mean / s for one in told], -MOST_TOLD, MOST_TOLD)
    variances = np.array([one.sd for one in told]) ** 2 / s**2
    fits, middles, widths = np.array([_given(one, means, variances) for one in APART]).T
    weights = np.exp(fits - fits.max())
    weights /= weights.sum()
    middle = float(weights @ middles)
    shift = min(max(middle, LOWEST), MOST_MOVED)
    # Around a middle that was kept from moving it stays as wide as what was told lies away.
    variance = float(weights @ (widths + (middles - shift) ** 2))
    return Narrowed(
        quantity=quantity,
        shift=round(shift, 3),
        width=round(min(variance**0.5, 1.0), 3),
    )


def _given(tau: float, means: Floats, variances: Floats) -> tuple[float, float, float]:
    """If the ovens lie ``tau`` apart (in deviations of the prior): how likely is what was told, as
    a logarithm, and the mean and variance of the next oven."""
    own = variances + tau**2
    fleet = 1.0 - tau**2
    precision = float((1.0 / own).sum())
    pooled = float((means / own).sum()) / precision
    # What they have in common is N(pooled, 1 / precision) by what was told, N(0, fleet) before.
    common = fleet / (fleet + 1.0 / precision)
    fit = -0.5 * (
        float(np.log(own).sum())
        + float(((means - pooled) ** 2 / own).sum())
        + float(np.log(1.0 + fleet * precision))
        + pooled**2 / (fleet + 1.0 / precision)
    )
    return fit, common * pooled, common / precision + tau**2
