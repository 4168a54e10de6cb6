"""What is asked by a day, alone: all that no plan of it can do, no plan of the whole can."""

from __future__ import annotations

from datetime import date

from blockrun.optimiser.engine import Effort
from blockrun.order import BlockList, Order
from blockrun.planner import make_plan
from blockrun.planner.brief import brief
from blockrun.planner.plan import never
from blockrun.planner.why.clash import Filter
from blockrun.planner.why.goals import dated_goals
from blockrun.site import Stack
from tests.planner.why.by_hand import a_site, an_order


def two_on_each(*days: date) -> Order:
    """Two blocks needed on each of some days."""
    orders = [an_order(2, day) for day in days]
    rows = tuple(row for order in orders for part in order.parts for row in part.blocks.rows)  # type: ignore[union-attr]
    part = orders[0].parts[0].model_copy(update={"blocks": BlockList("north.csv", rows)})
    return orders[0].model_copy(update={"parts": (part,)})


def test_a_day_by_which_all_is_wanted_is_not_taken_for_the_day_on_which_all_is_laid() -> None:
    """A column of two: the first pair is laid on the 12th, so the second is stripped then, and the third poured."""
    site = a_site(stack=Stack(places=1, layers=2))
    order = two_on_each(date(2027, 4, 12), date(2027, 4, 13), date(2027, 4, 19))
    assert make_plan(site, order, rounds=0).stages[0].value == 0
    finder = Filter(brief(site, order, 40), Effort(1.0, never), lambda _: None)
    assert [finder.short(goal, ()) for goal in dated_goals(finder.asked.problem)] == [0, 0, 0]
