"""The curves of strength with age, against the formulas as they are written and against small steps."""

import numpy as np
import pytest

from blockrun.cure.curves import EuropeanCurve, Hyperbola, curve_of

DAYS = np.array([0.3, 1.0, 7.0, 28.0, 90.0])


def test_a_share_is_that_of_the_formula():
    european = np.exp(EuropeanCurve().log_share(DAYS, 0.30))
    assert european == pytest.approx(np.exp(0.30 * (1 - np.sqrt(28 / DAYS))))
    share = np.exp(Hyperbola().log_share(DAYS, np.log(0.2)))
    assert share == pytest.approx((0.2 * DAYS / (1 + 0.2 * DAYS)) / (5.6 / 6.6))


@pytest.mark.parametrize(("curve", "shape"), [(EuropeanCurve(), 0.38), (Hyperbola(), -1.8)])
def test_a_slope_is_what_a_small_step_of_the_shape_makes(curve, shape):
    step = (curve.log_share(DAYS, shape + 1e-6) - curve.log_share(DAYS, shape - 1e-6)) / 2e-6
    assert curve.slope(DAYS, shape) == pytest.approx(step, abs=1e-7)


def test_a_site_names_its_curve():
    assert curve_of("EN", "slow").usual == 0.38
    assert curve_of("EN", "rapid").usual == 0.20
    assert curve_of("hyperbola", "slow") == Hyperbola()
