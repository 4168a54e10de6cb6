"""The curves of strength with age, against the plain functions and against small steps."""

import numpy as np
import pytest

from blockrun.cure import age_factor, hyperbola
from blockrun.cure.curves import EuropeanCurve, Hyperbola, curve_of
from blockrun.errors import OutOfRange

DAYS = np.array([0.3, 1.0, 7.0, 28.0, 90.0])


def test_a_share_is_that_of_the_plain_function():
    european = np.exp(EuropeanCurve().log_share(DAYS, 0.30))
    assert european == pytest.approx([age_factor(days, 0.30) for days in DAYS])
    share = np.exp(Hyperbola().log_share(DAYS, np.log(0.2)))
    assert share == pytest.approx([hyperbola(days, 1, 0.2) / hyperbola(28, 1, 0.2) for days in DAYS])


@pytest.mark.parametrize(("curve", "shape"), [(EuropeanCurve(), 0.38), (Hyperbola(), -1.8)])
def test_a_slope_is_what_a_small_step_of_the_shape_makes(curve, shape):
    step = (curve.log_share(DAYS, shape + 1e-6) - curve.log_share(DAYS, shape - 1e-6)) / 2e-6
    assert curve.slope(DAYS, shape) == pytest.approx(step, abs=1e-7)


def test_a_site_names_its_curve():
    assert curve_of("EN", "slow").usual == 0.38
    assert curve_of("EN", "rapid").usual == 0.20
    assert curve_of("hyperbola", "slow") == Hyperbola()


def test_a_hyperbola_begins_at_its_start_and_nears_its_end():
    assert hyperbola(0.2, 5, 0.2, 0.3) == 0
    assert hyperbola(float("inf"), 5, 0.2) == 5
    ages = [hyperbola(days, 5, 0.2) for days in (0, 1, 3, 28, 1000)]
    assert ages == sorted(set(ages))


@pytest.mark.parametrize(
    ("ask", "name"),
    [
        (lambda: hyperbola(7, 0, 0.2), "ultimate"),
        (lambda: hyperbola(7, 1, -0.2), "k"),
        (lambda: hyperbola(-1, 1, 0.2), "t_days"),
        (lambda: hyperbola(7, 1, 0.2, float("nan")), "t_days"),
    ],
)
def test_what_no_hyperbola_has_is_refused(ask, name):
    with pytest.raises(OutOfRange) as refused:
        ask()
    assert refused.value.name == name
