import math
from fractions import Fraction
from types import SimpleNamespace

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.card import Card, Mixing, card_of_bags, check_held, mixing_in
from blockrun.mix.check import Reject, Verdict, Wait, check
from blockrun.mix.corrections import Added
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances, tolerances_of
from blockrun.site import Buckets

# 200 L: 100 kg of cement, 50 kg of water in the slurry, 118.25 L of foam at 95 g/L, 806.2 kg/m3
MAKES_L = 200


@pytest.fixture(scope="module")
def card(mix):
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=95.0, agent_share=1 / 41)
    return Card(mix, MAKES_L, generator)


@pytest.fixture(scope="module")
def mixing():
    return Mixing(usable_l=220, rate_l_min=60, slurry_time_min=10, foam_time_min=4, pour_time_min=10, pour_life_min=25)


@pytest.fixture
def checked(card, mixing):
    def make(tolerances=None, **seen):
        return check(card, mixing, Seen(**seen), tolerances)

    return make


# pass


def test_a_batch_as_on_its_card_passes(checked):
    answer = checked(wet_kg_m3=806.2, foam_kg_m3=95, slurry_kg_m3=1834, since_foam_min=5, mixed_min=4, sank=0.01)
    assert (answer.verdict, answer.corrections, answer.rejected) == (Verdict.PASS, (), ())
    assert answer.air_lost == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(("wet", "verdict"), [(1.049, Verdict.PASS), (1.051, Verdict.CORRECT), (0.951, Verdict.PASS)])
def test_a_twentieth_of_the_wet_density_is_let_pass(checked, card, wet, verdict):
    assert checked(wet_kg_m3=wet * card.mix.wet_density_kg_m3).verdict is verdict


def test_the_tolerance_can_be_set(checked, card):
    wet = 1.03 * card.mix.wet_density_kg_m3
    assert checked(Tolerances(wet=0.02), wet_kg_m3=wet).verdict is Verdict.CORRECT


@pytest.mark.parametrize(("foam", "verdict"), [(90, Verdict.PASS), (100, Verdict.PASS), (102, Verdict.WAIT)])
def test_foam_from_90_to_100_passes_where_95_is_due(checked, foam, verdict):
    assert checked(foam_kg_m3=foam).verdict is verdict


# correct


def test_a_heavy_batch_is_given_foam_until_it_is_right(checked, card):
    answer = checked(wet_kg_m3=860)
    (step,) = answer.corrections
    # 161.2 kg in 187.5 L; (806.2 x 0.1875 - 161.2) / (0.095 - 0.8062) = 14.2 L
    mass_kg, volume_l = card.whole.mass_kg, card.whole.mass_kg / 0.860
    assert step.what is Added.FOAM
    assert step.added.volume_l == pytest.approx(14.2, abs=0.05)
    assert step.after.volume_l == pytest.approx(volume_l + step.added.volume_l)
    assert step.after.mass_kg == pytest.approx(mass_kg + 0.095 * step.added.volume_l)
    assert step.after.wet_density_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3, rel=1e-12)
    assert (step.take_out_l, step.takes_min, step.latest_min) == (0, 4, 11)


def patient(mixing, **changed):
    """A mixer with time to mix a slurry apart."""
    return Mixing(**vars(mixing) | {"pour_life_min": 60} | changed)


def test_a_light_batch_is_given_slurry_as_on_the_card(card, mixing):
    (step,) = check(card, patient(mixing), Seen(wet_kg_m3=740)).corrections
    assert step.what is Added.SLURRY
    assert step.added.water_kg == pytest.approx(0.5 * step.added.cement_kg)
    assert step.after.wet_density_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3, rel=1e-12)
    assert step.takes_min == 14  # ten to mix it apart, four to blend it in


def test_a_light_batch_for_whose_slurry_there_is_no_time_is_rejected(checked):
    # 4 min of blending are gone before it can be weighed; 14 of correcting and 10 of pouring make 28, over 25
    assert checked(wet_kg_m3=740).rejected == (Reject.NO_TIME,)


def test_what_the_mixer_cannot_hold_is_taken_out_first(card, mixing):
    (step,) = check(card, patient(mixing, usable_l=200), Seen(wet_kg_m3=740)).corrections
    assert step.take_out_l > 0
    assert step.after.volume_l == pytest.approx(200)
    assert step.after.wet_density_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3, rel=1e-12)


