from types import SimpleNamespace

import pytest

from blockrun.mix import proportions
from blockrun.mix.card import Card, Mixing
from blockrun.mix.causes import PRACTICE, causes
from blockrun.mix.check import check
from blockrun.mix.out_of_line import Why
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances

MIXING = Mixing(usable_l=220, rate_l_min=60, slurry_time_min=10, foam_time_min=4, pour_time_min=10, pour_life_min=25)
TIGHT = Tolerances(wet=0.02)


@pytest.fixture(scope="module")
def card(mix):
    """200 L: 100 kg of cement, 50 kg of water, 118.25 L of foam at 95 g/L, 806.2 kg/m3."""
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=95.0, agent_share=1 / 41)
    return Card(mix, 200, generator)


@pytest.fixture
def listed(card):
    return lambda **seen: causes(check(card, MIXING, Seen(**seen)), MIXING, Tolerances())


@pytest.fixture
def whys(listed):
    return lambda **seen: [cause.why for cause in listed(**seen)]


def test_a_batch_that_passes_has_no_causes(listed):
    assert listed(wet_kg_m3=806, foam_kg_m3=97, slurry_kg_m3=1836, slurry_c=20, mixed_min=4, since_foam_min=4) == []


def test_wet_foam_says_what_water_it_brought_and_what_it_makes(listed, card):
    cause = listed(foam_kg_m3=135)[0]
    assert (cause.why, cause.measured, cause.found, cause.due) == (Why.FOAM_WET, True, 135, 95)
    assert cause.water_kg == pytest.approx(0.040 * card.foam_l)  # 4.73 kg
    assert cause.total_water_cement == pytest.approx((50 + 0.135 * card.foam_l) / 100)  # 0.66
    assert cause.wet_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3 + 0.040 * card.foam_l * 1000 / 200)


def test_foam_that_is_off_by_itself_makes_one_look_at_the_agent(whys):
    assert whys(foam_kg_m3=135) == [Why.FOAM_WET, Why.AGENT, Why.SOAP]
    assert whys(foam_kg_m3=60) == [Why.FOAM_DRY, Why.AGENT, Why.SOAP]


def test_a_thin_slurry_says_the_water_over_its_card(listed, card):
    water_kg = 8.0
    thin = (card.slurry.mass_kg + water_kg) / (card.slurry.volume_l + water_kg) * 1000
    cause = listed(slurry_kg_m3=thin)[0]
    assert (cause.why, cause.water_kg) == (Why.SLURRY_WET, pytest.approx(water_kg))
    assert cause.total_water_cement == pytest.approx((58 + card.whole.water_kg - 50) / 100)


def test_a_stiff_slurry_is_told(whys, card):
    assert whys(slurry_kg_m3=card.slurry.wet_density_kg_m3 * 1.03)[0] is Why.SLURRY_DRY


def test_what_does_most_of_the_difference_comes_first_and_what_pulls_the_other_way_is_no_cause(listed, card):
    wet = card.mix.wet_density_kg_m3
    found = listed(foam_kg_m3=170, wet_kg_m3=wet * 1.06, mixed_min=9)
    assert [cause.why for cause in found[:2]] == [Why.FOAM_WET, Why.MIXED_LONG]
    assert found[0].share > 0.5
    found = listed(foam_kg_m3=170, wet_kg_m3=wet * 0.93, mixed_min=9)
    assert found[0].why is Why.MIXED_LONG
    assert Why.FOAM_WET not in [cause.why for cause in found]


def test_a_batch_of_the_right_weight_has_no_difference_to_share(listed, card):
    found = listed(foam_kg_m3=125, wet_kg_m3=card.mix.wet_density_kg_m3 * 1.005, sank=0.07)
    assert (found[0].why, found[0].share) == (Why.FOAM_WET, None)


def test_a_heavy_batch_of_which_nothing_else_was_measured(listed, card):
    found = listed(wet_kg_m3=880)
    whys = [Why.FOAM_SHORT, Why.WEIGHED, Why.AGENT, Why.SLURRY_DRY, Why.DIRT, Why.SOAP, Why.PADDLE]
    assert [cause.why for cause in found] == whys
    assert not any(cause.measured for cause in found)
    # the foam that makes 880 kg/m3 by itself, put together again
    litres = found[0].found
    assert (card.slurry.mass_kg + 0.095 * litres) / (card.slurry.volume_l + litres) * 1000 == pytest.approx(880)
    assert found[2].due == pytest.approx(card.agent_l)


def test_a_light_batch_may_hold_more_foam_or_drawn_in_air(whys):
    assert whys(wet_kg_m3=740) == [Why.FOAM_OVER, Why.WEIGHED, Why.PADDLE]


def test_water_that_explains_a_difference_is_told_only_where_it_is_believed(listed, card):
    heavy = {cause.why: cause for cause in listed(wet_kg_m3=card.mix.wet_density_kg_m3 * 1.052)}
    # it would take 42 kg of water, and nobody mistakes 92 for 50
    assert heavy[Why.SLURRY_DRY].water_kg is None
    mix = proportions(oven_dry_density_kg_m3=1400, slurry_water_cement=0.5, foam_density_kg_m3=95)
    dense = Card(mix, 200, card.generator)
    seen = Seen(wet_kg_m3=mix.wet_density_kg_m3 * 0.97)
    cause = next(one for one in causes(check(dense, MIXING, seen, TIGHT), MIXING, TIGHT) if one.why is Why.SLURRY_WET)
    whole_kg, whole_l = dense.whole.mass_kg + cause.water_kg, dense.whole.volume_l + cause.water_kg
    assert whole_kg / whole_l * 1000 == pytest.approx(seen.wet_kg_m3)
    assert cause.total_water_cement == pytest.approx((dense.whole.water_kg + cause.water_kg) / dense.whole.cement_kg)


