"""Strengths by the yard's cubes, whatever cubes they are: later and denser is never weaker, wetter foam never firmer.

Cubes are drawn from a law with scatter; some tell little, and their bands sag where they end.
"""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from scipy.stats import t as student

from blockrun.cure.curves import Curve, EuropeanCurve, Hyperbola
from blockrun.cure.fit import Fit, fit_cubes
from blockrun.cure.reckoning import density_for, hours_for, strength_at_least
from blockrun.errors import BadInput, OutOfRange
from blockrun.mix import proportions
from blockrun.site import Cube
from tests.cure.cubes import cubes, hyperbola, law

DENSITIES = ((250.0, 450.0, 700.0, 1000.0, 1500.0), (500.0, 540.0, 560.0, 700.0), (590.0, 600.0, 610.0))
AGES = ((0.5, 1.0, 3.0, 7.0, 28.0), (2.0, 3.0, 4.0, 28.0))
SURE = st.sampled_from((0.5, 0.8, 0.95, 0.99))


@st.composite
def fits(draw: st.DrawFn) -> Fit:
    """The law of a dozen cubes or so at random densities and ages, with a scatter of up to a half."""
    seed = draw(st.integers(0, 10_000))
    rng, densities, ages = Random(seed), draw(st.sampled_from(DENSITIES)), draw(st.sampled_from(AGES))
    at = [(rng.choice(densities), rng.choice(ages)) for _ in range(draw(st.integers(7, 16)))]
    b, s = draw(st.floats(0, 3)), draw(st.floats(0.02, 0.6))
    made = cubes(at, draw(st.floats(0.0, 0.5)), seed, strength=lambda density, days: law(density, days, b=b, s=s))
    try:
        return fit_cubes(made, curve=draw(st.sampled_from((EuropeanCurve(), Hyperbola()))))
    except BadInput:
        assume(False)
        raise


def between(values: np.ndarray, share: float) -> float:
    return float(values.min() + share * (values.max() - values.min()))


shares = st.floats(0, 1)


@given(fits(), shares, shares, shares, SURE)
@settings(max_examples=300)
def test_later_is_never_weaker(fit: Fit, heavy: float, one: float, other: float, sure: float) -> None:
    density = between(fit.tests.density_kg_m3, heavy)
    sooner, later = sorted(24 * between(fit.tests.age_d, share) for share in (one, other))
    assert strength_at_least(fit, density, later, sure, units="SI") >= strength_at_least(
        fit, density, sooner, sure, units="SI"
    ) * (1 - 1e-9)


@given(fits(), shares, shares, shares, SURE)
@settings(max_examples=300)
def test_denser_is_never_weaker(fit: Fit, old: float, one: float, other: float, sure: float) -> None:
    age_h = 24 * between(fit.tests.age_d, old)
    light, dense = sorted(between(fit.tests.density_kg_m3, share) for share in (one, other))
    event(f"the band sags: {bool((fit.firmest_kg_m3(fit.tests.age_d, sure) < fit.tests.density_kg_m3.max()).any())}")
    assert strength_at_least(fit, dense, age_h, sure, units="SI") >= strength_at_least(
        fit, light, age_h, sure, units="SI"
    ) * (1 - 1e-9)


@given(fits(), shares, shares, shares, SURE)
def test_a_denser_mix_has_a_strength_no_later(fit: Fit, much: float, one: float, other: float, sure: float) -> None:
    light, dense = sorted(between(fit.tests.density_kg_m3, share) for share in (one, other))
    mpa = float(fit.strength_mpa(light, between(fit.tests.age_d, much), sure))
    try:
        by_light = hours_for(fit, mpa, light, sure, units="SI").hours
    except OutOfRange:
        assume(False)
    assert hours_for(fit, mpa, dense, sure, units="SI").hours <= by_light


@given(fits(), shares, SURE)
def test_the_density_for_a_strength_has_it(fit: Fit, much: float, sure: float) -> None:
    oldest_h = 24 * float(fit.tests.age_d.max())
    mpa = float(fit.strength_mpa(between(fit.tests.density_kg_m3, much), oldest_h / 24, sure))
    density = density_for(fit, mpa * (1 - 1e-9), oldest_h, sure, units="SI")
    assert strength_at_least(fit, density, oldest_h, sure, units="SI") >= mpa * (1 - 1e-6)


