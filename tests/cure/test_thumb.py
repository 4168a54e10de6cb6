"""A thumb moves a strip time no further than it can know."""

import itertools

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from blockrun.cure import AgeClock
from blockrun.cure.thumb import (
    FASTEST,
    MARKED,
    SLOWEST,
    SOONEST,
    Pressed,
    ahead_of,
    counting,
    firm_counts_from_h,
    old_enough,
    pace,
)
from blockrun.errors import OutOfRange

STRIP_H = 24.0
ages = st.floats(1, 200)
thumbs = st.sampled_from(["soft", "dents", "firm"])
tests = st.lists(st.builds(Pressed, ages, thumbs), max_size=5)


def of(*pressed):
    return pace([Pressed(age_h, thumb) for age_h, thumb in pressed], STRIP_H)


@pytest.mark.parametrize("pressed", [(), ((10, "soft"),), ((14.4, "dents"),), ((21, "dents"),), ((24, "firm"),)])
def test_a_thumb_that_agrees_with_the_age_changes_nothing(pressed):
    assert of(*pressed) == pace([], STRIP_H)
    assert of(*pressed).factor == 1
    assert of(*pressed).agrees


@pytest.mark.parametrize(
    ("age_h", "thumb", "factor"),
    [
        (24, "dents", 0.75),  # between 0.6 and 0.9 of its age: the middle
        (
            23.04,
            "dents",
            1 - 0.625 * 0.21875,
        ),  # 0.9 of 24 h by 23.04 is 0.9375, the middle 0.78125; 0.625 of a tenth behind
        (24, "soft", (1 / 3 + 0.6) / 2),  # under 0.6, and not under a third
        (20, "firm", 1.2),  # 24 h by 20: the least haste that explains it
        (12, "dents", 1.2),  # 0.6 of 24 h by 12
    ],
)
def test_a_thumb_that_differs_sets_the_pace(age_h, thumb, factor):
    assert of((age_h, thumb)).factor == pytest.approx(factor)


@given(ages)
def test_softer_is_never_faster(age_h):
    factors = [of((age_h, thumb)).factor for thumb in ("soft", "dents", "firm")]
    assert factors == sorted(factors)


@given(ages, st.floats(0, 100), thumbs)
def test_the_same_thumb_later_is_never_faster(age_h, later_h, thumb):
    assert of((age_h + later_h, thumb)).factor <= of((age_h, thumb)).factor


@given(st.floats(MARKED + 1e-6, 3))
def test_a_dent_from_nine_tenths_of_its_age_on_is_always_behind(share):
    assert of((share * STRIP_H, "dents")).factor < 1


@given(ages, thumbs)
def test_a_minute_later_makes_no_leap(age_h, thumb):
    minute_h = 1 / 60
    assert of((age_h, thumb)).factor - of((age_h + minute_h, thumb)).factor < 0.05


def counted(*pressed):
    return [(one.age_h, one.thumb) for one in counting([Pressed(*test) for test in pressed], STRIP_H)]


@pytest.mark.parametrize(
    ("pressed", "left"),
    [
        (((24, "dents"), (24.2, "firm")), ((24, "dents"),)),  # no mark minutes after one
        (((24, "dents"), (26.7, "firm")), ((24, "dents"), (26.7, "firm"))),  # a ninth of its age later
        (((20, "firm"), (24, "dents")), ((24, "dents"),)),  # no block gets softer
        (((20, "firm"), (22, "dents"), (23, "soft")), ((23, "soft"),)),
        (((10, "soft"), (18, "dents"), (23, "firm")), ((10, "soft"), (18, "dents"), (23, "firm"))),
    ],
)
def test_a_test_that_a_softer_one_leaves_no_room_for_is_set_aside(pressed, left):
    assert counted(*pressed) == [*left]


@given(tests.filter(bool))
def test_the_softest_always_counts(pressed):
    softest = min(pressed, key=lambda one: (["soft", "dents", "firm"].index(one.thumb), -one.age_h))
    assert softest in counting(pressed, STRIP_H)


def test_firm_counts_again_a_ninth_of_its_age_after_a_dent():
    again_h = firm_counts_from_h([Pressed(24, "dents")])
    assert again_h == pytest.approx(24 * 10 / 9)
    assert len(counted((24, "dents"), (again_h + 1e-6, "firm"))) == 2
    assert len(counted((24, "dents"), (again_h - 1e-6, "firm"))) == 1


@given(tests)
def test_a_pace_stays_within_its_limits_in_any_order(pressed):
    told = pace(pressed, STRIP_H)
    assert SLOWEST <= told.factor <= FASTEST
    assert told == pace(reversed(pressed), STRIP_H)


def test_a_firm_thumb_ends_the_wait_and_a_further_dent_lengthens_it():
    assert of((24, "dents"), (28, "firm")).factor == pytest.approx(24 / 28)
    assert of((24, "dents"), (28, "dents")).factor == of((28, "dents")).factor


def test_thumbs_that_contradict_each_other_follow_the_softer_and_say_so():
    told = of((20, "firm"), (24, "dents"))
    assert not told.agrees
    assert told.factor == of((24, "dents")).factor


@pytest.mark.parametrize(("age_h", "thumb", "factor"), [(6, "firm", FASTEST), (96, "soft", SLOWEST)])
def test_what_no_cement_does_is_believed_to_its_limit_and_said(age_h, thumb, factor):
    told = of((age_h, thumb))
    assert not told.agrees
    assert told.factor == factor


