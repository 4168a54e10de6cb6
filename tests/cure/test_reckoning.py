"""From a strength to an age and a density, by the lower band of cubes, and never outside them."""

import re
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.cure import reckoning
from blockrun.cure.fit import fit_cubes
from blockrun.errors import OutOfRange
from tests.cure.cubes import cubes, law

EXACT = fit_cubes(cubes())
SCATTERED = fit_cubes(cubes(scatter=0.15, times=2))
FEW = fit_cubes(
    cubes(
        [(590 + n, days) for n, days in enumerate((3, 3, 4, 4, 5, 28))],
        scatter=0.3,
        seed=9,
        strength=lambda density, days: law(density, days, s=0.1),
    )
)
"""So few that its band sags after the first week."""

fits = st.sampled_from((EXACT, SCATTERED, FEW))
density_for = partial(reckoning.density_for, units="SI")
hours_for = partial(reckoning.hours_for, units="SI")
strength_at_least = partial(reckoning.strength_at_least, units="SI")


def test_an_age_is_the_first_quarter_hour_at_which_the_band_is_there():
    """Without scatter the band is the law, so it can be inverted by hand: 0.5 MPa of 600 kg/m3."""
    reckoned = hours_for(EXACT, 0.5, 600)
    assert law(600, reckoned.hours / 24) >= 0.5 > law(600, reckoned.hours / 24 - 0.25 / 24)
    assert reckoned.cubes == "12 cubes"
    assert not reckoned.at_youngest


def test_a_density_is_the_least_of_which_the_band_is_there():
    density = density_for(EXACT, 1.5)
    assert law(density, 28) >= 1.5 - 1e-9
    assert law(density - 0.5, 28) < 1.5


def test_scatter_and_asking_to_be_surer_make_it_later_and_denser():
    hours = [hours_for(SCATTERED, 0.4, 600, sure).hours for sure in (0.5, 0.8, 0.95, 0.99)]
    densities = [density_for(SCATTERED, 1.0, sure=sure) for sure in (0.5, 0.8, 0.95)]
    assert hours == sorted(set(hours))
    assert densities == sorted(set(densities))


@given(fits, st.floats(590, 595), st.floats(72, 672), st.floats(0, 600))
@settings(max_examples=60, deadline=None)
def test_later_is_never_weaker(fit, density, age_h, more_h):
    later = min(672.0, age_h + more_h)
    assert strength_at_least(fit, density, later) >= strength_at_least(fit, density, age_h) - 1e-12


def test_a_band_that_sags_is_held_level():
    at_8_days, at_28_days = FEW.strength_mpa(593, [8, 28], 0.95)
    assert at_28_days < at_8_days <= strength_at_least(FEW, 593, 28 * 24)


@given(fits, st.floats(590, 595), st.floats(0.1, 2.5), st.floats(0.01, 1))
@settings(max_examples=60, deadline=None)
def test_more_strength_is_never_there_sooner(fit, density, mpa, more):
    def hours(strength):
        try:
            return hours_for(fit, strength, density).hours
        except OutOfRange:
            return float("inf")

    assert hours(mpa + more) >= hours(mpa)


@given(st.floats(500, 750), st.floats(0, 250), st.floats(0.1, 0.3))
@settings(max_examples=40, deadline=None)
def test_a_denser_mix_is_there_no_later(density, more, mpa):
    assert hours_for(EXACT, mpa, min(750, density + more)).hours <= hours_for(EXACT, mpa, density).hours


def test_the_strength_at_the_age_reckoned_is_that_asked_for():
    reckoned = hours_for(SCATTERED, 0.4, 600)
    assert (
        strength_at_least(SCATTERED, 600, reckoned.hours)
        >= 0.4
        > strength_at_least(SCATTERED, 600, reckoned.hours - 0.5)
    )


def test_where_the_youngest_cubes_are_strong_enough_that_age_is_told_and_said():
    reckoned = hours_for(EXACT, 0.01, 600)
    assert reckoned.hours == 24
    assert reckoned.at_youngest


@pytest.mark.parametrize(
    ("ask", "said", "todo"),
    [
        (lambda: hours_for(EXACT, 0.5, 450), "lightest of the 12 cubes tested has 500 kg/m3 dry, and the mix 450",
         "Cast and test cubes of 450 kg/m3 dry."),
        (lambda: hours_for(EXACT, 0.5, 800), "heaviest of the 12 cubes tested has 750 kg/m3 dry", "800 kg/m3"),
        (lambda: hours_for(EXACT, 5, 600), "5 MPa is not reached: 95 % of cubes of 600 kg/m3 dry pass 1.3 MPa at 28 d",
         "test older cubes"),
        (lambda: strength_at_least(EXACT, 600, 12), "youngest of the 12 cubes was tested at 1 d at 20 degC, and 12 h",
         "Test cubes at 12 h."),
        (lambda: strength_at_least(EXACT, 600, 2400), "oldest of the 12 cubes", "Test cubes at 100 d"),
        (lambda: density_for(EXACT, 5), "5 MPa is not reached", "denser"),
        (lambda: density_for(EXACT, 1, age_h=12), "youngest of the 12 cubes", "Test cubes at 12 h."),
    ],
)  # fmt: skip
def test_outside_the_cubes_it_says_which_to_test(ask, said, todo):
    with pytest.raises(OutOfRange) as refused:
        ask()
    assert said in refused.value.what
    assert todo in refused.value.todo


def test_a_density_that_no_cube_has_asks_for_denser_ones_not_for_older_ones_where_there_are_some():
    fit = fit_cubes(cubes([(density, days) for density in (500, 600, 750) for days in (1, 28, 90)]))
    with pytest.raises(OutOfRange, match=r"at 28 d at 20 degC, by the 9 cubes tested") as refused:
        density_for(fit, 5)
    assert refused.value.todo == "Ask for less, cast a denser mix, or test denser cubes."


def test_scales_and_a_note_of_the_hour_come_no_nearer_than_a_fiftieth():
    assert hours_for(EXACT, 0.3, 491).hours > hours_for(EXACT, 0.3, 500).hours
    assert hours_for(EXACT, 0.3, 764) == hours_for(EXACT, 0.3, 750)
    assert strength_at_least(EXACT, 600, 24 * 28.5) == strength_at_least(EXACT, 600, 24 * 28)


def test_cubes_of_four_weeks_are_told_as_such_and_their_strength_to_two_digits():
    """28 days by EN 1992-1-1 at 20 degC, whose factor is 0.998 there, are 27 d 22 h 44 min."""
    fit = fit_cubes(cubes([(density, days) for density in (500, 600, 750) for days in (1, 3, 7, 27.9472)]))
    with pytest.raises(OutOfRange) as refused:
        hours_for(fit, 5, 620)
    assert re.search(r"dry pass \d\.\d MPa at 28 d at 20 degC", refused.value.what)
