"""From a strength asked for to the age at which, and the density from which on, cubes say that blocks have it.

Strengths are those of the band that a share of cubes passes. A block never weakens with age, nor is a denser one of the
same mix weaker, so where a band sags towards the oldest or the heaviest tests it is held level. Outside the densities
and ages of the cubes nothing is reckoned: the answer is the cube to test.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.curves import STRENGTH_DAY
from blockrun.errors import OutOfRange
from blockrun.units import digits, in_unit, show, show_share, show_time, usual

if TYPE_CHECKING:
    from blockrun.cure.air import Floats
    from blockrun.cure.fit import Fit

SLACK: Final = 0.02
"""Share by which a density or an age may lie outside the tests: as near as scales and a note of the hour come."""

_STEPS_AN_HOUR: Final = 4
_DENSITY_STEP: Final = 0.5
_SPECK: Final = 1e-6
_NEAR: Final = 0.01


@dataclass(frozen=True)
class Reckoned:
    """An age at which blocks have a strength.

    Attributes
    ----------
    hours : at 20 degC, in quarters, rounded up.
    cubes : those it is from, in words: how many, and of which mix where they are of one alone.
    at_youngest : the youngest cubes are stronger already; younger ones would tell an earlier age.
    """

    hours: float
    cubes: str
    at_youngest: bool


def strength_at_least(fit: Fit, density_kg_m3: float, age_h: float, sure: float = 0.95, *, units: str) -> float:
    """Strength in MPa that a share of cubes of a dry density passes at an equivalent age; refusals are in ``units``.

    Raises
    ------
    OutOfRange : the density or the age lies outside the tests; it says which cubes to test.
    """
    _check_density(fit, density_kg_m3, units)
    _check_age(fit, age_h)
    ages_d = _ages_d(fit, age_h / 24)
    return float(_by_age(fit, density_kg_m3, ages_d, sure)[-1])


def hours_for(fit: Fit, strength_mpa: float, density_kg_m3: float, sure: float = 0.95, *, units: str) -> Reckoned:
    """Equivalent age from which on blocks have a strength.

    Parameters
    ----------
    fit : of the yard's cubes.
    strength_mpa : asked for, > 0.
    density_kg_m3 : dry density of the mix.
    sure : share of cubes that are to be stronger at that age.
    units : of what a refusal says, ``SI`` or ``US``.

    Returns
    -------
    The first age among the tests at which the band has that strength.

    Raises
    ------
    OutOfRange : the density lies outside the tests, or the oldest cubes are not strong enough.
    """
    _check_density(fit, density_kg_m3, units)
    ages_d = _ages_d(fit, float(fit.tests.age_d.max()))
    reached = _by_age(fit, density_kg_m3, ages_d, sure) >= strength_mpa
    if not reached.any():
        raise _too_weak(fit, strength_mpa, density_kg_m3, ages_d[-1] * 24, sure, units)
    first = int(np.argmax(reached))
    return Reckoned(
        float(np.ceil(ages_d[first] * 24 * _STEPS_AN_HOUR - _SPECK) / _STEPS_AN_HOUR), fit.cubes, first == 0
    )


def density_for(
    fit: Fit, strength_mpa: float, age_h: float = 24 * STRENGTH_DAY, sure: float = 0.95, *, units: str
) -> float:
    """Least dry density of which blocks have a strength at an equivalent age.

    Parameters
    ----------
    fit : of the yard's cubes.
    strength_mpa : asked for, > 0.
    age_h : hours at 20 degC; 28 days unless told.
    sure : share of cubes that are to be stronger.
    units : of what a refusal says, ``SI`` or ``US``.

    Returns
    -------
    kg/m3, in halves, rounded up, between the lightest and the heaviest cube.

    Raises
    ------
    OutOfRange : the age lies outside the tests, or the heaviest cubes are not strong enough.
    """
    _check_age(fit, age_h)
    lightest, heaviest = span_of(fit.tests.density_kg_m3)
    densities = np.append(np.arange(lightest, heaviest, _DENSITY_STEP), heaviest)
    age_d = min(age_h / 24, float(fit.tests.age_d.max()))
    reached = fit.strength_mpa(densities, age_d, sure) >= strength_mpa
    if not reached.any():
        raise _too_weak(fit, strength_mpa, heaviest, age_d * 24, sure, units)
    return float(min(heaviest, np.ceil(densities[np.argmax(reached)] / _DENSITY_STEP) * _DENSITY_STEP))


def _ages_d(fit: Fit, upto_d: float) -> Floats:
    """Ages from the youngest test on, in quarter hours, and the last one itself; in days."""
    youngest, oldest = span_of(fit.tests.age_d)
    last = min(max(upto_d, youngest), oldest)
    ages: Floats = np.append(np.arange(youngest, last, 1 / (24 * _STEPS_AN_HOUR)), last)
    return ages


def _by_age(fit: Fit, density_kg_m3: float, ages_d: Floats, sure: float) -> Floats:
    """The band at growing ages, never sinking, nor under that of a lighter block."""
    lightest, heaviest = span_of(fit.tests.density_kg_m3)
    firmest = np.maximum(lightest, fit.firmest_kg_m3(ages_d, sure))
    densities = np.minimum(min(density_kg_m3, heaviest), firmest)
    band: Floats = np.maximum.accumulate(fit.strength_mpa(densities, ages_d, sure))
    return band


def span_of(values: Floats) -> tuple[float, float]:
    """The least and the greatest of them."""
    return float(values.min()), float(values.max())


def _check_density(fit: Fit, density_kg_m3: float, units: str) -> None:
    lightest, heaviest = span_of(fit.tests.density_kg_m3)
    if lightest * (1 - SLACK) <= density_kg_m3 <= heaviest * (1 + SLACK):
        return
    limit, end = (lightest, "lightest") if density_kg_m3 < lightest else (heaviest, "heaviest")
    asked, tested = (show(round(density), "density", units) for density in (density_kg_m3, limit))
    raise OutOfRange(
        f"the {end} of the {fit.cubes} tested has {tested} dry, and the mix {asked}",
        f"Cast and test cubes of {asked} dry.",
        name="density", value=density_kg_m3, limit=limit, unit="kg/m3",
    )  # fmt: skip


def _check_age(fit: Fit, age_h: float) -> None:
    youngest, oldest = (24 * age for age in span_of(fit.tests.age_d))
    if youngest * (1 - SLACK) <= age_h <= oldest * (1 + SLACK):
        return
    limit, end = (youngest, "youngest") if age_h < youngest else (oldest, "oldest")
    asked, tested = about(age_h), about(limit)
    raise OutOfRange(
        f"the {end} of the {fit.cubes} was tested at {tested} at 20 degC, and {asked} is asked for",
        f"Test cubes at {asked}.",
        name="age", value=age_h, limit=limit, unit="h",
    )  # fmt: skip


def _too_weak(fit: Fit, strength_mpa: float, density_kg_m3: float, age_h: float, sure: float, units: str) -> OutOfRange:
    best = float(_by_age(fit, density_kg_m3, _ages_d(fit, age_h / 24), sure)[-1])
    share, age = show_share(sure), about(age_h)
    due, has = show(strength_mpa, "strength", units), _shown_down(best, units)
    density = show(round(density_kg_m3), "density", units)
    oldest = age_h / 24 >= float(fit.tests.age_d.max()) * (1 - SLACK)
    return OutOfRange(
        f"{due} is not reached: {share} of cubes of {density} dry pass {has} at {age} at 20 degC, by the {fit.cubes} "
        "tested",
        f"Ask for less, cast a denser mix, or test {'older cubes and denser ones' if oldest else 'denser cubes'}.",
        name="strength", value=strength_mpa, limit=best, unit="MPa",
    )  # fmt: skip


def about(age_h: float) -> str:
    """An age as a yard would say it: whole days where it is within a hundredth of them, else to the minute."""
    days = round(age_h / 24)
    whole = days >= 1 and abs(age_h / 24 - days) <= _NEAR * days
    return show_time(days * 24 * 60 if whole else round(60 * age_h))


def _shown_down(mpa: float, units: str) -> str:
    """A strength to two digits, never more than it is."""
    unit = usual("strength", units)
    strength = in_unit(mpa, "strength", unit)
    step = 10.0 ** (math.floor(math.log10(strength)) - 1)
    return f"{digits(math.floor(strength / step + _SPECK) * step)} {unit}"
