import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix import proportions
from blockrun.mix.contents import cement_of, water_of
from blockrun.mix.volume import absolute_volume_m3

ratios = st.floats(0.30, 1.5)
foams = st.floats(10, 300)
shares = st.floats(0.01, 0.99)


def neat_kg_m3(water_cement):
    """Cement and water mixed without air."""
    return (cement_of(1) + water_of(water_cement)).wet_density_kg_m3


def at_share(slurry_share, ratio, foam):
    """A mix with this share of its volume slurry, asked for by its wet density."""
    wet = slurry_share * neat_kg_m3(ratio) + (1 - slurry_share) * foam
    return proportions(wet_density_kg_m3=wet, slurry_water_cement=ratio, foam_density_kg_m3=foam)


def test_a_mix_asked_by_oven_dry_density_agrees_with_arithmetic_by_hand():
    mix = proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.5, foam_density_kg_m3=95)
    assert mix.cement_kg == pytest.approx(500)
    assert mix.slurry_water_kg == pytest.approx(250)
    assert mix.foam_volume_m3 == pytest.approx(1 - 500 / 3150 - 0.25)
    assert mix.foam_kg == pytest.approx(95 * mix.foam_volume_m3)
    assert mix.total_water_kg == pytest.approx(250 + mix.foam_kg)
    assert mix.total_water_cement == pytest.approx((250 + mix.foam_kg) / 500)
    assert mix.slurry_density_kg_m3 == pytest.approx(750 / (500 / 3150 + 0.25))


@given(shares, ratios, foams)
def test_volumes_fill_one_cubic_metre(share, ratio, foam):
    mix = at_share(share, ratio, foam)
    solid_and_slurry_water = mix.cement_kg / 3150 + mix.slurry_water_kg / 1000
    assert solid_and_slurry_water + mix.foam_volume_m3 == pytest.approx(1, abs=1e-9)
    assert mix.cement_kg / 3150 + mix.total_water_kg / 1000 + mix.air_fraction == pytest.approx(1, abs=1e-9)
    assert mix.foam_volume_m3 == pytest.approx(mix.air_fraction + mix.foam_kg / 1000, abs=1e-9)


@given(shares, ratios, foams)
def test_masses_add_up_to_the_wet_density_asked_for(share, ratio, foam):
    mix = at_share(share, ratio, foam)
    asked = share * neat_kg_m3(ratio) + (1 - share) * foam
    assert mix.cement_kg + mix.slurry_water_kg + mix.foam_kg == pytest.approx(asked, rel=1e-9)
    assert mix.wet_density_kg_m3 == pytest.approx(asked, rel=1e-9)
    assert mix.oven_dry_density_kg_m3 == pytest.approx(1.2 * mix.cement_kg, rel=1e-9)


@given(shares, ratios, foams)
def test_the_same_mix_is_found_by_wet_and_by_oven_dry_density(share, ratio, foam):
    by_wet = at_share(share, ratio, foam)
    by_dry = proportions(
        oven_dry_density_kg_m3=by_wet.oven_dry_density_kg_m3, slurry_water_cement=ratio, foam_density_kg_m3=foam
    )
    assert by_dry.cement_kg == pytest.approx(by_wet.cement_kg, rel=1e-9)
    assert by_dry.foam_volume_m3 == pytest.approx(by_wet.foam_volume_m3, abs=1e-9)


@given(shares, ratios, foams, st.floats(1, 50))
def test_heavier_foam_never_needs_less_cement_for_the_same_oven_dry_density(share, ratio, foam, more):
    light = at_share(share, ratio, foam)
    heavy = proportions(
        oven_dry_density_kg_m3=light.oven_dry_density_kg_m3, slurry_water_cement=ratio, foam_density_kg_m3=foam + more
    )
    assert heavy.cement_kg == pytest.approx(light.cement_kg, rel=1e-9)
    assert heavy.wet_density_kg_m3 > light.wet_density_kg_m3


