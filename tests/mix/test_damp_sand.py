"""Sand as damp as it lies: more of it on the scales, so much less water from the tap, the same mix."""

from fractions import Fraction

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix import Solids, batch_sizes, notes, proportions

ASKED = {"wet_density_kg_m3": 1200, "slurry_water_cement": 0.5, "foam_density_kg_m3": 95}


def test_damp_sand_is_weighed_with_its_water_and_the_tap_gives_so_much_less():
    dry, damp = (proportions(**ASKED, solids=Solids(sand=1), sand_moisture=share) for share in (0, 0.04))
    assert damp.weighed == pytest.approx({"sand": 1.04 * dry.sand_kg})
    assert damp.tap_water_kg == pytest.approx(dry.slurry_water_kg - 0.04 * dry.sand_kg)
    assert (dry.tap_water_kg, dry.weighed) == (dry.slurry_water_kg, dry.further)


@given(
    st.floats(0.01, 2), st.floats(0, 0.3), st.floats(0.35, 1.2), st.floats(600, 1700), st.floats(30, 150), st.booleans()
)
def test_volumes_ratios_and_density_are_those_of_dry_sand_and_the_mass_closes(sand, share, ratio, density, foam, total):
    asked = {
        "wet_density_kg_m3": density,
        "foam_density_kg_m3": foam,
        "water_cement" if total else "slurry_water_cement": ratio,
    }
    try:
        dry = proportions(**asked, solids=Solids(sand=sand))
    except OutOfRange:
        assume(False)
    event("too wet" if share * dry.sand_kg > 0.9 * dry.slurry_water_kg else "made")
    assume(share * dry.sand_kg <= 0.9 * dry.slurry_water_kg)
    damp = proportions(**asked, solids=Solids(sand=sand), sand_moisture=share)
    assert damp.total_water_cement == dry.total_water_cement
    assert (damp.foam_volume_m3, damp.air_fraction) == (dry.foam_volume_m3, dry.air_fraction)
    on_scales_kg = damp.cement_kg + sum(damp.weighed.values()) + damp.tap_water_kg + damp.foam_kg
    assert on_scales_kg == pytest.approx(density, rel=1e-9)
    water_kg = damp.tap_water_kg + damp.weighed["sand"] - damp.sand_kg
    filled_m3 = damp.cement_kg / 3150 + damp.sand_kg / 2650 + water_kg / 1000 + damp.foam_volume_m3
    assert filled_m3 == pytest.approx(1, abs=1e-9)


def test_sand_that_leaves_the_tap_less_than_a_tenth_of_the_water_is_refused():
    # 0.50 of water to 2 of sand: a quarter of the sand is all of it, 22.5 % of the sand nine tenths
    made = proportions(**ASKED, solids=Solids(sand=2), sand_moisture=0.225)
    assert made.tap_water_kg == pytest.approx(0.1 * made.slurry_water_kg)
    for moisture in (0.226, 0.25, 0.26):
        with pytest.raises(
            OutOfRange, match=r"its slurry takes 165 kg in all, 10 % of it at the least from"
        ) as refused:
            proportions(**ASKED, solids=Solids(sand=2), sand_moisture=moisture)
        assert refused.value.name == "moisture"


@pytest.mark.parametrize("share", [-0.01, 0.31])
def test_a_moisture_that_no_heap_has_is_refused(share):
    with pytest.raises(OutOfRange, match="cannot be"):
        proportions(**ASKED, solids=Solids(sand=1), sand_moisture=share)


def test_a_batch_draws_from_the_tap_what_the_sand_does_not_bring(yard):
    site, mixer = yard()
    dry, damp = (
        batch_sizes(site, mixer, proportions(**ASKED, solids=Solids(sand=1), sand_moisture=share))[0]
        for share in (0, 0.05)
    )
    assert damp.bags == dry.bags == Fraction(3, 2)
    assert damp.slurry_water_kg == pytest.approx(dry.slurry_water_kg - 0.05 * 37.5)
    assert (damp.yield_l, damp.foam_l) == (dry.yield_l, dry.foam_l)


def test_the_note_says_how_much_of_the_water_comes_with_the_sand_and_what_the_grains_keep():
    said = " ".join(notes(proportions(**ASKED, solids=Solids(sand=1), sand_moisture=0.05), 95.0))
    assert "it holds 5 % of water, so it is weighed with it, and 10 % of the slurry water comes with the sand" in said
    assert "what the grains soak up themselves" in said
