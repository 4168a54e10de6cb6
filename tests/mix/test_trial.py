from types import SimpleNamespace

import pytest

from blockrun.mix import proportions
from blockrun.mix.card import Card
from blockrun.mix.check import Verdict
from blockrun.mix.seen import Seen
from blockrun.mix.trial import STIFFER, Advice, tried


@pytest.fixture(scope="module")
def bucket(mix):
    """10 L: 5 kg of cement, 2.5 kg of water, 5.913 L of foam at 95 g/L."""
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=95.0, agent_share=1 / 41)
    return Card(mix, 10, generator)


def test_a_bucket_is_the_cubic_metre_in_small(bucket):
    assert (bucket.slurry.cement_kg, bucket.slurry_water_kg) == (pytest.approx(5), pytest.approx(2.5))
    assert bucket.foam_l == pytest.approx(5.9127, abs=1e-4)
    assert bucket.agent_l == pytest.approx(0.0137, abs=1e-4)


def test_what_a_trial_was_by_hand(bucket):
    trial = tried(bucket, Seen(foam_kg_m3=102, wet_kg_m3=860, sank=0.01))
    # 5 + 2.5 + 0.6031 = 8.1031 kg in 9.4222 L; free of air 1.5873 + 3.1031 = 4.6904 L
    found = trial.checked.found
    assert found.volume_l == pytest.approx(9.4222, abs=1e-3)
    assert found.air_l == pytest.approx(4.7318, abs=1e-3)
    assert found.total_water_cement == pytest.approx(0.6206, abs=1e-4)
    # 5.9127 L of foam held 5.3096 L of air, and 4.7318 are there: 10.9 % are gone
    assert trial.checked.air_lost == pytest.approx(0.1088, abs=1e-3)
    assert trial.after_hour.wet_density_kg_m3 == pytest.approx(860 / 0.99)
    assert trial.after_hour.volume_l == pytest.approx(0.99 * found.volume_l)


def test_what_to_change_next_by_hand(bucket):
    trial = tried(bucket, Seen(foam_kg_m3=95, wet_kg_m3=860))
    # 8.0617 kg in 9.3741 L, 4.7251 of it air, of 5.3510 put in: 88.30 % kept
    # foam 5.3510/(0.8830 x 0.905) = 6.6959 L, which brings 0.6361 kg
    assert trial.advice is Advice.FOAM
    assert trial.after.foam_l == pytest.approx(6.696, abs=3e-3)
    assert trial.after.slurry_water_kg == pytest.approx(3.0617 - 0.6361, abs=1e-3)
    assert trial.after.made.volume_l == pytest.approx(10)


def test_a_trial_as_on_its_card_changes_nothing(bucket):
    for wet in (1, 0.97, 1.04):
        trial = tried(bucket, Seen(foam_kg_m3=97, wet_kg_m3=wet * bucket.mix.wet_density_kg_m3, sank=0.01))
        assert (trial.advice, trial.after) == (Advice.NOTHING, None)


def test_a_slurry_short_of_water_is_repeated_before_anything_is_changed(bucket):
    assert tried(bucket, Seen(slurry_kg_m3=1900, wet_kg_m3=860, foam_kg_m3=110)).advice is Advice.REPEAT_WATER
    assert tried(bucket, Seen(slurry_kg_m3=1700)).advice is Advice.REPEAT_WATER


def test_foam_that_is_off_is_brought_right_before_anything_is_changed(bucket):
    assert tried(bucket, Seen(foam_kg_m3=120)).advice is Advice.REPEAT_FOAM
    assert tried(bucket, Seen(foam_kg_m3=110, wet_kg_m3=810, sank=0.075)).advice is Advice.REPEAT_FOAM


def test_a_cold_trial_is_repeated_warm(bucket):
    assert tried(bucket, Seen(slurry_c=5, wet_kg_m3=900, sank=0.06)).advice is Advice.REPEAT_WARM


def test_a_trial_of_the_right_weight_that_sinks_is_made_stiffer_at_the_same_cement_and_litres(bucket):
    trial = tried(bucket, Seen(foam_kg_m3=95, wet_kg_m3=bucket.mix.wet_density_kg_m3, sank=0.06))
    assert trial.advice is Advice.STIFFER
    following = trial.after
    assert following.slurry_water_kg == pytest.approx(2.5 - 5 * STIFFER)
    assert following.made.volume_l == pytest.approx(10)
    assert following.made.oven_dry_density_kg_m3 == pytest.approx(600)
    assert following.made.water_kg == pytest.approx(following.slurry_water_kg + 0.095 * following.foam_l)


def test_a_slurry_is_never_made_so_stiff_that_it_breaks_foam():
    mix = proportions(oven_dry_density_kg_m3=700, slurry_water_cement=0.39, foam_density_kg_m3=95)
    card = Card(mix, 10, SimpleNamespace(rate_l_min=60.0, density_kg_m3=95.0, agent_share=1 / 41))
    trial = tried(card, Seen(foam_kg_m3=95, wet_kg_m3=mix.wet_density_kg_m3, sank=0.08))
    assert (trial.advice, trial.after) == (Advice.CAUSE, None)


def test_a_trial_that_breaks_its_foam_asks_for_the_cause_first(bucket):
    trial = tried(bucket, Seen(wet_kg_m3=1000))
    assert (trial.checked.verdict, trial.advice, trial.after) == (Verdict.WAIT, Advice.CAUSE, None)


def test_more_air_than_foam_brings_is_weighed_again(bucket):
    assert tried(bucket, Seen(wet_kg_m3=600)).advice is Advice.COUNT


def test_without_foam_or_weight_there_is_nothing_to_change(bucket):
    trial = tried(bucket, Seen(sank=0.01))
    assert (trial.advice, trial.after) == (Advice.WEIGH, None)


def test_foam_that_would_leave_no_slurry_asks_for_the_cause_of_its_loss():
    mix = proportions(oven_dry_density_kg_m3=400, slurry_water_cement=0.35, foam_density_kg_m3=80)
    card = Card(mix, 10, SimpleNamespace(rate_l_min=60.0, density_kg_m3=80.0, agent_share=1 / 41))
    trial = tried(card, Seen(foam_kg_m3=80, wet_kg_m3=mix.wet_density_kg_m3 * 1.265))
    assert 0.25 < trial.checked.air_lost < 0.30
    assert (trial.advice, trial.after) == (Advice.CAUSE, None)
