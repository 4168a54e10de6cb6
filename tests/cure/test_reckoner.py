"""What the cubes of a site tell: by its own rule of ages, its curve and its margin."""

import subprocess
import sys

import pytest

from blockrun.cure import Reckoner, arrhenius_rate, rule_of
from blockrun.cure.curves import EuropeanCurve, Hyperbola
from blockrun.cure.fit import fit_cubes
from blockrun.cure.reckoning import density_for, hours_for
from blockrun.errors import BadInput
from blockrun.site import Cube, Cubes, Curing
from tests.cure.cubes import cubes, hyperbola

SCATTERED = tuple(cubes(scatter=0.15, times=2))


def curing(tests=SCATTERED, **settings):
    return Curing(
        strip_at_h=24.0, rack_for_min=0, lay_at_min=0, least_air_c=5.0, cubes=tests and Cubes(tests), **settings
    )


def test_ages_and_densities_are_those_of_the_fit_as_sure_as_the_site_asks():
    fit, reckoner = fit_cubes(SCATTERED), Reckoner(curing(sure=0.8), "SI")
    assert reckoner.hours_for(0.4, 600) == hours_for(fit, 0.4, 600, 0.8, units="SI")
    assert reckoner.density_for(1.0) == density_for(fit, 1.0, 672, 0.8, units="SI")


def test_the_curve_is_the_one_the_site_names():
    made = cubes(strength=lambda density, days: 5 * (density / 1000) ** 2 * hyperbola(days, 0.3))
    fit = Reckoner(curing(tuple(made), strength_curve="hyperbola"), "SI").fit()
    assert fit.law.curve == Hyperbola()
    assert fit.scatter < 1e-9


def test_cubes_kept_cold_age_by_the_rule_of_the_site():
    cold = tuple(Cube(600.0 + n, 1.0, age_h=240, cured_c=5) for n in range(6))
    arrhenius = curing(cold, age="arrhenius", activation_energy_kj_mol=45.0)
    assert Reckoner(arrhenius, "SI").fit().tests.age_d[0] == pytest.approx(10 * float(arrhenius_rate(5, 45)))
    assert float(rule_of(arrhenius)(5)) == float(arrhenius_rate(5, 45))


def test_cubes_of_one_age_harden_as_the_site_says():
    one_age = tuple(cubes([(density, 7) for density in (500, 550, 600, 650, 700, 750)]))
    assert Reckoner(curing(one_age), "SI").fit().law.curve == EuropeanCurve(0.38)
    assert Reckoner(curing(one_age, hardening="rapid"), "SI").fit().law.curve == EuropeanCurve(0.20)


def test_without_cubes_there_is_nothing_to_ask():
    with pytest.raises(BadInput, match="the site names none"):
        Reckoner(curing(None), "SI").hours_for(0.5, 600)


def test_who_asks_for_no_strength_waits_for_no_scipy():
    script = (
        "import sys, blockrun.cure, blockrun.planner.ages; print(any(name.startswith('scipy') for name in sys.modules))"
    )
    shown = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert shown.stdout == "False\n"
