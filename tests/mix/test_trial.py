from types import SimpleNamespace

import pytest

from blockrun.mix import proportions
from blockrun.mix.card import Card
from blockrun.mix.check import Verdict
from blockrun.mix.seen import Seen
from blockrun.mix.trial import STIFFER, tried


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
    following = tried(bucket, Seen(foam_kg_m3=102, wet_kg_m3=860)).after
    # air due 10 - 1.5873 - 3.0617 = 5.3510 L; foam 5.3510/(0.8912 x 0.898) = 6.687 L, which brings 0.682 kg
    assert following.foam_l == pytest.approx(6.687, abs=2e-3)
    assert following.slurry_water_kg == pytest.approx(3.0617 - 0.6821, abs=1e-3)
    assert (following.made.volume_l, following.stiffer, following.too_dry) == (pytest.approx(10), 0, False)


def test_a_trial_as_on_its_card_changes_nothing(bucket):
    following = tried(bucket, Seen(foam_kg_m3=95, wet_kg_m3=bucket.mix.wet_density_kg_m3)).after
    assert following.foam_l == pytest.approx(bucket.foam_l)
    assert following.slurry_water_kg == pytest.approx(bucket.slurry_water_kg)


def test_a_trial_that_sinks_is_made_stiffer_at_the_same_cement(bucket):
    following = tried(bucket, Seen(wet_kg_m3=bucket.mix.wet_density_kg_m3, sank=0.06)).after
    assert following.stiffer == STIFFER
    assert following.made.volume_l == pytest.approx(10)
    assert following.made.total_water_cement == pytest.approx(bucket.mix.total_water_cement - STIFFER)
    assert following.made.oven_dry_density_kg_m3 == pytest.approx(600)


def test_a_trial_that_breaks_its_foam_asks_for_the_cause_first(bucket):
    trial = tried(bucket, Seen(wet_kg_m3=1000))
    assert (trial.checked.verdict, trial.after) == (Verdict.REJECT, None)


def test_foam_weighed_alone_tells_the_next_batch_too(bucket):
    trial = tried(bucket, Seen(foam_kg_m3=120))
    assert trial.checked.found is None
    assert trial.after.foam_l == pytest.approx(bucket.whole.air_l / 0.88)


def test_without_foam_or_weight_there_is_nothing_to_change(bucket):
    assert tried(bucket, Seen(sank=0.01)).after is None


def test_foam_so_wet_that_it_leaves_no_slurry_is_told():
    mix = proportions(oven_dry_density_kg_m3=400, slurry_water_cement=0.35, foam_density_kg_m3=80)
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=80.0, agent_share=1 / 41)
    assert tried(Card(mix, 10, generator), Seen(foam_kg_m3=130)).after.too_dry
