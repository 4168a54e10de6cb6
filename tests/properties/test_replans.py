"""Invented yards in which things go wrong, planned anew in the middle: the audit passes it all."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from functools import cache
from random import Random

import pytest

from blockrun.planner.audit import audit
from blockrun.planner.begun import Begun
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.went import Wrong, as_planned_of, went
from tests.yards import a_yard
from tests.yards_more import a_yard_with_a_stack, a_yard_with_more

SEEDS = [22, 25, 62, 208, 310, *range(100, 103)]


@cache
def planned(seed: int) -> Plan:
    """Every third yard has slabs, test cubes and the like, every fourth little ground for a stack."""
    maker = a_yard_with_more if seed % 3 == 1 else a_yard_with_a_stack if seed % 4 == 2 else a_yard
    yard = maker(seed)
    return make_plan(yard.site, yard.order, rounds=0)


def a_moment(plan: Plan, dice: Random) -> datetime:
    """Some minute from the first pour to the last, in the middle of no batch."""
    batches = plan.tables.batches
    first, last = batches["start"].min().to_pydatetime(), batches["end"].max().to_pydatetime()
    at = first + timedelta(minutes=dice.randrange(1 + (last - first) // timedelta(minutes=1)))
    ends = [row.end.to_pydatetime() for row in batches.itertuples() if row.start <= at < row.end]
    return max([at, *ends])


@cache
def went_wrong(seed: int) -> tuple[Plan, Kept, Begun]:
    """A plan, and what had happened of it by some moment."""
    plan, dice = planned(seed), Random(seed)
    kept = Kept(as_planned_of(plan), plan)
    at = a_moment(plan, dice)
    begun = happened([kept], went(kept.as_planned, at, Wrong.by_chance(kept.as_planned, dice)), at, 2, 1)
    return plan, kept, begun


@cache
def anew(seed: int) -> Plan:
    plan, _, begun = went_wrong(seed)
    poured = frozenset(batch.was for batch in begun.batches)
    stock = plan.site.stock.cement
    # what went flat is made up for: there is cement for it
    more = stock.model_copy(update={"on_hand_bags": stock.on_hand_bags + 50})
    agent = plan.site.stock.foaming_agent
    more_agent = agent.model_copy(update={"on_hand_l": agent.on_hand_l + 20})
    stocked = plan.site.stock.model_copy(update={"cement": more, "foaming_agent": more_agent})
    site = site_begun(plan.site.model_copy(update={"stock": stocked}), begun)
    return make_plan(site, plan.order, rounds=1, on=GoingOn(begun, plan, poured))


seeds = pytest.mark.parametrize("seed", SEEDS)


@seeds
def test_the_audit_passes_a_plan_made_anew_with_what_happened(seed: int) -> None:
    plan = anew(seed)
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals, plan.begun) == []


@seeds
def test_every_good_block_that_was_cast_is_in_it_once(seed: int) -> None:
    begun = went_wrong(seed)[2]
    there = Counter((turn.mould, turn.turn, block.cavity, block.mark) for turn in begun.turns for block in turn.blocks)
    casts = anew(seed).tables.casts
    in_plan = Counter(casts[["mould", "turn", "cavity", "mark"]].itertuples(index=False, name=None))
    assert there <= in_plan
    assert max(in_plan.values()) == 1
