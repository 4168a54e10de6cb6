"""The individuals and moving-range chart against a handbook's example and the constants of the normal law."""

import math
import random
import statistics

import pytest

from blockrun.mix.chart import D2, D3, D4, chart

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: ten batches, mean 50.81, mean moving range 1.8778, limits
# 55.8041 and 45.8159 (second-hand: quoted in a public validation table). The ten values are from memory, and they
# give all four figures. Tolerance: half the last digit; the handbook takes d2 as 1.128.
TEN_BATCHES = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_the_ten_batches_of_the_handbook():
    drawn = chart(TEN_BATCHES)
    assert drawn.mean == pytest.approx(50.81, abs=5e-3)
    assert drawn.mean_range == pytest.approx(1.8778, abs=5e-5)
    with_rounded_d2 = 3 * drawn.mean_range / 1.128
    assert drawn.mean + with_rounded_d2 == pytest.approx(55.8041, abs=5e-5)
    assert drawn.mean - with_rounded_d2 == pytest.approx(45.8159, abs=5e-5)
    assert drawn.upper == pytest.approx(55.8041, abs=2e-3)
    assert drawn.lower == pytest.approx(45.8159, abs=2e-3)
    assert drawn.found == ()


# d2 = 2/sqrt(pi) = 1.128379, d3 = 0.852502, D4 = 3.26653, derived from the normal law; 2.66 as the factor of the mean
# moving range is second-hand. Tolerance: half the last digit.
def test_constants_of_a_range_of_two():
    assert pytest.approx(1.128379, abs=5e-7) == D2
    assert pytest.approx(0.852502, abs=5e-7) == D3
    assert pytest.approx(3.26653, abs=5e-6) == D4
    assert pytest.approx(2.66, abs=5e-3) == 3 / D2


# The same by trial: differences of pairs of normal values. Tolerance: four standard errors.
def test_constants_agree_with_drawn_normal_values():
    draw, n = random.Random(4), 40_000
    ranges = [abs(draw.gauss(0, 1) - draw.gauss(0, 1)) for _ in range(n)]
    assert statistics.fmean(ranges) == pytest.approx(D2, abs=4 * D3 / math.sqrt(n))
    assert statistics.stdev(ranges) == pytest.approx(D3, abs=0.02)
