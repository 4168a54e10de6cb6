"""Where a block is warm, against finite differences of the same block.

Three dimensions, an eighth of a block of 16 x 16 x 16 cells, even heat, steady, all faces alike; conductivity
0.197 W/mK. A corner is the cell in the corner, whose centre lies a little inside, so the true one is colder.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from blockrun.cure.heat import Cast, ripe_min, warmth
from blockrun.cure.hydration import CEMENTS
from blockrun.cure.rates import age_rate
from blockrun.cure.shape import shape_of


@pytest.mark.parametrize(
    ("sides_m", "loss_w_m2k", "surface", "middle", "corner_cell"),
    [
        ((0.6, 0.3, 0.2), 5.6, 0.487, 1.750, 0.179),  # a block in 18 mm of plywood
        ((0.2, 0.2, 0.2), 5.6, 0.555, 1.723, 0.238),
        ((1.2, 0.9, 0.2), 3.0, 0.607, 1.461, 0.251),
        ((0.6, 0.3, 0.2), 24.0, 0.194, 2.162, 0.052),  # in steel
    ],
)
def test_surface_middle_and_corner(sides_m, loss_w_m2k, surface, middle, corner_cell):
    shape = shape_of(sides_m, loss_w_m2k, 0.197)
    assert shape.surface == pytest.approx(surface, abs=0.003)
    assert shape.middle == pytest.approx(middle, abs=0.015)
    assert 0 < shape.corner < corner_cell


def test_an_endless_slab_has_a_parabola_across():
    """The surface is 1 / (1 + Bi / 3) of the mean, Bi with half the thickness; the middle 1.5 times as far over it."""
    shape = shape_of((1e4, 1e4, 0.2), 5.6, 0.197)
    surface = 1 / (1 + 5.6 * 0.1 / 0.197 / 3)
    assert shape.surface == pytest.approx(surface, rel=0.02)
    assert shape.middle == pytest.approx(surface + 1.5 * (1 - surface), rel=0.02)


def test_a_block_that_conducts_well_or_loses_nothing_is_of_one_temperature():
    assert shape_of((0.6, 0.3, 0.2), 5.6, math.inf) == (1, 1, 1)
    assert shape_of((0.6, 0.3, 0.2), 0.0, 0.2) == (1, 1, 1)
    assert shape_of((0.6, 0.3, 0.2), 5.6, 1e3) == pytest.approx((1, 1, 1), abs=2e-3)


BLOCK = Cast((0.6, 0.3, 0.2), 0.72 * 5.6, 500, 306, CEMENTS["normal"], conductivity_w_mk=0.197)
"""600 kg/m3 dry in 18 mm of plywood."""


# Finite differences in time of such blocks with the same law of the cement: a coldest corner is 24 h old at 20 degC
# after so many hours. Here a corner is never ahead of them, and less than a tenth behind.
@pytest.mark.parametrize(
    ("cement", "air", "fresh", "corner_h"), [("normal", 20.0, 20.0, 19.0), ("slow", 5.0, 15.0, 45.5)]
)
def test_a_corner_is_told_to_be_old_enough_no_sooner_than_it_is(cement, air, fresh, corner_h):
    cast = replace(BLOCK, cement=CEMENTS[cement])
    ripe_h = ripe_min(cast, np.full(96 * 9, air), np.array([fresh]), age_rate, 24.0)[0] / 60
    assert corner_h <= ripe_h <= 1.1 * corner_h


def test_a_middle_is_told_to_be_no_cooler_than_it_gets():
    """92 degC by the same finite differences, at 20 degC."""
    hottest = warmth(BLOCK, np.full((3 * 96, 1), 20.0), np.array([20.0])).middle_c.max()
    assert 92 <= hottest <= 112
