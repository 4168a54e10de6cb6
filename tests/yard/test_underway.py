"""A plan that was made anew in the middle of its job is played from where the job stands."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from random import Random

import pytest

from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Rates
from blockrun.planner.write import write_tables
from blockrun.yard.given import setting_of
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.conftest import kept
from tests.yard.replan.going_on import as_planned, claimed, moments
from tests.yard.replan.went import Wrong, went
from tests.yard.rules import Told, breaches, tasks_of, told


def anew(of: Kept, nth: int) -> Plan:
    """What a plan still has at one of seven moments, as a plan made anew then."""
    asked, answer, begun = as_planned(of, moments(of, 6)[nth])
    return replace(
        of.plan,
        site=asked.site,
        tables=write_tables(asked, answer),
        stages=tuple(claimed(asked, answer)),
        begun=begun,
    )


def played(plan: Plan, rates: Rates, run: int = 0) -> Told:
    return told(plan, setting_of(plan, rates), rates, 3, run)


def check_calm(plan: Plan, none: Rates) -> None:
    """Nothing going wrong it is the plan itself, from the moment on at which it was made."""
    calm = played(plan, none)
    late, finish, batches = (stage.value for stage in plan.stages[:3])
    assert plan.begun is not None
    start = plan.site.calendar.start
    assert (calm.outcome.block_days, start + timedelta(days=calm.outcome.last_pour)) == (late, finish)
    assert (calm.outcome.batches, calm.outcome.never, calm.outcome.lost) == (batches, 0, 0)
    minute = plan.site.calendar.minute_of
    rows = [row for row in plan.tables.tasks.itertuples(index=False) if row.start >= plan.begun.since]
    since = minute(plan.begun.since)
    assert tasks_of(event for event in calm.events if event.start >= since) == sorted(
        (minute(r.start), minute(r.end), r.task, r.people) for r in rows
    )


@pytest.mark.parametrize("nth", range(7))
@pytest.mark.parametrize("name", ["small", "slabs", "demo"])
def test_with_nothing_going_wrong_what_is_left_is_played_to_the_minute(name: str, nth: int, none: Rates) -> None:
    check_calm(anew(kept(name), nth), none)


@pytest.mark.parametrize("nth", range(1, 6))
@pytest.mark.parametrize("name", ["small", "slabs", "demo"])
def test_however_much_goes_wrong_from_there_the_rules_are_kept(name: str, nth: int, harsh: Rates) -> None:
    plan = anew(kept(name), nth)
    for run in range(3):
        assert breaches(played(plan, harsh, run)) == []


@pytest.mark.parametrize(("name", "seed"), [("small", 0), ("small", 1), ("small", 2), ("slabs", 3), ("demo", 4)])
def test_what_went_wrong_before_is_behind_it(name: str, seed: int, none: Rates, harsh: Rates) -> None:
    of = kept(name)
    at = moments(of, 6)[2 + seed % 3]
    begun = happened([of], went(of.as_planned, at, Wrong.by_chance(of.as_planned, Random(seed))), at, 2, 1)
    stock = of.plan.site.stock
    cement = stock.cement.model_copy(update={"on_hand_bags": stock.cement.on_hand_bags + 100})
    site = of.plan.site.model_copy(update={"stock": stock.model_copy(update={"cement": cement})})
    on, there = GoingOn(begun, of.plan, frozenset(batch.was for batch in begun.batches)), list[object]()
    made = make_plan(site_begun(site, begun), of.plan.order, on=on, stop=lambda: bool(there), progress=there.append)
    check_calm(made, none)
    assert breaches(played(made, harsh)) == []
