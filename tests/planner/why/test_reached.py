"""What frees a last pour does so in a plan of the whole order that is no later than without it."""

from __future__ import annotations

from datetime import date

from blockrun.planner.brief import brief
from blockrun.planner.plan import never
from blockrun.planner.why.goals import whole_goal
from blockrun.planner.why.reached import least_late, reached_of
from tests.planner.why.by_hand import GANG, LOW_GANG, a_site, an_order, two_sizes

HORIZON = 40


def test_a_last_pour_is_reached_by_no_plan_that_is_later_than_it_may_be() -> None:
    """Two blocks a day from Monday on, and none is there before the 12th: ten are poured by the 9th, and late."""
    problem = brief(a_site(), an_order(10, date(2027, 4, 12)), HORIZON).problem
    late = least_late(problem, never)
    assert late == 2 * (1 + 2 + 3 + 4)
    goal = whole_goal(problem, 4)
    assert reached_of(problem, [goal], never, late) == 1
    assert reached_of(problem, [goal], never, late - 1) == 0


def test_a_last_pour_is_reached_by_the_whole_order_and_not_by_what_clashes_alone() -> None:
    """Two of A are poured on Monday, and six of B on three days."""
    problem = brief(a_site(moulds=(GANG, LOW_GANG)), two_sizes(("A", 2, None), ("B", 6, None)), HORIZON).problem
    of_a = next(number for number, block in enumerate(problem.formats) if block.demand == 2)
    goals = [whole_goal(problem, day).only([of_a]) for day in (0, 2)]
    assert [reached_of(problem, [goal], never) for goal in goals] == [0, 1]
