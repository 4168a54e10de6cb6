"""A plan made anew in the heat: what was poured in it was poured, and what is to come is moved to cooler hours."""

from __future__ import annotations

from blockrun.planner.audit import audit
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.hot_pours import hot_pours
from blockrun.planner.make import make_plan
from blockrun.planner.rows import rows_of
from blockrun.site import Weather
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.begun import WED, begun


def test_batches_to_come_are_moved_to_the_cool_and_those_that_were_poured_are_no_fault(small_kept: Kept) -> None:
    """Foam and pour take 14 min; of 16, 14 are left up to 33 degC: until half past eight, at 27 to 41 degC."""
    facts, plan = begun(small_kept), small_kept.plan
    heat = {"weather": Weather(plan.site.calendar.start, ((27.0, 41.0),) * 30), "pour_life_min": 16.0}
    site = site_begun(plan.site, facts).model_copy(update=heat)
    before = {one.batch for one in hot_pours(site, rows_of(plan.tables.batches))}
    assert before & {batch.was for batch in facts.batches}
    assert before - {batch.was for batch in facts.batches}
    on = GoingOn(facts, plan, frozenset(batch.was for batch in facts.batches))
    anew = make_plan(site, plan.order, rounds=1, on=on)
    assert audit(anew.site, anew.order, anew.tables, anew.stages, anew.totals, anew.begun) == []
    hot = hot_pours(site, rows_of(anew.tables.batches))
    assert hot
    assert all(one.start < WED for one in hot)
