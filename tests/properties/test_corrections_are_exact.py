"""Adding what a check says makes what the card says, wet and dry, and fits in the mixer: recomputed from masses."""

from types import SimpleNamespace

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from blockrun.mix import Solids, proportions
from blockrun.mix.card import Card, Mixing
from blockrun.mix.check import Verdict, Wait, check
from blockrun.mix.corrections import Added
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances
from blockrun.mix.trial import Advice, tried

EASY = Tolerances(foam_lost=0.99)


@st.composite
def cards(draw):
    """Any mix that the engine makes, with sand and ash or without, of 10 to 400 L."""
    foam_kg_m3 = draw(st.floats(30, 150))
    ratio = draw(st.floats(0.36, 0.9))
    solids = Solids(sand=draw(st.floats(0, 1.5)), fly_ash=draw(st.sampled_from([0.0, 0.2])))
    slurry = (solids.mass_kg + ratio * solids.powder_kg) / solids.volume_m3(1, ratio * solids.powder_kg)
    share = draw(st.floats(0.2, 0.9))
    mix = proportions(
        wet_density_kg_m3=share * slurry + (1 - share) * foam_kg_m3,
        slurry_water_cement=ratio * solids.powder_kg,
        foam_density_kg_m3=foam_kg_m3,
        solids=solids,
    )
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=foam_kg_m3, agent_share=1 / 41)
    return Card(mix, draw(st.floats(10, 400)), generator)


@st.composite
def mixers(draw):
    return Mixing(draw(st.floats(30, 600)), 60, 10, 4, 10, 1e6)


def air_free_litres(card, cement_kg, water_kg):
    """By particle densities, apart from our code."""
    mix = card.mix
    rest = mix.sand_kg / 2650 + mix.fly_ash_kg / 2300
    return 1000 * cement_kg * (1 / 3150 + rest / mix.cement_kg) + water_kg


def assert_as_ordered(card, dry_kg_m3, water_cement):
    """It dries to what was ordered, and holds no more water than is let pass."""
    assert dry_kg_m3 == pytest.approx(card.mix.oven_dry_density_kg_m3, rel=0.0500001)
    assert water_cement <= 1.1500001 * card.mix.total_water_cement


@given(cards(), mixers(), st.floats(0.7, 1.5), st.floats(0.5, 4))
def test_a_mix_corrected_has_the_wet_density_of_its_card_and_fits_the_mixer(card, mixing, off, foam_off):
    due = card.mix.wet_density_kg_m3
    foam_kg_m3 = min(500.0, max(20.0, card.foam_density_kg_m3 * foam_off))
    mass_kg = card.mix.wet_density_kg_m3 * card.makes_l / 1000 + (foam_kg_m3 - card.foam_density_kg_m3) * (
        card.foam_l / 1000
    )
    water_kg = card.mix.slurry_water_kg * card.makes_l / 1000 + foam_kg_m3 * card.foam_l / 1000
    air_free_l = air_free_litres(card, card.mix.cement_kg * card.makes_l / 1000, water_kg)
    assume(1.05 * foam_kg_m3 < off * due < 0.99 * mass_kg / air_free_l * 1000)
    answer = check(card, mixing, Seen(wet_kg_m3=off * due, foam_kg_m3=foam_kg_m3), EASY)
    event(answer.verdict.value)
    cement_kg = card.mix.cement_kg * card.makes_l / 1000
    dry_kg = card.mix.oven_dry_density_kg_m3 * card.makes_l / 1000
    if answer.verdict in (Verdict.PASS, Verdict.CARE):
        assert off == pytest.approx(1, abs=0.0500001)
        assert_as_ordered(card, dry_kg / (mass_kg / (off * due)), water_kg / cement_kg)
        return
    assume(answer.verdict is Verdict.CORRECT)  # what is beyond mending is tested by itself
    (step,) = answer.corrections
    event(step.what.value)
    volume_l = mass_kg / (off * due) * 1000
    left = 1 - step.take_out_l / volume_l
    if step.what is Added.FOAM:
        added_kg, added_l = step.added.volume_l * foam_kg_m3 / 1000, step.added.volume_l
        dry_added_kg, water_added_kg = 0.0, added_kg
    else:
        dry_added_kg, water_added_kg = step.added.cement_kg * dry_kg / cement_kg, step.added.water_kg
        solids_kg = step.added.cement_kg * (1 + card.mix.further_kg / card.mix.cement_kg)
        added_kg = solids_kg + step.added.water_kg
        added_l = air_free_litres(card, step.added.cement_kg, step.added.water_kg)
    after_l = volume_l * left + added_l
    assert (mass_kg * left + added_kg) / after_l * 1000 == pytest.approx(due, rel=1e-9)
    assert step.after.volume_l == pytest.approx(after_l, rel=1e-9)
    assert step.after.cement_kg == pytest.approx(
        card.mix.cement_kg * card.makes_l / 1000 * left + step.added.cement_kg, rel=1e-9
    )
    all_cement_kg = cement_kg * left + step.added.cement_kg
    ratio = (water_kg * left + water_added_kg) / all_cement_kg
    assert_as_ordered(card, (dry_kg * left + dry_added_kg) / after_l * 1000, ratio)
    assert step.added.volume_l > 0
    assert 0 <= step.take_out_l < volume_l
    assert after_l <= mixing.usable_l * (1 + 1e-9)


