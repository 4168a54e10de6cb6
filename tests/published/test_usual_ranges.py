"""What foamed concrete usually is, as societies print it, against the mixes that our engine makes."""

import pytest

from blockrun.mix import proportions
from blockrun.units import read


def neat(wet_density, water_cement=0.50, foam_density=50):
    return proportions(wet_density_kg_m3=wet_density, water_cement=water_cement, foam_density_kg_m3=foam_density)


# Concrete Society, "fingertips" note on foamed concrete (seen in text): 30 to 80 % of air; fresh density 400 to 1600
# kg/m3; usually no aggregate under 1000 kg/m3. Neat mixes at water/cement 0.5 have 80 % of air at the lowest of these
# densities and 30 % well above that at which aggregate comes in. Tolerance: 3 % of the volume, as the note rounds.
def test_the_air_of_neat_mixes_spans_what_the_note_says():
    assert neat(400).air_fraction == pytest.approx(0.80, abs=0.03)
    assert 0.30 < neat(1000).air_fraction < 0.80
    assert neat(1600).air_fraction < 0.30


# The same note: the dry density is 100 to 300 kg/m3 under the fresh one. Tolerance: none.
@pytest.mark.parametrize("fresh", [600, 800, 1000, 1200, 1400])
def test_dry_density_is_100_to_300_under_the_fresh_one(fresh):
    assert 100 <= fresh - neat(fresh).oven_dry_density_kg_m3 <= 300


# ACI 523.1R-06 and 523.3R-14, front matter (seen in text): low density up to 50 lb/ft3 (800 kg/m3) oven-dry; the
# family spans 20 to 120 lb/ft3 (320 to 1920 kg/m3). Tolerance: 3 kg/m3, they round to tens.
@pytest.mark.parametrize(("pounds", "metric"), [(50, 800), (20, 320), (120, 1920)])
def test_the_limits_of_the_american_guides_in_both_systems(pounds, metric):
    assert read(f"{pounds} lb/ft3", "density").value == pytest.approx(metric, abs=3)