@pytest.fixture
def clock(weather_of, start):
    """At 20 degC."""
    return AgeClock(weather_of((20, 20)), start)


def strip(clock, *pressed, strip_at_h=STRIP_H, poured=600, sooner=True):
    """When a mould is old enough to strip, by its tests in order of their time."""
    aged = [Pressed(clock.age_h(poured, minute), thumb) for minute, thumb in pressed]
    counts = counting(aged, strip_at_h)
    told = pace(counts, strip_at_h)
    left = [one for one, test in zip(pressed, aged, strict=True) if test in counts]
    ahead = ahead_of(counts, strip_at_h) if sooner else 1.0
    return old_enough(clock, poured, strip_at_h, told, left, ahead=ahead, firm_h=firm_counts_from_h(counts))


def test_a_dent_at_the_strip_time_moves_the_strip_by_a_third_of_the_age(clock):
    """24 h at a pace of 0.75 are 32 h reckoned."""
    due = clock.when(600, STRIP_H)
    # the minute of the test is up to one late
    assert strip(clock, (due, "dents")) == pytest.approx(clock.when(600, 32), abs=2)


def test_a_firm_block_is_stripped_from_the_moment_it_was_pressed(clock):
    pressed = clock.when(600, 20)
    assert strip(clock, (pressed, "firm")) == pressed


def test_a_block_firm_much_too_soon_waits_for_four_fifths_of_its_age(clock):
    assert strip(clock, (clock.when(600, 17), "firm")) == clock.when(600, SOONEST * STRIP_H)


def test_a_block_ahead_that_still_dents_waits_for_its_age(clock):
    assert strip(clock, (clock.when(600, 12), "dents")) == clock.when(600, STRIP_H)


def test_firm_and_then_dents_is_not_stripped_sooner(clock):
    assert strip(clock, (clock.when(600, 20), "firm"), (clock.when(600, 21), "dents")) == clock.when(600, STRIP_H)


def test_no_thumb_brings_forward_what_waits_for_a_strength(clock):
    assert strip(clock, (clock.when(600, 20), "firm"), sooner=False) == clock.when(600, STRIP_H)


def test_without_a_thumb_the_strip_stays(clock):
    assert strip(clock) == clock.when(600, STRIP_H)


timed = st.lists(st.tuples(st.integers(700, 6000), thumbs), min_size=1, max_size=3).map(sorted)


@given(timed, st.floats(2, 40))
def test_no_strip_is_before_its_last_thumb_or_before_four_fifths_of_its_age(weather_of, start, pressed, strip_at_h):
    clock = AgeClock(weather_of((5, 15)), start)
    moved = strip(clock, *pressed, strip_at_h=strip_at_h)
    assert moved >= pressed[-1][0]
    assert moved >= clock.when(600, SOONEST * strip_at_h)


@given(st.integers(700, 6000), st.floats(2, 40))
def test_a_softer_thumb_never_strips_sooner(weather_of, start, minute, strip_at_h):
    clock = AgeClock(weather_of((5, 15)), start)
    moved = [strip(clock, (minute, thumb), strip_at_h=strip_at_h) for thumb in ("firm", "dents", "soft")]
    assert moved == sorted(moved)


SOFTER = {"firm": "dents", "dents": "soft", "soft": "soft"}
several = st.lists(st.tuples(st.integers(700, 4000), thumbs), min_size=2, max_size=3, unique_by=lambda one: one[0])


@settings(max_examples=400)
@given(several.map(sorted), st.floats(2, 40), st.data())
@example([(2166, "firm"), (2700, "dents")], 24.0, None)
@example([(1200, "dents"), (2040, "dents"), (2280, "firm")], 24.0, None)
@example([(1200, "firm"), (1800, "firm")], 24.0, None)
def test_softening_one_of_several_thumbs_never_strips_sooner(weather_of, start, pressed, strip_at_h, data):
    clock = AgeClock(weather_of((20, 20)), start)
    n = data.draw(st.integers(0, len(pressed) - 1)) if data else 0
    softened = [*pressed[:n], (pressed[n][0], SOFTER[pressed[n][1]]), *pressed[n + 1 :]]
    assert strip(clock, *pressed, strip_at_h=strip_at_h) <= strip(clock, *softened, strip_at_h=strip_at_h)


def test_a_thumb_that_sinks_in_releases_no_strip_at_the_minute_it_is_pressed(clock):
    """However old: at 80 h it is under 0.6 of its age, and firm by 133 h at the soonest."""
    pressed = clock.when(600, 80)
    assert strip(clock, (pressed, "soft")) == pytest.approx(clock.when(600, 80 / 0.6), abs=2)


def test_a_dent_releases_none_either(clock):
    pressed = clock.when(600, 100)
    assert strip(clock, (pressed, "dents")) == pytest.approx(clock.when(600, 100 / 0.9), abs=2)


@pytest.mark.parametrize(
    ("age_h", "thumb", "said"), [(0, "firm", "age of nothing"), (24, "hard", "hard is not what a thumb shows")]
)
def test_what_is_no_thumb_test_is_refused(age_h, thumb, said):
    with pytest.raises(OutOfRange, match=said):
        of((age_h, thumb))


def test_every_pair_of_thumbs_has_a_pace():
    for one, other in itertools.product(("soft", "dents", "firm"), repeat=2):
        assert of((20, one), (30, other)).factor > 0
