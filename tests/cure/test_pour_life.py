from __future__ import annotations

import pytest

from blockrun.cure.pour_life import pour_life_at
from blockrun.planner.plan import Plan


def test_a_mix_that_ages_twice_as_fast_keeps_half_as_long(small_plan: Plan) -> None:
    # EN 1992-1-1 (B.10): exp(-4000/293 + 4000/308) = 1.944 between 20 and 35 degC
    life_min = small_plan.site.pour_life_min
    assert pour_life_at(small_plan.site, 35) == pytest.approx(life_min / 1.944, rel=1e-3)
    assert pour_life_at(small_plan.site, 20) == pytest.approx(life_min)
