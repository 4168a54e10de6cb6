"""Density by weighing a full measure, as ASTM C138 does it, and the air it tells."""

import pytest

from blockrun.mix import proportions
from blockrun.mix.contents import cement_of, water_of
from blockrun.units import in_unit, read


def neat_kg_m3(water_cement):
    """Cement and water mixed without air."""
    return (cement_of(1) + water_of(water_cement)).wet_density_kg_m3


# ASTM C138 density, example of an ACI field-grade examination guide (seen in text): 54.1 lb full and 18.6 lb empty,
# measure of 0.250 ft3. The arithmetic is the test's own; our units must carry pounds and cubic feet to kg/m3 and back.
# Tolerance: half the last digit printed.
def test_a_weighed_measure_in_pounds_and_cubic_feet_gives_the_printed_density():
    mass_kg = read("54.1 lb", "mass").value - read("18.6 lb", "mass").value
    density_kg_m3 = mass_kg / (read("0.250 ft3", "volume").value / 1000)
    assert in_unit(density_kg_m3, "density", "lb/ft3") == pytest.approx(142.0, abs=0.05)
    assert density_kg_m3 == pytest.approx(read("142.0 lb/ft3", "density").value, abs=0.8)


# ASTM C138 gravimetric air, A = 100 (T - D)/T with T the air-free density (seen in text). Derived for the batch of
# ASTM C869 (641 kg/m3, water/cement 0.58, from memory of ASTM C796): T 1760.5 kg/m3 and A 63.59 %.
# Tolerances: half the last digit of T; 0.05 % of air.
def test_gravimetric_air_closes_with_the_air_of_the_mix():
    air_free = neat_kg_m3(0.58)
    assert air_free == pytest.approx(1760.5, abs=0.05)
    mix = proportions(wet_density_kg_m3=641, water_cement=0.58, foam_density_kg_m3=95)
    assert mix.total_water_cement == pytest.approx(0.58, abs=1e-9)
    assert 100 * mix.air_fraction == pytest.approx(63.59, abs=0.05)
    assert 1 - mix.wet_density_kg_m3 / neat_kg_m3(mix.total_water_cement) == pytest.approx(mix.air_fraction, abs=1e-12)
