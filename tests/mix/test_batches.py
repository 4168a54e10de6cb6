from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.mix import batch_sizes, proportions, why_no_batch
from blockrun.mix.batches import in_bags


def bags(sizes):
    return [str(size.bags) for size in sizes]


def said(fault):
    return f"{fault.what}. {fault.todo}"


def test_sizes_are_every_step_between_the_least_and_the_usable_volume(yard, mix):
    sizes = batch_sizes(*yard(), mix)
    assert bags(sizes) == ["2", "5/2", "3", "7/2", "4"]
    assert [size.yield_l for size in sizes] == pytest.approx([100, 125, 150, 175, 200])


def test_a_batch_says_what_goes_in_and_how_long_it_takes(yard, mix):
    four_bags = batch_sizes(*yard(), mix)[-1]
    foam_l = 200 * (1 - 500 / 3150 - 0.25)
    assert four_bags.cement_kg == 100
    assert four_bags.slurry_water_kg == pytest.approx(50)
    assert four_bags.foam_l == pytest.approx(foam_l)
    assert four_bags.foam_kg == pytest.approx(foam_l * 0.095)
    assert four_bags.agent_l == pytest.approx(foam_l * 0.095 / 41)
    assert four_bags.room_l == pytest.approx(196)
    assert (four_bags.foam_min, four_bags.foam_to_poured_min, four_bags.length_min) == (4, 14, 28)


def test_steps_that_are_no_binary_fraction_stay_exact(yard, mix):
    sizes = batch_sizes(*yard(bag_step=Fraction(1, 3), usable_volume_l=150.0, least_volume_l=0.0), mix)
    assert bags(sizes) == ["1/3", "2/3", "1", "4/3", "5/3", "2", "7/3", "8/3", "3"]
    assert sizes[-1].cement_kg == 75


@pytest.mark.parametrize(("usable", "largest"), [(200.0, "4"), (200 - 5e-7, "4"), (200 - 2e-6, "7/2")])
def test_the_usable_volume_may_be_filled_to_the_brim_and_no_further(yard, mix, usable, largest):
    assert bags(batch_sizes(*yard(usable_volume_l=usable), mix))[-1] == largest


@pytest.mark.parametrize(("least", "smallest"), [(100.0, "2"), (100 + 5e-7, "2"), (100 + 2e-6, "5/2")])
def test_the_least_volume_is_enough_and_less_is_not(yard, mix, least, smallest):
    assert bags(batch_sizes(*yard(least_volume_l=least), mix))[0] == smallest


@pytest.mark.parametrize(("pour_life", "n_sizes"), [(14.0, 5), (13.99, 0)])
def test_pour_life_runs_from_the_foam_going_in_to_the_last_cavity(yard, mix, pour_life, n_sizes):
    assert len(batch_sizes(*yard(pour_life_min=pour_life), mix)) == n_sizes


def test_a_slow_generator_makes_the_foam_step_longer_and_drops_the_batches_that_outlive_the_pour_life(yard, mix):
    sizes = batch_sizes(*yard(rate_l_min=6.0), mix)
    # 100 L and 125 L of mix need 59.1 and 73.9 L of foam: 9.9 and 12.3 min, and 25 - 10 min are left
    assert [(size.foam_min, size.foam_to_poured_min) for size in sizes] == [(10, 20), (13, 23), (15, 25)]


@pytest.mark.parametrize(("shade", "minutes"), [(1 + 1e-12, 5), (1.0, 5), (1 - 1e-12, 5), (1 - 1e-4, 6)])
def test_foam_minutes_round_up_but_not_on_a_speck_of_rounding(yard, mix, shade, minutes):
    rate = mix.foam_volume_m3 * 200 / 5 * shade
    assert batch_sizes(*yard(rate_l_min=rate), mix)[-1].foam_min == minutes


def test_a_batch_that_stays_in_the_drum_altogether_is_none(yard, mix):
    assert bags(batch_sizes(*yard(left_behind_l=100.0), mix))[0] == "5/2"
    everything = yard(left_behind_l=200.0)
    assert batch_sizes(*everything, mix) == []
    assert said(why_no_batch(*everything, mix)).startswith(
        "the largest batch, 4 bags, makes 200 L, and 200 L stays behind"
    )


