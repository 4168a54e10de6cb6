"""What is proved of whole invented yards is never beaten by a plan that was found."""

from __future__ import annotations

import pytest

from blockrun.planner.make import make_plan
from blockrun.planner.why.explain import explain
from blockrun.planner.why.held import held
from tests.yards import Yard, a_yard
from tests.yards_more import a_yard_with_a_stack


@pytest.mark.parametrize("seed", [7, 12, 13])
def test_no_plan_is_sooner_than_what_is_proved(seed: int) -> None:
    check(a_yard(seed, (10, 40)))


@pytest.mark.parametrize("seed", [1, 3, 4, 5, 7, 8, 9, 10])
def test_no_plan_of_a_yard_with_a_stack_is_sooner_than_what_is_proved(seed: int) -> None:
    check(a_yard_with_a_stack(seed, (10, 40)))


def check(yard: Yard) -> None:
    why, plan = explain(yard.site, yard.order), make_plan(yard.site, yard.order, rounds=0)
    late, finish = plan.stages[0].value, plan.stages[1].value
    there = {(each.part, each.course, each.needed): each.there for each in held(plan).courses}
    assert late or not why.late
    assert all(there[each.part, each.course, each.needed] >= each.soonest for each in why.courses)
    assert why.finish is None or why.finish.clash.by < finish  # type: ignore[operator]
    assert why.late or why.finish