def test_foam_that_the_mixer_cannot_hold_makes_room_first(card, mixing):
    # 187.5 L and 14.2 L of foam make 201.7 L, and the mixer holds 200
    (step,) = check(card, Mixing(**vars(mixing) | {"usable_l": 200}), Seen(wet_kg_m3=860)).corrections
    assert step.take_out_l == pytest.approx(187.5 * (1 - 200 / 201.7), abs=0.1)
    assert step.after.volume_l == pytest.approx(200)
    assert step.after.wet_density_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3, rel=1e-12)


def test_foam_that_a_slow_generator_makes_in_time_corrects_and_a_minute_later_rejects(card, mixing):
    # 14.2 L at 2 L/min are 8 min, and 10 of pouring leave 7 of 25
    slow = Mixing(**vars(mixing) | {"rate_l_min": 2})
    in_time = check(card, slow, Seen(wet_kg_m3=860, since_foam_min=7))
    assert (in_time.verdict, in_time.corrections[0].takes_min) == (Verdict.CORRECT, 8)
    assert check(card, slow, Seen(wet_kg_m3=860, since_foam_min=7.1)).rejected == (Reject.NO_TIME,)


@given(
    st.floats(0.75, 1.25), st.floats(0, 40), st.floats(120, 400), st.floats(1, 100), st.floats(15, 90), st.floats(2, 15)
)
def test_whatever_is_corrected_fits_the_mixer_and_is_poured_within_its_life(
    card, off, since, usable, rate, life, pouring
):
    mixer = Mixing(usable, rate, 10, 4, pouring, life)
    answer = check(card, mixer, Seen(wet_kg_m3=off * card.mix.wet_density_kg_m3, since_foam_min=since))
    event(answer.verdict.value)
    for step in answer.corrections:
        assert step.after.volume_l <= usable + 1e-6
        assert since + step.takes_min + pouring <= life + 1e-9
    if answer.verdict in (Verdict.PASS, Verdict.CARE):
        assert since + pouring <= life + 1e-9


@pytest.mark.parametrize("foam", [40, 80, 102, 110, 200, 400, 490])
def test_foam_that_is_off_is_put_right_before_it_goes_in_and_no_amount_is_said(checked, foam):
    answer = checked(foam_kg_m3=foam)
    assert (answer.verdict, answer.waits, answer.corrections) == (Verdict.WAIT, (Wait.FOAM,), ())


def test_foam_that_is_off_and_in_is_told_by_the_mix(checked):
    assert checked(foam_kg_m3=102, since_foam_min=12).waits == (Wait.WEIGH,)
    assert checked(since_foam_min=5).waits == (Wait.WEIGH,)
    assert checked(foam_kg_m3=102, since_foam_min=16).rejected == (Reject.TOO_LATE,)


@pytest.mark.parametrize("density", [1400, 1640, 2100, 2400])
def test_a_slurry_that_cannot_be_is_measured_again(checked, density):
    answer = checked(slurry_kg_m3=density)
    assert (answer.verdict, answer.waits, answer.corrections) == (Verdict.WAIT, (Wait.COUNT,), ())


@pytest.mark.parametrize(("celsius", "wait"), [(1, Wait.WARM), (9.9, Wait.WARM), (31, Wait.COOL), (60, Wait.COOL)])
def test_a_cold_or_hot_slurry_waits_for_its_foam(checked, celsius, wait):
    assert (checked(slurry_c=celsius).verdict, checked(slurry_c=celsius).waits) == (Verdict.WAIT, (wait,))


def test_a_pass_is_one_of_which_nothing_is_wrong(checked):
    for seen in ({"mixed_min": 1}, {"mixed_min": 15}, {"slurry_c": 4}, {"foam_kg_m3": 110}):
        assert checked(wet_kg_m3=806, **seen).verdict is Verdict.CARE


def test_a_mix_that_no_correction_makes_is_looked_at_again(checked):
    answer = checked(wet_kg_m3=600)
    assert (answer.verdict, answer.waits, answer.corrections) == (Verdict.WAIT, (Wait.DOUBT,), ())


# the wet density is right, and what is in it is not
def test_a_mix_of_the_right_weight_that_dries_to_another_density_is_rejected(checked):
    assert Reject.DRY in checked(foam_kg_m3=300, wet_kg_m3=806).rejected
    assert Reject.DRY in checked(slurry_kg_m3=1700, wet_kg_m3=806).rejected


