"""Numbers of saw plans stay what they were when a plan is made anew."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import SawPlanBefore
from blockrun.planner.saved import load_plan
from blockrun.planner.saw_numbers import layout_of, saw_numbers, saw_plans_before

PLANS = Path(__file__).parents[1] / "plans"
HALVES = layout_of("slab", [(0, 0, 500, 600), (505, 0, 500, 600)])
WHOLE = layout_of("slab", [(0, 0, 1005, 600)])
THIRDS = layout_of("slab", [(0, 0, 330, 600), (335, 0, 330, 600), (670, 0, 330, 600)])


def begun(**numbers: int) -> Begun:
    layouts = {"halves": HALVES, "whole": WHOLE, "thirds": THIRDS}
    before = (SawPlanBefore(number=n, kind="slab", blocks=layouts[name][1]) for name, n in numbers.items())
    return Begun(since=datetime.fromisoformat("2027-05-06T08:50"), saw_plans=tuple(before))


def test_a_first_plan_numbers_its_layouts_as_they_are_cast() -> None:
    assert saw_numbers([HALVES, WHOLE, HALVES], None) == {HALVES: 1, WHOLE: 2}


def test_a_layout_of_the_plan_before_keeps_its_number() -> None:
    assert saw_numbers([WHOLE, HALVES], begun(halves=1, whole=2)) == {WHOLE: 2, HALVES: 1}


def test_a_new_layout_gets_a_number_that_no_plan_before_had() -> None:
    assert saw_numbers([THIRDS, HALVES], begun(halves=1, whole=5)) == {THIRDS: 6, HALVES: 1}


def test_the_same_blocks_in_another_order_are_the_same_layout() -> None:
    assert layout_of("slab", [(505.001, 0, 500, 600), (0, 0, 500, 600)]) == HALVES


def test_all_numbers_that_plans_had_are_kept_for_the_next() -> None:
    plan = load_plan(PLANS / "slabs")
    first = saw_plans_before(plan.tables, None)
    assert [one.number for one in first] == [1, 2, 3, 4, 5]
    gone = SawPlanBefore(number=9, kind="other", blocks=((0, 0, 100, 100),))
    both = Begun(since=datetime.fromisoformat("2027-05-06T08:50"), saw_plans=(*first[1:], gone))
    numbers = {layout_of(one.kind, one.blocks): one.number for one in saw_plans_before(plan.tables, both)}
    assert numbers[layout_of(first[0].kind, first[0].blocks)] == 10
    assert sorted(numbers.values()) == [2, 3, 4, 5, 9, 10]
