import math

import pytest

from blockrun.cure import age_factor
from blockrun.errors import OutOfRange


def test_strength_at_28_days_is_the_reference():
    assert age_factor(28) == 1
    assert age_factor(28, 0.20) == 1


def test_the_default_cement_is_the_slow_one():
    assert age_factor(3) == age_factor(3, 0.38) < age_factor(3, 0.20)


def test_strength_rises_with_age_from_nothing_to_a_limit():
    factors = [age_factor(days) for days in (1e-4, 0.5, 1, 3, 28, 365, math.inf)]
    assert factors == sorted(factors)
    assert factors[0] < 1e-80
    assert factors[-1] == pytest.approx(math.exp(0.38))


@pytest.mark.parametrize("t_days", [0, -1, float("nan")])
def test_an_age_of_nothing_has_no_strength_to_tell(t_days):
    with pytest.raises(OutOfRange, match="above zero"):
        age_factor(t_days)


@pytest.mark.parametrize(("s", "limit"), [(0.1999, 0.20), (0.3801, 0.38)])
def test_cements_outside_the_classes_are_refused(s, limit):
    with pytest.raises(OutOfRange, match=r"0\.20 to 0\.38") as refused:
        age_factor(7, s)
    assert refused.value.limit == limit