@given(cards(), st.floats(20, 500))
def test_foam_that_is_off_is_never_put_in(card, foam_kg_m3):
    answer = check(card, Mixing(1e6, 60, 10, 4, 10, 1e6), Seen(foam_kg_m3=foam_kg_m3))
    is_off = abs(foam_kg_m3 / card.foam_density_kg_m3 - 1) > 0.06 * (1 + 1e-9)
    assert (answer.verdict, answer.corrections) == (Verdict.WAIT if is_off else Verdict.PASS, ())


@given(cards(), st.floats(0.7, 1.4))
def test_a_slurry_mended_is_as_on_its_card_and_its_foam_makes_the_mix(card, water_off):
    water_kg = card.mix.slurry_water_kg * card.makes_l / 1000
    solids_kg = (card.mix.wet_density_kg_m3 - card.mix.foam_kg) * card.makes_l / 1000 - water_kg
    solids_l = (1 - card.mix.foam_volume_m3) * card.makes_l - water_kg
    weighed = (solids_kg + water_off * water_kg) / (solids_l + water_off * water_kg) * 1000
    assume(1050 < weighed < 1.45 * card.mix.slurry_density_kg_m3)
    answer = check(card, Mixing(1e6, 60, 10, 4, 10, 1e6), Seen(slurry_kg_m3=weighed))
    event(answer.verdict.value)
    if abs(water_off - 1) > 0.2000001:
        assert (Wait.COUNT in answer.waits) == bool(not answer.corrections)
    for step in answer.corrections:
        event(step.what.value)
        due = card.mix.wet_density_kg_m3 if step.what is Added.FOAM else card.mix.slurry_density_kg_m3
        assert step.after.wet_density_kg_m3 == pytest.approx(due, rel=1e-9)
    if answer.corrections and answer.corrections[0].what is Added.WATER:
        assert answer.corrections[0].after.water_kg == pytest.approx(water_kg, rel=1e-9)


@given(cards(), st.floats(0.95, 1.05), st.floats(0, 0.29))
def test_the_next_batch_after_a_trial_makes_what_the_card_says_when_it_loses_as_much(card, foam_off, lost):
    foam_kg_m3 = card.foam_density_kg_m3 * foam_off
    slurry = card.mix.slurry_water_kg * card.makes_l / 1000
    air_in_l = card.foam_l * (1 - foam_kg_m3 / 1000)
    mass_kg = (card.mix.wet_density_kg_m3 - card.mix.foam_kg) * card.makes_l / 1000 + card.foam_l * foam_kg_m3 / 1000
    volume_l = (1 - card.mix.foam_volume_m3) * card.makes_l + card.foam_l - lost * air_in_l
    trial = tried(card, Seen(wet_kg_m3=mass_kg / volume_l * 1000, foam_kg_m3=foam_kg_m3))
    assert trial.checked.air_lost == pytest.approx(lost, abs=1e-6)
    event(trial.advice.value)
    if trial.advice is not Advice.FOAM:
        assert trial.after is None
        return
    following = trial.after
    foam_kg = following.foam_l * foam_kg_m3 / 1000
    water_kg = following.slurry_water_kg + foam_kg
    cement_kg = card.mix.cement_kg * card.makes_l / 1000
    air_l = (1 - lost) * following.foam_l * (1 - foam_kg_m3 / 1000)
    assert water_kg == pytest.approx(card.mix.total_water_cement * cement_kg, rel=1e-6)
    assert air_free_litres(card, cement_kg, water_kg) + air_l == pytest.approx(card.makes_l, rel=1e-6)
    assert following.slurry_water_kg >= 0.30 * card.mix.powder_kg * card.makes_l / 1000
    assert slurry - following.slurry_water_kg == pytest.approx(
        foam_kg - card.mix.foam_kg * card.makes_l / 1000, abs=1e-6
    )
