"""What is asked by a day, alone: all that no plan of it can do, no plan of the whole can."""

from __future__ import annotations

from blockrun.optimiser.engine import Effort
from blockrun.planner import make_plan
from blockrun.planner.brief import brief
from blockrun.planner.plan import never
from blockrun.planner.why.clash import Filter
from blockrun.planner.why.goals import Goal, dated_goals, whole_goal
from blockrun.site import Stack
from tests.planner.why.by_hand import a_site, an_order, needed_on


def test_a_day_by_which_all_is_wanted_is_not_taken_for_the_day_on_which_all_is_laid() -> None:
    """A column of two: the first pair is laid on the 12th, so the second is stripped then, and the third poured."""
    site = a_site(stack=Stack(places=1, layers=2))
    order = needed_on(12, 13, 19)
    assert make_plan(site, order, rounds=0).stages[0].value == 0
    finder = Filter(brief(site, order, 40), Effort(1.0, never), lambda _: None)
    assert [finder.short(goal, ()) for goal in dated_goals(finder.asked.problem)] == [0, 0, 0]


def test_the_blocks_of_a_goal_are_those_needed_first_whichever_day_it_is_moved_to() -> None:
    problem = brief(a_site(), needed_on(12, 13, 19), 40).problem
    assert Goal(8, (3,)).needs(problem) == [((7, 2), (8, 1))]
    assert Goal(2, (6,)).needs(problem) == [((7, 2), (8, 2), (14, 2))]


def test_what_is_wanted_for_no_day_is_laid_when_it_is_ready() -> None:
    problem = brief(a_site(), an_order(4, None), 40).problem
    assert whole_goal(problem, 3).needs(problem) == [()]
