"""What a mould casts: volumes of leaning blocks, held against the planes themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.order.shape import Shape


def test_an_upright_block_is_a_box():
    assert Shape(600, 300, 200).volume_l == pytest.approx(36)


def test_a_block_with_bevelled_ends_is_a_wedge_by_hand():
    # 600 outside, 2 x 200 x tan 10 deg shorter inside: the mean length is 600 - 200 tan 10 deg
    wedge = Shape(600, 300, 200, bevel_deg=10)
    assert wedge.volume_l == pytest.approx(0.3 * 0.2 * (0.6 - 0.2 * math.tan(math.radians(10))) * 1000)
    assert wedge.length_at_mm(200, 0) == pytest.approx(600 - 400 * math.tan(math.radians(10)))


@given(
    st.floats(300, 700),
    st.floats(100, 400),
    st.floats(80, 250),
    st.floats(0, 12),
    st.floats(0, 12),
    st.floats(0, 8),
)
def test_the_volume_is_that_between_the_planes(length, height, thickness, bevel, taper, bed):
    shape = Shape(length, height, thickness, bevel, taper, bed)
    # thin slices parallel to the face, each a trapezium between its two beds
    depth = (np.arange(2000) + 0.5) * thickness / 2000
    foot = depth * math.tan(math.radians(bed))
    top = height - foot
    lower, upper = (
        length - 2 * depth * math.tan(math.radians(bevel)) - 2 * up * math.tan(math.radians(taper))
        for up in (foot, top)
    )
    litres = float(((lower + upper) / 2 * (top - foot)).sum() * thickness / 2000) / 1e6
    assert shape.volume_l == pytest.approx(litres, rel=1e-6)