@pytest.mark.parametrize("least", [0.0, 5.0])
def test_words_for_a_step_that_makes_more_than_the_mixer_holds(yard, mix, least):
    small = yard(usable_volume_l=20.0, least_volume_l=least)
    assert batch_sizes(*small, mix) == []
    assert said(why_no_batch(*small, mix)) == (
        "even a batch of 1/2 bag makes 25 L, more than the usable_volume of 20 L. "
        "Write a smaller bag_step, or take a mixer that holds more."
    )


def test_words_for_steps_that_jump_over_the_room_between_the_limits(yard, mix):
    narrow = yard(usable_volume_l=120.0, least_volume_l=110.0)
    assert batch_sizes(*narrow, mix) == []
    assert said(why_no_batch(*narrow, mix)) == (
        "no step of bags fits: a batch of 2 bags makes 100 L, less than the least_volume of 110 L, "
        "and a batch of 2 1/2 bags makes 125 L, more than the usable_volume of 120 L. Write a smaller bag_step."
    )


def test_words_for_foam_that_outlives_the_pour_life(yard, mix):
    slow = yard(rate_l_min=3.0)
    assert batch_sizes(*slow, mix) == []
    words = said(why_no_batch(*slow, mix))
    assert words.startswith(
        "the smallest batch, 2 bags, takes 30 min from foam to filled moulds (20 min to make and blend 59"
    )
    assert words.endswith("Take a faster foam generator, or shorten pour_time.")
    assert "more than the pour_life of 25 min" in words


def test_words_for_a_pour_that_outlives_the_pour_life_with_any_generator(yard, mix):
    words = said(why_no_batch(*yard(pour_life_min=13.0), mix))
    assert "takes 14 min" in words
    assert words.endswith("more than the pour_life of 13 min. Shorten foam_time or pour_time.")


def test_words_use_the_units_the_site_prints_in(yard, mix):
    assert " gal" in said(why_no_batch(*yard(usable_volume_l=20.0, least_volume_l=5.0, units="US"), mix))


def test_no_words_where_there_is_a_batch(yard, mix):
    assert why_no_batch(*yard(), mix) is None


@pytest.mark.parametrize(
    ("number", "words"),
    [("1/4", "1/4 bag"), ("1", "1 bag"), ("3/2", "1 1/2 bags"), ("4", "4 bags"), ("0", "0 bags")],
)
def test_bags_are_counted_as_in_the_yard(number, words):
    assert in_bags(Fraction(number)) == words


@settings(deadline=None)  # the first words load the units
@given(
    dry=st.floats(300, 1050),
    ratio=st.floats(0.30, 0.8),
    step=st.fractions(Fraction(1, 8), 2, max_denominator=8),
    usable=st.floats(20, 500),
    part=st.floats(0, 1),
    rate=st.floats(1, 100),
    left=st.floats(0, 50),
)
def test_every_size_keeps_every_limit_and_words_come_exactly_when_there_is_none(
    yard, dry, ratio, step, usable, part, rate, left
):
    mix = proportions(oven_dry_density_kg_m3=dry, slurry_water_cement=ratio, foam_density_kg_m3=95)
    site, mixer = yard(
        bag_step=step, usable_volume_l=usable, least_volume_l=part * usable, rate_l_min=rate, left_behind_l=left
    )
    sizes = batch_sizes(site, mixer, mix)
    assert (why_no_batch(site, mixer, mix) is not None) == (not sizes)
    assert [size.bags for size in sizes] == sorted({size.bags for size in sizes})
    for size in sizes:
        assert size.bags % step == 0
        assert size.yield_l == pytest.approx(float(size.bags) * 25 / mix.cement_kg * 1000)
        assert part * usable - 1e-6 <= size.yield_l <= usable + 1e-6
        assert size.foam_min >= max(mixer.foam_time_min, (size.foam_l - 1e-5) / rate)
        assert size.foam_to_poured_min <= site.pour_life_min
        masses = size.cement_kg + size.slurry_water_kg + size.foam_kg
        assert masses == pytest.approx(mix.wet_density_kg_m3 * size.yield_l / 1000, rel=1e-9)
