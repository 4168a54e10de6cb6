"""Where all went as planned, what the plan still has goes on from what had happened, and passes the audit with it."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

import pytest

from blockrun.optimiser.state import State
from blockrun.planner.audit import audit
from blockrun.planner.begun import Begun
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.brief import Brief, brief
from blockrun.planner.make import make_plan
from blockrun.planner.tables import PlanTables
from blockrun.planner.write import write_tables
from blockrun.site import Rack
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import BlocksCounted, Counted, Delivered, Fill, Poured
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.going_on import as_planned, claimed, moments
from tests.yard.replan.went import went


def findings(asked: Brief, tables: PlanTables, answer: State, begun: Begun) -> list[str]:
    return [str(one) for one in audit(asked.site, asked.order, tables, claimed(asked, answer), None, begun)]


@pytest.mark.parametrize("nth", range(7))
def test_what_the_plan_still_has_passes_the_audit_with_what_happened(any_kept: Kept, nth: int) -> None:
    asked, answer, begun = as_planned(any_kept, moments(any_kept, 6)[nth])
    assert findings(asked, write_tables(asked, answer), answer, begun) == []


@pytest.mark.parametrize("nth", range(7))
def test_all_blocks_are_where_the_plan_before_had_them(any_kept: Kept, nth: int) -> None:
    asked, answer, _ = as_planned(any_kept, moments(any_kept, 6)[nth])
    columns = ["mark", "mix", "poured", "strip", "rack_to", "ready"]
    now, before = (
        sorted(tables.casts[columns].astype(str).itertuples(index=False, name=None))
        for tables in (write_tables(asked, answer), any_kept.plan.tables)
    )
    assert now == before


def test_a_rack_with_more_blocks_than_places_counts_as_full_until_it_is_not(small_kept: Kept) -> None:
    at = moments(small_kept, 6)[3]
    begun = happened([small_kept], went(small_kept.as_planned, at), at, 2, 1)
    site = site_begun(small_kept.plan.site, begun)
    there = Counter(block.rack for turn in begun.turns if turn.strip for block in turn.blocks)
    site = site.model_copy(update={"racks": tuple(Rack(name=name, places=4) for name in there)})
    asked = brief(site, small_kept.plan.order, 150, begun=begun)
    assert asked.history is not None
    counted = asked.history.state.left_on_rack(asked.problem, asked.history.now)
    assert max(there.values()) > 4
    assert asked.problem.places == counted == 4 * len(there)


def test_a_slab_and_a_filler_that_no_plan_has_were_poured_as_told(slabs_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-05-03T08:00")
    cast = next(cast for cast in slabs_kept.as_planned.casts if cast.mould.startswith("slab"))
    fills = (Fill(mould="slab/02", marks=(cast.mark,) * 3), Fill(mould="small/01", marks=(cast.mark,)))
    told = Entry("extra", at, at.replace(tzinfo=UTC), Poured(batch=1, mix=cast.mix, fills=fills))
    begun = happened([slabs_kept], [told], at, 2, 1)
    on = GoingOn(begun, slabs_kept.plan, frozenset())
    made = make_plan(site_begun(slabs_kept.plan.site, begun), slabs_kept.plan.order, rounds=0, on=on)
    assert [len(turn.blocks) for turn in begun.turns] == [3, 1]
    assert audit(made.site, made.order, made.tables, made.stages, made.totals, made.begun) == []


def test_a_count_may_find_all_blocks_of_a_mark(small_kept: Kept) -> None:
    at = moments(small_kept, 6)[3]
    thin = sum(line.count for line in small_kept.plan.ordered if line.mark == "thin" and line.part)
    found = BlocksCounted(place="rack", name="west", mark="thin", mix="light", count=thin)
    asked, answer, begun = as_planned(small_kept, at, found)
    assert not [line for line in asked.lines if line.mark == "thin" and line.part]
    assert findings(asked, write_tables(asked, answer), answer, begun) == []


def test_stock_was_as_it_was_counted_and_came_on_its_days(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-07T18:00")
    came, counted = Delivered(material="cement", amount=12, lot="K2"), Counted(material="cement", amount=12.5)
    asked, answer, begun = as_planned(small_kept, at, came, counted, Counted(material="foaming agent", amount=1.5))
    tables = write_tables(asked, answer)
    assert findings(asked, tables, answer, begun) == []
    days = tables.materials.set_index(tables.materials["day"].dt.day)
    # 8 bags are there at the start; batches 1 and 2 take 3 1/2 and 3; 1 bag less was counted than is in the books
    assert days["cement_delivered_kg"].loc[[5, 6, 7]].tolist() == [0, 0, 12 * 25]
    assert days["cement_left_kg"].loc[[5, 6, 7]].tolist() == [4.5 * 25, 1.5 * 25, 12.5 * 25]
    assert days["agent_left_l"].loc[7] == 1.5
    # what the batches to come may draw
    assert asked.problem.cement.by(0) == round(12.5 * float(asked.steps_a_bag)) + round(6.5 * float(asked.steps_a_bag))


def test_no_bound_of_a_plan_made_in_a_hurry_is_before_what_can_be(small_kept: Kept) -> None:
    at = moments(small_kept, 6)[3]
    begun = happened([small_kept], went(small_kept.as_planned, at), at, 2, 1)
    site, told = site_begun(small_kept.plan.site, begun), list[object]()
    on = GoingOn(begun, small_kept.plan, frozenset(batch.was for batch in begun.batches))
    made = make_plan(site, small_kept.plan.order, on=on, stop=lambda: bool(told), progress=told.append)
    assert made.stages[1].bound >= at.date()
