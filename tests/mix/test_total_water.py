"""Water asked for as a ratio of all of it, slurry and foam together."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix import Solids, proportions

ratios = st.floats(0.30, 1.5)
foams = st.floats(10, 300)
parts = st.floats(0, 2)
solids = st.builds(Solids, sand=parts, fly_ash=st.floats(0, 1), lime=st.floats(0, 0.3), fibre=st.floats(0, 0.05))


def found(**asked):
    """The mix, where there is one."""
    try:
        return proportions(**asked)
    except OutOfRange:
        assume(False)


def refusal(**asked):
    """The refusal of a mix, where there is one."""
    try:
        proportions(**asked)
    except OutOfRange as fault:
        return fault
    return None


def test_the_slurry_gets_what_the_foam_does_not_bring():
    mix = proportions(wet_density_kg_m3=800, water_cement=0.5, foam_density_kg_m3=50)
    assert mix.cement_kg == pytest.approx(800 / 1.5)
    assert mix.total_water_kg == pytest.approx(800 / 3)
    assert mix.foam_volume_m3 == pytest.approx((1 - 800 / 1.5 / 3150 - 800 / 3000) / 0.95)
    assert mix.slurry_water_kg == pytest.approx(800 / 3 - 50 * mix.foam_volume_m3)


@given(st.floats(150, 1800), st.floats(0.4, 3), foams, solids)
def test_both_ways_to_ask_for_water_give_the_same_mix(density, ratio, foam, with_):
    for name in ("oven_dry_density_kg_m3", "wet_density_kg_m3"):
        asked = {name: density, "foam_density_kg_m3": foam, "solids": with_}
        by_total = found(water_cement=ratio, **asked)
        by_slurry = proportions(slurry_water_cement=by_total.slurry_water_cement, **asked)
        assert by_slurry.total_water_cement == pytest.approx(ratio, rel=1e-9)
        assert by_slurry.cement_kg == pytest.approx(by_total.cement_kg, rel=1e-9)
        assert by_slurry.foam_volume_m3 == pytest.approx(by_total.foam_volume_m3, rel=1e-9, abs=1e-9)


@given(st.floats(300, 1500), st.floats(0.35, 0.9), foams, st.floats(0, 60), solids)
def test_wetter_foam_at_the_same_wet_density_never_gives_less_water_for_the_cement(wet, ratio, foam, wetter, with_):
    asked = {"wet_density_kg_m3": wet, "slurry_water_cement": ratio, "solids": with_}
    dry_foam = found(foam_density_kg_m3=foam, **asked)
    wet_foam = found(foam_density_kg_m3=foam + wetter, **asked)
    assert wet_foam.total_water_cement >= dry_foam.total_water_cement * (1 - 1e-12)


@given(st.floats(300, 1500), st.floats(0.5, 2), foams, st.floats(0, 60), solids)
def test_lighter_foam_never_takes_more_foam_for_the_same_air(wet, ratio, foam, heavier, with_):
    asked = {"wet_density_kg_m3": wet, "water_cement": ratio, "solids": with_}
    light = found(foam_density_kg_m3=foam, **asked)
    heavy = found(foam_density_kg_m3=foam + heavier, **asked)
    assert light.air_fraction == pytest.approx(heavy.air_fraction, abs=1e-9)
    assert light.foam_volume_m3 <= heavy.foam_volume_m3 + 1e-12


def test_a_slurry_left_too_dry_by_the_foam_is_refused_with_the_least_total_that_works():
    asked = {"wet_density_kg_m3": 400, "foam_density_kg_m3": 95}
    with pytest.raises(OutOfRange, match=r"leaves 0\.19 for the slurry.*the foam brings 0\.31") as refused:
        proportions(water_cement=0.5, **asked)
    assert (refused.value.name, refused.value.limit) == ("water_cement", 0.30)
    assert refused.value.todo == ("Write water_cement of 0.63 or more, or take drier foam or a heavier mix.")
    assert proportions(water_cement=0.63, **asked).slurry_water_cement >= 0.30
    with pytest.raises(OutOfRange):
        proportions(water_cement=0.62, **asked)


def test_foam_that_brings_more_than_all_the_water_leaves_nothing():
    with pytest.raises(OutOfRange, match=r"leaves nothing for the slurry.*the foam brings 0\.57"):
        proportions(oven_dry_density_kg_m3=200, water_cement=0.3, foam_density_kg_m3=95)


@given(st.floats(200, 1400), st.floats(0.3, 1), foams, solids)
def test_the_least_total_that_is_told_works(density, ratio, foam, with_):
    asked = {"oven_dry_density_kg_m3": density, "foam_density_kg_m3": foam, "solids": with_}
    refused = refusal(water_cement=ratio, **asked)
    assume(refused is not None and "foam brings" in refused.what)
    told = float(refused.todo.split()[3])
    assert told > ratio
    again = found(water_cement=told, **asked)
    assert again.slurry_water_powder >= 0.30 - 1e-9


def test_a_total_too_dry_whatever_the_foam_is_refused_at_once():
    with pytest.raises(OutOfRange, match=r"water_cement 0\.29 is too dry") as refused:
        proportions(oven_dry_density_kg_m3=600, water_cement=0.29, foam_density_kg_m3=95)
    assert "0.30 or more; 0.55 to 0.75 is usual" in refused.value.todo


def test_a_density_that_leaves_no_room_for_air_is_refused_with_the_density_to_stay_under():
    limit = 1.5 / (1 / 3150 + 0.5 / 1000)  # 1834 kg/m3
    assert proportions(wet_density_kg_m3=limit - 1e-6, water_cement=0.5, foam_density_kg_m3=95).foam_volume_m3 > 0
    with pytest.raises(OutOfRange, match="no room for foam: cement and water fill the volume") as refused:
        proportions(wet_density_kg_m3=limit + 1e-6, water_cement=0.5, foam_density_kg_m3=95)
    assert refused.value.todo == "Lower wet_density to under 1834 kg/m3, or lower water_cement."


@pytest.mark.parametrize("ratios", [{}, {"water_cement": 0.6, "slurry_water_cement": 0.5}])
def test_one_ratio_of_water_is_needed(ratios):
    with pytest.raises(BadInput, match="one ratio of water"):
        proportions(oven_dry_density_kg_m3=600, foam_density_kg_m3=95, **ratios)
