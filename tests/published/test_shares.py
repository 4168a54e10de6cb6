"""The interval of a share against worked values of a comparison of seven methods."""

import pytest

from blockrun.planner.intervals import wilson


# R. G. Newcombe, Two-sided confidence intervals for the single proportion: comparison of seven methods, Statistics in
# Medicine 17 (1998), 857-872, table I, method 3 (score, no continuity correction). The values are from memory.
# Tolerance: half the last digit.
@pytest.mark.parametrize(
    ("held", "of", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0000, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_intervals_of_shares(held: int, of: int, low: float, high: float) -> None:
    assert wilson(held / of, of) == (pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))