@pytest.mark.parametrize("densities", [{}, {"oven_dry_density_kg_m3": 600, "wet_density_kg_m3": 800}])
def test_a_mix_takes_exactly_one_density(densities):
    with pytest.raises(BadInput, match="one density"):
        proportions(slurry_water_cement=0.5, foam_density_kg_m3=95, **densities)


def test_a_slurry_ratio_at_the_limit_is_taken_and_one_below_is_refused_with_the_reason():
    assert proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.30, foam_density_kg_m3=95).cement_kg > 0
    with pytest.raises(OutOfRange, match="draws water out of the foam") as refused:
        proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.2999, foam_density_kg_m3=95)
    assert refused.value.limit == 0.30
    assert "0.30 or more" in refused.value.todo


@pytest.mark.parametrize("ratio", [float("nan"), float("inf"), -0.5])
def test_a_slurry_ratio_that_is_no_ratio_is_refused(ratio):
    with pytest.raises(OutOfRange):
        proportions(oven_dry_density_kg_m3=600, slurry_water_cement=ratio, foam_density_kg_m3=95)


def test_an_oven_dry_density_that_leaves_no_room_for_foam_is_refused_with_the_density_to_stay_under():
    limit = 1.2 / (1 / 3150 + 0.5 / 1000)  # 1467 kg/m3
    just_under = proportions(oven_dry_density_kg_m3=limit * (1 - 1e-9), slurry_water_cement=0.5, foam_density_kg_m3=95)
    assert 0 < just_under.foam_volume_m3 < 1e-8
    with pytest.raises(OutOfRange, match="no room for foam") as refused:
        proportions(oven_dry_density_kg_m3=limit * (1 + 1e-9), slurry_water_cement=0.5, foam_density_kg_m3=95)
    assert "to under 1467 kg/m3" in refused.value.todo


def test_a_wet_density_has_the_foam_at_one_end_and_the_slurry_at_the_other():
    slurry = neat_kg_m3(0.5)
    inside = {"slurry_water_cement": 0.5, "foam_density_kg_m3": 95}
    assert proportions(wet_density_kg_m3=95 + 1e-6, **inside).cement_kg > 0
    assert proportions(wet_density_kg_m3=slurry - 1e-6, **inside).foam_volume_m3 > 0
    with pytest.raises(OutOfRange, match="no room for cement") as too_light:
        proportions(wet_density_kg_m3=95, **inside)
    assert "above 95 kg/m3" in too_light.value.todo
    with pytest.raises(OutOfRange, match="no room for foam") as too_heavy:
        proportions(wet_density_kg_m3=slurry + 1e-6, **inside)
    assert "under 1834 kg/m3" in too_heavy.value.todo


@pytest.mark.parametrize("density", [0, -600, float("nan"), float("inf")])
@pytest.mark.parametrize("name", ["oven_dry_density_kg_m3", "wet_density_kg_m3"])
def test_a_density_that_is_no_density_is_refused(name, density):
    with pytest.raises(OutOfRange):
        proportions(slurry_water_cement=0.5, foam_density_kg_m3=95, **{name: density})


@pytest.mark.parametrize(("density", "limit"), [(0, 0), (-1, 0), (1000, 1000), (float("nan"), 1000)])
def test_foam_must_be_lighter_than_water_and_heavier_than_nothing(density, limit):
    with pytest.raises(OutOfRange, match="not foam") as refused:
        proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.5, foam_density_kg_m3=density)
    assert refused.value.limit == limit


def test_any_foam_between_is_taken():
    for density in (1e-3, 999.9):
        mix = proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.5, foam_density_kg_m3=density)
        assert mix.foam_kg == pytest.approx(density * mix.foam_volume_m3)


def test_absolute_volume_refuses_what_is_no_mass_or_density():
    assert absolute_volume_m3() == 0
    assert absolute_volume_m3((0, 1000)) == 0
    for mass in (-1e-9, float("nan"), float("inf")):
        with pytest.raises(OutOfRange, match="mass"):
            absolute_volume_m3((mass, 1000))
    for density in (0, -1, float("nan"), float("inf")):
        with pytest.raises(OutOfRange, match="density"):
            absolute_volume_m3((1, density))