@given(
    fits(),
    st.floats(500, 1400),
    st.floats(0.45, 0.9),
    st.floats(30, 120),
    st.floats(0, 60),
    st.sampled_from(("slurry_water_cement", "water_cement")),
    SURE,
)
@settings(max_examples=200)
def test_wetter_foam_at_one_wet_density_never_makes_a_stronger_mix(
    fit: Fit, wet: float, ratio: float, foam: float, wetter: float, water: str, sure: float
) -> None:
    """By either way of telling the water: it comes in the place of cement, or of slurry water."""

    def dry(foam_kg_m3: float) -> float:
        try:
            mix = proportions(wet_density_kg_m3=wet, foam_density_kg_m3=foam_kg_m3, **{water: ratio})
        except OutOfRange:
            assume(False)
        return mix.oven_dry_density_kg_m3

    drier_foam, wetter_foam = dry(foam), dry(foam + wetter)
    lightest, heaviest = fit.tests.density_kg_m3.min(), fit.tests.density_kg_m3.max()
    assume(lightest <= wetter_foam and drier_foam <= heaviest)
    oldest_h = 24 * float(fit.tests.age_d.max())
    event(water)
    assert strength_at_least(fit, wetter_foam, oldest_h, sure, units="SI") <= strength_at_least(
        fit, drier_foam, oldest_h, sure, units="SI"
    ) * (1 + 1e-9)


@given(
    st.floats(0.5, 60),
    st.floats(0.3, 6),
    st.floats(0.08, 1.3),
    st.lists(st.floats(250, 1600), min_size=3, max_size=3, unique=True),
    st.lists(st.floats(0.4, 60), min_size=3, max_size=3, unique=True),
    st.booleans(),
)
def test_cubes_made_by_a_law_give_its_numbers_back(
    a: float, b: float, shape: float, densities: list[float], ages: list[float], european: bool
) -> None:
    assume(max(densities) > 1.2 * min(densities))
    assume(all(later > 1.5 * sooner for sooner, later in zip(sorted(ages), sorted(ages)[1:], strict=False)))

    def share(days: float) -> float:
        return math.exp(shape * (1 - math.sqrt(28 / days))) if european else hyperbola(days, shape)

    made = [
        Cube(density, a * (density / 1000) ** b * share(days), equivalent_age_h=24 * days)
        for density in densities
        for days in ages
    ]
    curve: Curve = EuropeanCurve() if european else Hyperbola()
    fit = fit_cubes(made, curve=curve)
    log_a, power, found = fit.numbers
    assert (math.exp(log_a), power, found if european else math.exp(found)) == pytest.approx((a, b, shape), rel=1e-4)


TRUTH = (math.log(4.0), 2.2, 0.38)
"""ln a, b and s of the law behind `tests.cure.cubes`."""


@pytest.mark.parametrize("sure", [0.8, 0.95])
def test_intervals_of_the_numbers_hold_the_truth_as_often_as_they_say(sure: float) -> None:
    """Of 1000 makings of a dozen cubes, each of the three numbers lies within its interval, give or take 3.5 s."""
    held, n = np.zeros(3), 1000
    for seed in range(n):
        fit = fit_cubes(cubes(scatter=0.25, seed=seed))
        wide = student.ppf((1 + sure) / 2, 12 - 3) * fit.scatter * np.sqrt(np.diag(fit.unsure))
        held += np.abs(fit.numbers - TRUTH) <= wide
    assert held / n == pytest.approx(sure, abs=3.5 * math.sqrt(sure * (1 - sure) / n))


@pytest.mark.parametrize("sure", [0.5, 0.8, 0.95])
def test_bands_are_passed_by_the_share_of_new_cubes_that_they_say(sure: float) -> None:
    """New cubes at random densities and ages within those tested: 1500 of them, give or take 3.5 s."""
    rng, passed, n = Random(7), 0, 1500
    for seed in range(n):
        density, days = rng.uniform(500, 750), math.exp(rng.uniform(0, math.log(28)))
        new = law(density, days) * math.exp(rng.gauss(0, 0.25))
        passed += new > fit_cubes(cubes(scatter=0.25, seed=seed)).strength_mpa(density, days, sure)
    assert passed / n == pytest.approx(sure, abs=3.5 * math.sqrt(sure * (1 - sure) / n))
