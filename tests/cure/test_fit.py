"""The strength law of cubes: it finds what it was made from, its bands hold what they say, and it knows its limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.cure import age_rate
from blockrun.cure.curves import EuropeanCurve, Hyperbola
from blockrun.cure.fit import fit_cubes
from blockrun.errors import BadInput
from blockrun.site import Cube
from tests.cure.cubes import AT, cubes, hyperbola, law

numbers = {"a": st.floats(1, 40), "b": st.floats(0.5, 5), "s": st.floats(0.1, 1.2)}


@given(**numbers)
@settings(max_examples=40)
def test_cubes_made_by_a_law_give_its_numbers_back(a, b, s):
    fit = fit_cubes(cubes(strength=lambda density, days: law(density, days, a, b, s)))
    assert fit.numbers == pytest.approx((math.log(a), b, s), rel=1e-6, abs=1e-6)
    assert fit.scatter < 1e-9


@given(a=st.floats(1, 40), b=st.floats(0.5, 5), k=st.floats(0.05, 2))
@settings(max_examples=40)
def test_cubes_made_by_a_hyperbola_give_its_numbers_back(a, b, k):
    def strength(density, days):
        return a * (density / 1000) ** b * hyperbola(days, k)

    fit = fit_cubes(cubes(strength=strength), curve=Hyperbola())
    assert fit.numbers == pytest.approx((math.log(a), b, math.log(k)), rel=1e-5, abs=1e-5)


def test_the_law_of_scattered_cubes_is_that_of_ordinary_least_squares():
    """In logarithms the law is linear, so the normal equations give the same numbers and the same band."""
    tests = cubes(scatter=0.15, times=2)
    rows = np.array(
        [[1, math.log(c.dry_density_kg_m3 / 1000), 1 - math.sqrt(28 * 24 / c.equivalent_age_h)] for c in tests]
    )
    logs = np.log([c.strength_mpa for c in tests])
    best = np.linalg.solve(rows.T @ rows, rows.T @ logs)
    fit = fit_cubes(tests)
    assert fit.numbers == pytest.approx(best, rel=1e-9)
    at = np.array([1, math.log(0.55), 1 - math.sqrt(28 / 5)])
    scatter = math.sqrt(((rows @ best - logs) ** 2).sum() / (24 - 3))
    spread = scatter * math.sqrt(1 + at @ np.linalg.inv(rows.T @ rows) @ at)
    # Student's t for 21 degrees of freedom, one side, 95 %: 1.7207 (printed tables)
    assert math.log(fit.strength_mpa(550, 5, 0.95)) == pytest.approx(at @ best - 1.7207 * spread, abs=1e-4)
    assert math.log(fit.strength_mpa(550, 5, 0.05)) == pytest.approx(at @ best + 1.7207 * spread, abs=1e-4)


@pytest.mark.parametrize("curve", [EuropeanCurve(), Hyperbola()])
@pytest.mark.parametrize(("density", "days"), [(500, 1), (620, 5), (750, 28)])
def test_the_lower_band_holds_the_share_of_new_cubes_it_says(curve, density, days):
    """Of 600 makings of a dozen cubes and one more, the new one passes the 90 % band in 90 %, give or take 3.5 s."""

    def strength(density, days):
        return law(density, days) if isinstance(curve, EuropeanCurve) else (
            4 * (density / 1000) ** 2.2 * hyperbola(days, 0.2))  # fmt: skip

    passed = 0
    for seed in range(600):
        *known, new = cubes((*AT, (density, days)), scatter=0.2, seed=seed, strength=strength)
        passed += new.strength_mpa > fit_cubes(known, curve=curve).strength_mpa(density, days, 0.9)
    assert passed / 600 == pytest.approx(0.9, abs=3.5 * math.sqrt(0.9 * 0.1 / 600))


def test_cubes_of_one_density_tell_no_exponent_and_those_of_one_age_no_shape():
    one_density = fit_cubes(cubes([(590 + n, days) for n, days in enumerate((1, 1, 3, 3, 7, 7, 28, 28))]))
    assert not one_density.law.fits_density
    assert one_density.exponent == 0
    assert one_density.numbers[-1] == pytest.approx(0.38, abs=0.02)
    one_age = fit_cubes(cubes([(density, 7) for density in (500, 550, 600, 650, 700, 750)]), curve=EuropeanCurve(0.25))
    assert not one_age.law.fits_age
    assert one_age.law.shape(one_age.numbers) == 0.25
    assert one_age.exponent == pytest.approx(2.2)


@pytest.mark.parametrize("density", [560.0, 590.0, 600.0, 629.0])
@pytest.mark.parametrize("days", [1.0, 28.0])
def test_a_block_lighter_than_the_mean_of_cubes_of_near_one_density_is_not_as_strong_as_that(density, days):
    """Cubes of 600 to 655 kg/m3, most of them heavy: their mean must not stand for the light ones."""
    heavy = [(density, days) for density in (600, 640, 645, 650, 655) for days in (1, 28)]
    steep = cubes(heavy, strength=lambda density, days: law(density, days, b=3.0))
    fit = fit_cubes(steep)
    assert not fit.law.fits_density
    assert fit.strength_mpa(density, days) <= law(density, days, b=3.0) * (1 + 1e-6)
    assert fit.strength_mpa(700, days) == fit.strength_mpa(660, days)


def test_cubes_kept_cold_count_for_less():
    warm = fit_cubes([Cube(600 + n, 1.0, age_h=168) for n in range(6)])
    cold = fit_cubes([Cube(600 + n, 1.0, age_h=168, cured_c=10) for n in range(6)])
    assert warm.tests.age_d[0] == pytest.approx(7 * float(age_rate(20)))
    assert cold.tests.age_d[0] == pytest.approx(7 * float(age_rate(10)))


def test_cubes_that_no_hyperbola_fits_are_refused_in_words():
    """Strength that goes with the square of the age takes k to nought, strength that sinks takes it past all bounds."""
    for power, said in ((2, "strength would grow by the day without end"), (-0.5, "older blocks would be no stronger")):
        tests = cubes(strength=lambda density, days, power=power: density / 1000 * days**power)
        with pytest.raises(BadInput, match=f"by these 12 cubes {said}"):
            fit_cubes(tests, curve=Hyperbola())


@pytest.mark.parametrize(
    ("tests", "said"),
    [
        (cubes([(600, 7)] * 5), "5 cubes are too few to tell a strength: 6 are the least"),
        (cubes([(500, 3), (500, 7), (700, 3), (700, 7), (600, 7), (600, 3)]), "6 cubes are too few"),
        (cubes([(500, 3)] * 5 + [(700, 28)] * 5), "the heavy cubes are of one age and the light ones of another"),
        (cubes(strength=lambda density, days: 1000 / density * days), "heavier blocks would be weaker"),
        (cubes(strength=lambda density, days: density / days), "older blocks would be weaker"),
    ],
)
def test_cubes_that_tell_nothing_for_sure_are_refused(tests, said):
    with pytest.raises(BadInput, match=said) as refused:
        fit_cubes(tests)
    assert refused.value.todo
