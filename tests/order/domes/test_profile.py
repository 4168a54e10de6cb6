"""Inside curves by their length."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from blockrun.order.domes.profile import (
    Ellipse,
    along_at_height_mm,
    along_at_radius_mm,
    catenary,
    hemisphere,
    pointed,
    segment,
)
from tests.order.domes.volumes import shell_volume_l

CURVES = {
    "hemisphere": (hemisphere(2200), 2200),
    "segment": (segment(2200, 1000), 1000),
    "pointed": (pointed(2200, 3600), 3600),
    "tall ellipse": (Ellipse(2200, 3000), 3000),
    "low ellipse": (Ellipse(2200, 1200), 1200),
    "catenary": (catenary(2200, 2600), 2600),
}
every_curve = pytest.mark.parametrize("name", CURVES)


@every_curve
def test_a_curve_goes_from_the_springing_to_the_crown(name):
    curve, rise = CURVES[name]
    low, high = curve.at(0.0), curve.at(curve.length_mm)
    assert (low.radius_mm, low.height_mm) == pytest.approx((2200, 0), abs=1e-6)
    assert (high.radius_mm, high.height_mm) == pytest.approx((0, rise), abs=1e-6)


@every_curve
def test_steps_along_a_curve_are_as_long_as_they_say(name):
    curve, _ = CURVES[name]
    places = [curve.at(float(s)) for s in np.linspace(0, curve.length_mm, 4001)]
    steps = [math.hypot(a.radius_mm - b.radius_mm, a.height_mm - b.height_mm) for a, b in itertools.pairwise(places)]
    assert sum(steps) == pytest.approx(curve.length_mm, rel=1e-6)
    assert steps == pytest.approx([curve.length_mm / 4000] * 4000, rel=1e-5)


@every_curve
def test_the_lean_is_square_to_the_curve_and_turns_by_the_curvature(name):
    curve, _ = CURVES[name]
    for s in np.linspace(0.05, 0.95, 19) * curve.length_mm:
        before, here, after = (curve.at(float(s + step)) for step in (-0.5, 0.0, 0.5))
        tangent = math.atan2(after.height_mm - before.height_mm, before.radius_mm - after.radius_mm)
        assert here.lean_rad == pytest.approx(math.pi / 2 - tangent, abs=1e-6)
        assert here.curvature == pytest.approx(after.lean_rad - before.lean_rad, rel=1e-4)


def test_a_pointed_curve_has_its_centre_on_the_springing_line():
    curve = pointed(2000, 2000 * math.sqrt(3))
    assert curve.radius_mm == pytest.approx(4000)  # centres at the far springing: an equilateral arch
    assert curve.centre_mm == pytest.approx((-2000, 0))
    assert curve.at(0.0).lean_rad == 0


def test_a_catenary_hangs_as_a_chain():
    curve = catenary(2200, 2600)
    a = curve.parameter_mm
    for s in (0.0, 500.0, 2000.0):
        here = curve.at(s)
        assert here.height_mm == pytest.approx(2600 - a * (math.cosh(here.radius_mm / a) - 1), abs=1e-6)


def test_an_ellipse_as_high_as_it_is_wide_is_a_hemisphere():
    round_one, other = Ellipse(2200, 2200), hemisphere(2200)
    assert round_one.length_mm == pytest.approx(other.length_mm, rel=1e-12)
    assert round_one.at(1234.0).radius_mm == pytest.approx(other.at(1234.0).radius_mm, abs=1e-6)


@every_curve
def test_heights_and_radii_are_found_back(name):
    curve, _ = CURVES[name]
    here = curve.at(0.4 * curve.length_mm)
    assert along_at_height_mm(curve, here.height_mm) == pytest.approx(0.4 * curve.length_mm, abs=1e-3)
    assert along_at_radius_mm(curve, here.radius_mm) == pytest.approx(0.4 * curve.length_mm, abs=1e-3)


@every_curve
def test_the_volume_of_a_shell_is_that_of_its_small_rings(name):
    curve, _ = CURVES[name]
    t, total = 200.0, 0.0
    stations = [curve.at(float(s)) for s in np.linspace(0, curve.length_mm, 2001)]
    for low, high in itertools.pairwise(stations):
        corners = [(low.radius_mm, low.height_mm), low.outside(t), high.outside(t), (high.radius_mm, high.height_mm)]
        x, y = np.array(corners).T
        cross = x * np.roll(y, -1) - np.roll(x, -1) * y
        total += math.pi / 3 * float(np.sum((x + np.roll(x, -1)) * cross))  # Pappus, polygon by polygon
    assert shell_volume_l(curve, t) == pytest.approx(total / 1e6, rel=1e-5)
