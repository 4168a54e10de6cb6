"""Weights of cement and water as concrete schools and manuals print them, through our constants and units."""

import pytest

from blockrun.mix.volume import CEMENT_KG_M3, WATER_KG_M3, absolute_volume_m3
from blockrun.units import in_unit, read


# Civil-engineering formula page (seen in text): 1 lb/ft3 is 16.01846 kg/m3. Tolerance: half the last digit.
def test_a_pound_a_cubic_foot():
    assert read("1 lb/ft3", "density").value == pytest.approx(16.01846, abs=5e-6)


# US Navy Engineering Aid course 14071, p. 17-7 (seen in text): cement of gravity 3.15, 196.6 lb/ft3. Tolerance: half
# the last digit.
def test_solid_cement_in_pounds_a_cubic_foot():
    assert in_unit(CEMENT_KG_M3, "density", "lb/ft3") == pytest.approx(196.6, abs=0.05)


# "Concrete School" slides of a state highway department (seen in text): water 62.4 lb/ft3, 8.33 lb/gal, 7.5 gal/ft3.
# Tolerance: half the last digit; 0.02 for the gallon, as 8.33 is of water at 62.3 lb/ft3, ours is at 62.43.
def test_water_by_the_cubic_foot_and_by_the_gallon():
    assert in_unit(WATER_KG_M3, "density", "lb/ft3") == pytest.approx(62.4, abs=0.05)
    gallon_l = read("1 gal", "volume").value
    assert in_unit(gallon_l * WATER_KG_M3 / 1000, "mass", "lb") == pytest.approx(8.33, abs=0.02)
    assert in_unit(read("1 ft3", "volume").value, "volume", "gal") == pytest.approx(7.5, abs=0.05)


# An engineering dictionary (seen in text): a US bag of 94 lb is 94/(3.15 x 62.4) = 0.478 ft3 solid; the slides print
# 0.48. Tolerance: half the last digit.
def test_the_solid_volume_of_a_us_bag():
    bag_kg = read("94 lb", "mass").value
    solid_l = absolute_volume_m3((bag_kg, CEMENT_KG_M3)) * 1000
    assert in_unit(solid_l, "volume", "ft3") == pytest.approx(0.478, abs=0.0005)