def test_foam_weighed_and_right_clears_the_agent(whys):
    assert Why.AGENT not in whys(foam_kg_m3=95, wet_kg_m3=880)
    assert Why.AGENT not in whys(foam_kg_m3=97, sank=0.06)


@pytest.mark.parametrize("wet", [800, 806, 812])
def test_noise_of_the_weight_is_no_cause_of_sinking(listed, wet):
    water = next(one for one in listed(wet_kg_m3=wet, sank=0.075) if one.why is Why.SLURRY_WET)
    assert water.water_kg is None


def test_a_heavy_mix_is_never_one_with_more_foam(whys):
    assert Why.FOAM_OVER not in whys(foam_kg_m3=190, wet_kg_m3=860)


def test_a_mix_that_sank_makes_one_look_at_agent_mould_and_dirt(whys):
    assert whys(sank=0.06) == [Why.AGENT, Why.SLURRY_WET, Why.MOULD, Why.DIRT, Why.SOAP, Why.PADDLE]
    assert whys(sank=0.06, slurry_c=4)[0] is Why.COLD


@pytest.mark.parametrize(
    ("seen", "why"),
    [
        ({"slurry_c": 31}, Why.HOT),
        ({"slurry_c": 9}, Why.COLD),
        ({"mixed_min": 6.5}, Why.MIXED_LONG),
        ({"mixed_min": 3}, Why.MIXED_SHORT),
        ({"since_foam_min": 16}, Why.WAITED),
    ],
)
def test_what_is_beyond_its_limit_is_told_and_marked_as_practice(whys, seen, why):
    assert whys(**seen) == [why]
    assert why in PRACTICE


@pytest.mark.parametrize("seen", [{"slurry_c": 30}, {"slurry_c": 10}, {"mixed_min": 6}, {"since_foam_min": 15}])
def test_what_is_at_its_limit_is_not(whys, seen):
    assert whys(**seen) == []


def test_what_mass_and_volume_tell_comes_before_what_the_yard_knows_the_largest_share_first(whys):
    found = whys(wet_kg_m3=860, foam_kg_m3=120, slurry_kg_m3=1780, slurry_c=31, mixed_min=9)
    assert found[:4] == [Why.FOAM_WET, Why.SLURRY_WET, Why.MIXED_LONG, Why.HOT]


def test_water_that_a_mix_holds_too_much_of_is_a_cause_though_it_pulls_the_weight_the_other_way(card):
    """A thin slurry makes a mix over 1000 kg/m3 lighter; this one is heavy, and holds a quarter too much water."""
    mix = proportions(oven_dry_density_kg_m3=1100, slurry_water_cement=0.5, foam_density_kg_m3=95)
    dense = Card(mix, 200, card.generator)
    thin, heavy = dense.slurry.wet_density_kg_m3 * 0.94, mix.wet_density_kg_m3 * 1.03
    seen = Seen(slurry_kg_m3=thin, wet_kg_m3=heavy, ran_s=dense.foam_l)
    found = {cause.why: cause for cause in causes(check(dense, MIXING, seen, TIGHT), MIXING, TIGHT)}
    assert found[Why.SLURRY_WET].water_kg > 0
    assert found[Why.SLURRY_WET].share is None
    dry = Seen(slurry_kg_m3=dense.slurry.wet_density_kg_m3 * 0.975, wet_kg_m3=heavy, ran_s=dense.foam_l)
    assert Why.SLURRY_WET not in [cause.why for cause in causes(check(dense, MIXING, dry, TIGHT), MIXING, TIGHT)]


def test_a_generator_that_ran_short_is_measured_foam(listed, card):
    """90 s at 60 L/min are 90 L of 118.25."""
    cause = listed(ran_s=90, wet_kg_m3=930)[0]
    assert (cause.why, cause.measured, cause.found) == (Why.FOAM_SHORT, True, pytest.approx(90))
    assert cause.wet_kg_m3 == pytest.approx((150 + 0.095 * 90) / (81.75 + 90) * 1000, rel=1e-3)
    assert Why.FOAM_SHORT not in [one.why for one in listed(ran_s=118, wet_kg_m3=930)]


def test_less_foam_is_no_cause_of_a_light_mix_the_two_are_said_to_be_at_odds(listed, card):
    """3.8 % light is let pass; 90 s at 60 L/min for 118.25 L would have made it 923 kg/m3."""
    wet = card.mix.wet_density_kg_m3 * 0.962
    (odds, *others) = listed(wet_kg_m3=wet, ran_s=90)
    assert (odds.why, odds.measured, odds.found) == (Why.AT_ODDS, True, pytest.approx(wet))
    assert odds.wet_kg_m3 == pytest.approx((150 + 0.095 * 90) / (81.75 + 90) * 1000, rel=1e-3)
    assert not {Why.FOAM_SHORT, Why.FOAM_OVER} & {cause.why for cause in others}


def test_more_foam_is_no_cause_of_a_heavy_mix_far_off_either(whys, card):
    found = whys(wet_kg_m3=card.mix.wet_density_kg_m3 * 1.1, ran_s=140)
    assert found[0] is Why.AT_ODDS
    assert Why.FOAM_OVER not in found


def test_seconds_that_ran_short_are_told_where_the_weight_is_as_due(whys, card):
    assert whys(wet_kg_m3=card.mix.wet_density_kg_m3 * 0.995, ran_s=90)[0] is Why.FOAM_SHORT
