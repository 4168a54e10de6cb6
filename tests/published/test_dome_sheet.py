"""Domes against published and derived figures of spheres."""

from __future__ import annotations

import math

import pytest

from blockrun.order.domes.cautions import TENSION_FROM_CROWN_DEG
from blockrun.order.domes.profile import hemisphere, segment
from blockrun.units import in_unit, read
from tests.order.domes.volumes import shell_volume_l


# A published formula sheet for domes with a worked example (seen in text): span 40 ft, rise 15 ft; R = (r^2 + h^2)/(2h)
# = 20.83 ft, base perimeter 125.66 ft, floor 1256 ft2 (1256.6, cut off). Tolerance: half the last digit printed; the
# floor a whole unit, as it is cut off, not rounded.
def test_the_dome_sheet_of_40_feet_span_and_15_feet_rise():
    curve = segment(read("20 ft", "length").value, read("15 ft", "length").value)
    assert in_unit(curve.radius_mm, "length", "ft") == pytest.approx(20.83, abs=0.005)
    base = curve.at(0.0).radius_mm
    assert in_unit(2 * math.pi * base, "length", "ft") == pytest.approx(125.66, abs=0.005)
    assert 1256 <= math.pi * in_unit(base, "length", "ft") ** 2 < 1257


# The same sheet: area of the cap 2 pi R h = 1963.50 ft2, volume under it pi h^2 (3R - h)/3 = 11 191.92 ft3 (both
# computed from its formulas). The area is that of the limit of thin shells: volume / thickness. Tolerance 0.01 of each.
def test_the_area_of_a_spherical_cap_is_that_of_a_thin_shell():
    span, rise = read("20 ft", "length").value, read("15 ft", "length").value
    thin = 1e-4
    area_mm2 = shell_volume_l(segment(span, rise), thin) * 1e6 / thin
    assert area_mm2 / 304.8**2 == pytest.approx(1963.50, abs=0.01)


def test_the_volume_of_a_spherical_cap_is_that_of_shells_down_to_its_rise():
    span, rise = read("20 ft", "length").value, read("15 ft", "length").value
    curve = segment(span, rise)
    steps = 4000
    heights = [curve.at(curve.length_mm * (number + 0.5) / steps) for number in range(steps)]
    step = curve.length_mm / steps
    volume = sum(math.pi * here.radius_mm**2 * math.cos(here.lean_rad) * step for here in heights)  # discs
    assert volume / 304.8**3 == pytest.approx(11_191.92, abs=0.01)


# Pappus's theorem: a quarter arc of radius R has its centroid 2R/pi from the axis, so that turned round it gives a
# hemisphere of area 2 pi R^2 exactly. Tolerance: rounding.
def test_pappus_gives_the_hemisphere():
    radius, thin = 3000.0, 1e-3
    arc = hemisphere(radius)
    assert arc.length_mm * 2 * math.pi * (2 * radius / math.pi) == pytest.approx(2 * math.pi * radius**2)
    assert shell_volume_l(arc, thin) * 1e6 / thin == pytest.approx(2 * math.pi * radius**2, rel=1e-6)


# Half a spherical shell of mid radius a and thickness t: V = 2 pi a^2 t (1 + t^2/(12 a^2)), from the difference of two
# half balls; a = 3.0 m, t = 0.2 m gives 11.31392 m3 (derived). Tolerance: the last digit.
def test_the_volume_of_a_thick_half_shell():
    assert shell_volume_l(hemisphere(2900.0), 200.0) / 1000 == pytest.approx(11.31392, abs=1e-5)


# Membrane theory of a hemisphere under its own weight (from memory): the ring force is w R (cos a - 1/(1 + cos a)),
# nought at cos a = (sqrt 5 - 1)/2, a = 51.827 deg from the crown (the root is derived). Tolerance 0.001 deg.
def test_the_rings_of_a_hemisphere_pull_from_51_8_degrees_on():
    assert pytest.approx(51.827, abs=0.001) == TENSION_FROM_CROWN_DEG
    cos = math.cos(math.radians(TENSION_FROM_CROWN_DEG))
    assert cos - 1 / (1 + cos) == pytest.approx(0, abs=1e-12)