def test_a_mix_with_far_too_much_water_is_rejected_whatever_it_weighs(checked):
    # 118.25 L x 0.17 = 20.1 kg of water over 11.2: 0.70 in place of 0.61, 14.5 %; at 173 g/L 15.1 %
    assert Reject.WATER not in checked(foam_kg_m3=170, wet_kg_m3=806).rejected
    assert Reject.WATER in checked(foam_kg_m3=174, wet_kg_m3=806).rejected


def test_foam_that_cannot_bring_a_heavy_mix_right_rejects_it(checked):
    assert checked(foam_kg_m3=200, wet_kg_m3=860).verdict is Verdict.REJECT


def test_a_stiff_slurry_is_given_the_water_it_lacks(checked, card):
    stiff = card.slurry.wet_density_kg_m3 * 1.04
    (water,) = checked(slurry_kg_m3=stiff).corrections
    assert water.what is Added.WATER
    assert water.after.water_kg == pytest.approx(50)


def test_a_thin_slurry_is_given_cement_and_more_foam(checked, card):
    thin = card.slurry.wet_density_kg_m3 * 0.96
    cement, foam = checked(slurry_kg_m3=thin).corrections
    assert cement.what is Added.CEMENT
    assert cement.after.wet_density_kg_m3 == pytest.approx(card.slurry.wet_density_kg_m3, rel=1e-12)
    assert cement.after.water_kg / cement.after.cement_kg == pytest.approx(
        0.5
    )  # neat: the same density, the same ratio
    assert foam.added.volume_l > card.foam_l
    assert cement.after.oven_dry_kg == pytest.approx(1.2 * cement.after.cement_kg)
    assert foam.after.wet_density_kg_m3 == pytest.approx(card.mix.wet_density_kg_m3, rel=1e-12)


# reject


def test_a_mix_that_sank_is_rejected(checked):
    assert checked(sank=0.031).rejected == (Reject.SANK,)
    assert checked(sank=0.03).verdict is Verdict.PASS


def test_a_mix_that_breaks_its_foam_is_not_given_more(checked):
    answer = checked(wet_kg_m3=1000, ran_s=118)
    assert answer.air_lost > 0.30
    assert (answer.verdict, answer.rejected, answer.corrections) == (Verdict.REJECT, (Reject.FOAM_LOST,), ())


def test_foam_that_was_never_put_in_is_asked_for_before_a_batch_is_thrown_away(checked):
    """Half of its foam is not there: lost, or never made. 70 s of 118 say which, and it is put in."""
    asked = checked(wet_kg_m3=1000)
    assert (asked.verdict, asked.waits, asked.corrections) == (Verdict.WAIT, (Wait.RAN,), ())
    short = checked(wet_kg_m3=1000, ran_s=70)
    assert (short.verdict, short.corrections[0].what) == (Verdict.CORRECT, Added.FOAM)
    assert short.air_lost < 0.1
    assert checked(wet_kg_m3=1000, since_foam_min=16).rejected == (Reject.TOO_LATE,)


def test_little_slurry_is_mixed_in_a_bucket_and_no_mixer_waited_for(checked, card):
    """8 L of slurry: 5 min in a bucket and 4 to blend it in, where a drum takes 10 and 4."""
    answer = checked(wet_kg_m3=card.mix.wet_density_kg_m3 * 0.945, since_foam_min=5)
    (step,) = answer.corrections
    assert step.added.volume_l < 10
    assert (step.takes_min, step.latest_min) == (9, 6)
    assert checked(wet_kg_m3=card.mix.wet_density_kg_m3 * 0.945, since_foam_min=6.5).rejected == (Reject.NO_TIME,)


def test_a_rejected_batch_keeps_what_its_weight_would_have_taken(checked):
    answer = checked(wet_kg_m3=860, since_foam_min=12)
    assert answer.corrections == ()
    assert answer.needed[0].what is Added.FOAM


def test_more_minutes_of_mixing_than_the_foam_is_in_are_refused(checked):
    with pytest.raises(BadInput, match="cannot have been mixed 12 min with the foam in: that went in 5 min ago"):
        checked(mixed_min=12, since_foam_min=5)
    assert checked(wet_kg_m3=806, mixed_min=5, since_foam_min=5).verdict is Verdict.PASS


