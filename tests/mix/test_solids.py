"""Sand, fly ash, lime and fibre beside the cement, by absolute volumes."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix import Solids, proportions, proportions_of, solids_of
from blockrun.mix.solids import NEAT
from blockrun.order import MixSpec

HALF_SAND = Solids(sand=0.5)


def test_sand_takes_its_room_and_its_weight():
    mix = proportions(wet_density_kg_m3=1200, slurry_water_cement=0.5, foam_density_kg_m3=50, solids=HALF_SAND)
    # 1 of cement, 0.5 of sand and 0.5 of water: 2 kg in 1/3150 + 0.5/2650 + 0.5/1000 m3
    slurry = 2 / (1 / 3150 + 0.5 / 2650 + 0.5 / 1000)
    share = (1200 - 50) / (slurry - 50)
    assert mix.cement_kg == pytest.approx(share * slurry / 2)
    assert mix.sand_kg == pytest.approx(mix.cement_kg / 2)
    assert mix.foam_volume_m3 == pytest.approx(1 - share)
    assert mix.slurry_density_kg_m3 == pytest.approx(slurry)
    assert mix.oven_dry_density_kg_m3 == pytest.approx(1.2 * mix.cement_kg + mix.sand_kg)


def test_cement_for_an_oven_dry_density_is_less_by_what_the_sand_weighs():
    mix = proportions(oven_dry_density_kg_m3=1020, slurry_water_cement=0.5, foam_density_kg_m3=95, solids=HALF_SAND)
    assert mix.cement_kg == pytest.approx(1020 / 1.7)
    assert mix.oven_dry_density_kg_m3 == pytest.approx(1020)


parts = st.floats(0, 2)
everything = st.builds(
    Solids,
    *(parts, st.floats(0, 0.6), st.floats(0, 0.3), st.floats(0, 0.05)),
    sand_density_kg_m3=st.floats(1500, 3000),
    fly_ash_density_kg_m3=st.floats(1900, 2800),
)


@given(everything, st.floats(300, 1700), st.floats(0.3, 1.5), st.floats(20, 200), st.booleans(), st.booleans())
def test_masses_and_volumes_close(solids, density, ratio, foam, dry, total):
    asked = {
        "oven_dry_density_kg_m3" if dry else "wet_density_kg_m3": density,
        "water_cement" if total else "slurry_water_cement": ratio * solids.powder_kg,
    }
    try:
        mix = proportions(foam_density_kg_m3=foam, solids=solids, **asked)
    except OutOfRange:
        assume(False)
    found = mix.oven_dry_density_kg_m3 if dry else mix.wet_density_kg_m3
    assert found == pytest.approx(density, rel=1e-9)
    dry_m3 = (
        mix.cement_kg / 3150
        + mix.sand_kg / solids.sand_density_kg_m3
        + mix.fly_ash_kg / solids.fly_ash_density_kg_m3
        + mix.lime_kg / 2240
        + mix.fibre_kg / 910
    )
    assert dry_m3 + mix.slurry_water_kg / 1000 + mix.foam_volume_m3 == pytest.approx(1, abs=1e-9)
    assert dry_m3 + mix.total_water_kg / 1000 + mix.air_fraction == pytest.approx(1, abs=1e-9)
    masses = mix.cement_kg + sum(mix.further.values()) + mix.slurry_water_kg + mix.foam_kg
    assert masses == pytest.approx(mix.wet_density_kg_m3, rel=1e-9)
    slurry = mix.wet_density_kg_m3 - mix.foam_kg
    assert mix.slurry_density_kg_m3 * (1 - mix.foam_volume_m3) == pytest.approx(slurry, rel=1e-9)


def test_a_slurry_is_too_dry_by_its_cement_ash_and_lime_not_by_its_sand():
    asked = {"oven_dry_density_kg_m3": 900, "foam_density_kg_m3": 95}
    assert proportions(slurry_water_cement=0.30, solids=Solids(sand=2), **asked).slurry_water_powder == 0.30
    ash = Solids(fly_ash=0.4, lime=0.1)
    assert proportions(slurry_water_cement=0.45, solids=ash, **asked).slurry_water_powder == pytest.approx(0.30)
    with pytest.raises(OutOfRange, match="fly ash and lime want water as cement does") as refused:
        proportions(slurry_water_cement=0.44, solids=ash, **asked)
    assert refused.value.limit == pytest.approx(0.45)
    assert "Write 0.45 or more; 0.68 to 0.90 is usual." in refused.value.todo


def test_what_is_not_in_the_mix_is_not_listed():
    mix = proportions(
        wet_density_kg_m3=1200, slurry_water_cement=0.5, foam_density_kg_m3=95, solids=Solids(sand=1, fibre=0.01)
    )
    assert list(mix.further) == ["sand", "fibre"]
    assert mix.further_kg == pytest.approx(1.01 * mix.cement_kg)
    neat = proportions(wet_density_kg_m3=1200, slurry_water_cement=0.5, foam_density_kg_m3=95)
    assert neat.further == {}


def test_an_order_says_parts_and_where_it_wants_densities():
    spec = MixSpec(name="base", wet_density_kg_m3=1200, water_cement=0.6, sand=0.5, lime=0.1, sand_density_kg_m3=2600)
    assert solids_of(spec) == Solids(sand=0.5, lime=0.1, sand_density_kg_m3=2600)
    assert proportions_of(spec, 95, units="SI") == proportions(
        wet_density_kg_m3=1200, water_cement=0.6, foam_density_kg_m3=95, solids=solids_of(spec)
    )
    assert solids_of(MixSpec(name="wall", oven_dry_density_kg_m3=600, slurry_water_cement=0.5)) == NEAT
