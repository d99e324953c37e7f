"""Wilson's interval against values printed elsewhere, and against another implementation."""

import pytest
from scipy.stats import binomtest

from bot.papers.interval import wilson


@pytest.mark.parametrize(
    ("count", "of", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_examples_of_newcombe(count: int, of: int, low: float, high: float) -> None:
    """R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, Table I, method 3: the score
    interval without continuity correction (printed to four digits; from memory)."""
    assert wilson(count, of) == pytest.approx((low, high), abs=0.00005)


@pytest.mark.parametrize(("count", "of"), [(0, 1), (1, 1), (3, 7), (50, 100), (999, 1000)])
def test_another_implementation_says_the_same(count: int, of: int) -> None:
    other = binomtest(count, of).proportion_ci(0.95, method="wilson")
    assert wilson(count, of) == pytest.approx((other.low, other.high), abs=1e-12)