def test_time_that_is_over_or_too_short_rejects(checked):
    assert checked(wet_kg_m3=860, since_foam_min=11).verdict is Verdict.CORRECT
    assert checked(wet_kg_m3=860, since_foam_min=11.5).rejected == (Reject.NO_TIME,)


def test_a_pour_is_to_end_within_the_pour_life(checked):
    assert checked(wet_kg_m3=806, since_foam_min=15).verdict is Verdict.PASS
    assert checked(wet_kg_m3=806, since_foam_min=15.5).rejected == (Reject.TOO_LATE,)


def test_a_heavy_batch_beyond_its_pour_life_is_late_and_no_more(checked):
    assert checked(wet_kg_m3=860, since_foam_min=26).rejected == (Reject.TOO_LATE,)


def test_an_hour_later_nothing_can_be_added(checked):
    answer = checked(wet_kg_m3=860, sank=0.01, since_foam_min=70)
    assert (answer.rejected, answer.corrections) == ((Reject.OFF,), ())
    assert checked(foam_kg_m3=130, slurry_kg_m3=1900, sank=0.01).verdict is Verdict.CARE


def test_an_hour_later_the_pour_life_is_no_longer_asked(checked):
    assert checked(wet_kg_m3=806, since_foam_min=70, sank=0.01).verdict is Verdict.PASS


# what cannot be


def test_something_is_to_be_measured(checked):
    with pytest.raises(BadInput, match="nothing was measured"):
        checked()


@pytest.mark.parametrize(
    ("seen", "said"),
    [
        ({"wet_kg_m3": 1900}, "no air at all"),
        ({"wet_kg_m3": 90}, "lighter than its foam"),
        ({"wet_kg_m3": 0}, "a mix of 0 kg/m3 cannot be"),
        ({"foam_kg_m3": math.nan}, "cannot be"),
        ({"slurry_kg_m3": 700}, "a slurry of 700 kg/m3 cannot be"),
        ({"slurry_c": 180}, "--temperature: a slurry at 180 degC cannot be"),
        ({"slurry_c": 75}, "a slurry at 75 degC cannot be"),
        ({"ran_s": 0}, "0 s of the generator cannot be"),
        ({"slurry_c": -8}, "a slurry at -8 degC cannot be"),
        ({"foam_kg_m3": 950}, "foam of 950 kg/m3 cannot be"),
        ({"foam_kg_m3": 14}, "foam of 14 kg/m3 cannot be"),
        ({"mixed_min": -1}, "-1 min of mixing cannot be"),
        ({"since_foam_min": 1441}, "1441 min since the foam went in cannot be"),
        ({"sank": 1}, "sinking by 100 % of the height cannot be"),
    ],
)
def test_a_measurement_that_cannot_be_says_to_weigh_again(checked, seen, said):
    with pytest.raises(OutOfRange, match=said) as refused:
        checked(**seen)
    assert "again" in refused.value.todo


def test_a_measurement_that_cannot_be_is_told_in_the_units_of_the_yard(card, mixing):
    with pytest.raises(OutOfRange, match=r"a mix of 118\.6 lb/ft3 would hold no air at all"):
        check(card, mixing, Seen(wet_kg_m3=1900), units="US")


def test_a_site_that_asks_closer_asks_it_of_foam_and_slurry_too():
    wide, close = tolerances_of(Buckets(tolerance=0.10)), tolerances_of(Buckets(tolerance=0.01))
    assert (wide.wet, wide.foam, wide.slurry) == (0.10, 0.06, 0.02)
    assert (close.wet, close.foam, close.slurry) == (0.01, 0.01, 0.01)
    assert tolerances_of(None) == tolerances_of(Buckets()) == Tolerances()


def test_a_card_in_bags_makes_what_the_batch_makes(mix, yard):
    site, mixer = yard()
    card = card_of_bags(site, mix, Fraction(4))
    assert card.makes_l == pytest.approx(MAKES_L)
    assert mixing_in(site, mixer).blending_min(119.9) == 4
    assert mixing_in(site, mixer).blending_min(241) == 5
    check_held(card, Fraction(4), mixer, "SI")
    with pytest.raises(OutOfRange, match="5 bags of this mix make 250 L, and the drum holds 220 L"):
        check_held(card_of_bags(site, mix, Fraction(5)), Fraction(5), mixer, "SI")
