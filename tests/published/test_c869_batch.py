"""The standard cellular-concrete batch of ASTM C869, through our mix engine."""

import pytest

from blockrun.errors import OutOfRange
from blockrun.mix import proportions

KG_M3_PER_LB_FT3 = 16.01846  # civil-engineering formula page (seen in text)


def by_total_water(wet_density, total_water_cement, foam_density):
    """A mix asked for by total water/cement, as the standard does; the slurry's share follows from the balance."""
    cement = wet_density / (1 + total_water_cement)
    air = 1 - cement / 3150 - cement * total_water_cement / 1000
    foam = air / (1 - foam_density / 1000)
    slurry_water = cement * total_water_cement - foam_density * foam
    return proportions(
        wet_density_kg_m3=wet_density, slurry_water_cement=slurry_water / cement, foam_density_kg_m3=foam_density
    )


# ASTM C869-91(R1999), table 1 and footnote A, p. 1 (seen in text): a fresh density of 40 lb/ft3 (641 kg/m3) goes with
# an oven-dry 30.4 lb/ft3 (487 kg/m3) for type I and 29.3 lb/ft3 (469 kg/m3) for type III cement.
# The water/cement of the standard batch, 0.58 and 0.64, is from memory of ASTM C796; the two dry densities agree
# with it. Tolerance: half the last digit printed for lb/ft3, 1 kg/m3 for the metric figures.
@pytest.mark.parametrize("foam_density", [50, 95])  # the oven-dry density must not depend on the foam
@pytest.mark.parametrize(("total_water_cement", "lb_ft3", "kg_m3"), [(0.58, 30.4, 487), (0.64, 29.3, 469)])
def test_oven_dry_density_of_the_standard_batch(total_water_cement, lb_ft3, kg_m3, foam_density):
    metric = by_total_water(641, total_water_cement, foam_density)
    assert metric.oven_dry_density_kg_m3 == pytest.approx(kg_m3, abs=1)
    customary = by_total_water(40 * KG_M3_PER_LB_FT3, total_water_cement, foam_density)
    assert customary.oven_dry_density_kg_m3 / KG_M3_PER_LB_FT3 == pytest.approx(lb_ft3, abs=0.05)


# Derived from the same table, no further assumption: 641 kg/m3 at 0.58. Tolerance: half the last digit.
def test_contents_of_the_standard_batch():
    mix = by_total_water(641, 0.58, 95)
    assert mix.total_water_cement == pytest.approx(0.58, abs=1e-9)
    assert mix.cement_kg == pytest.approx(405.7, abs=0.05)
    assert mix.total_water_kg == pytest.approx(235.3, abs=0.05)
    assert mix.air_fraction == pytest.approx(0.6359, abs=0.0005)


# Derived by mass and volume balance, apart from our code (fresh density, total water/cement, foam density, then
# foam volume, water in the foam, slurry water, oven-dry density). Tolerance: one in the last digit.
@pytest.mark.parametrize(
    ("wet", "ratio", "foam_density", "foam_m3", "foam_kg", "slurry_kg", "oven_dry"),
    [
        (400, 0.50, 50, 0.8232, 41.2, 92.2, 320),
        (600, 0.50, 95, 0.7437, 70.6, 129.4, 480),
        (641, 0.58, 95, 0.7027, 66.8, 168.6, 486.8),
        (800, 0.50, 95, 0.6232, 59.2, 207.5, 640),
        (1000, 0.45, 95, 0.5201, 49.4, 260.9, 827.6),
    ],
)
def test_water_carried_by_the_foam(wet, ratio, foam_density, foam_m3, foam_kg, slurry_kg, oven_dry):
    mix = by_total_water(wet, ratio, foam_density)
    assert mix.foam_volume_m3 == pytest.approx(foam_m3, abs=1e-4)
    assert mix.foam_kg == pytest.approx(foam_kg, abs=0.1)
    assert mix.slurry_water_kg == pytest.approx(slurry_kg, abs=0.1)
    assert mix.oven_dry_density_kg_m3 == pytest.approx(oven_dry, abs=0.1)


# Same balance: at 400 kg/m3 and 95 g/L only 51.2 of 133.3 kg of water are left for 266.7 kg of cement.
def test_a_light_mix_with_wet_foam_leaves_a_slurry_too_dry_to_mix():
    with pytest.raises(OutOfRange, match="slurry_water_cement") as refused:
        by_total_water(400, 0.50, 95)
    assert refused.value.value == pytest.approx(0.19, abs=0.005)
