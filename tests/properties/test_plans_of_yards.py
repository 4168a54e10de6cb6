"""Laws that hold of every plan, on yards invented from a seed."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from random import Random

import pytest

from blockrun.order import Order, digest_order, takeoff
from blockrun.planner import Plan, Progress, make_plan
from blockrun.planner.audit import Finding, audit
from blockrun.site import Site
from tests.properties.orders import written_order
from tests.yards import Yard, a_yard
from tests.yards_more import a_yard_with_more

FEW = (4, 15)
QUICK = (116, 103, 104, 105, 106, 107, 108, 110, 111, 115)
"""Yards planned in a second or so each: one mixer and two, with bases and without, late and in time."""

WITH_MORE = (9, 1, 7, 17, 8, 13, 15, 24, 26, 28)
MORE_BLOCKS = (4, 25)

yards = pytest.mark.parametrize("seed", QUICK)


def few_blocks(seed: int) -> Yard:
    return a_yard(seed, FEW)


def quick(site: Site, order: Order) -> Plan:
    return make_plan(site, order, rounds=0)


@cache
def planned(seed: int) -> Plan:
    yard = few_blocks(seed)
    return quick(yard.site, yard.order)


def audited(plan: Plan) -> list[Finding]:
    return audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals)


@yards
def test_the_audit_finds_nothing_in_a_plan(seed: int) -> None:
    assert audited(planned(seed)) == []


@cache
def planned_with_more(seed: int) -> Plan:
    yard = a_yard_with_more(seed, MORE_BLOCKS)
    return quick(yard.site, yard.order)


@pytest.mark.xdist_group("yards with more")
@pytest.mark.parametrize("seed", WITH_MORE)
def test_the_audit_finds_nothing_where_slabs_are_sawn_and_test_cubes_cast(seed: int) -> None:
    assert audited(planned_with_more(seed)) == []


@pytest.mark.xdist_group("yards with more")
def test_yards_with_more_have_slabs_of_use_and_test_cubes() -> None:
    plans = [planned_with_more(seed) for seed in WITH_MORE[:4]]
    assert sum(len(plan.tables.sawing) for plan in plans) > 10
    assert sum(len(plan.tables.cubes) for plan in plans) > 1


@pytest.mark.parametrize("seed", [8])
def test_the_audit_finds_nothing_after_looking_ahead(seed: int) -> None:
    yard = a_yard(seed)
    plan = make_plan(yard.site, yard.order, rounds=1)
    assert audited(plan) == []


@yards
def test_a_stage_is_proven_exactly_when_its_bound_is_its_value(seed: int) -> None:
    for stage in planned(seed).stages:
        assert stage.proven == (stage.bound == stage.value)
        assert type(stage.bound) is type(stage.value)


@yards
def test_the_first_stage_that_is_not_proven_is_worse_than_its_bound(seed: int) -> None:
    open_stages = [stage for stage in planned(seed).stages if not stage.proven]
    if open_stages:
        first = open_stages[0]
        assert first.bound < first.value  # type: ignore[operator]  # one kind of number, or two dates


@yards
def test_a_search_stopped_at_its_first_plan_hands_over_a_plan_the_audit_passes(seed: int) -> None:
    yard = few_blocks(seed)
    seen: list[Progress] = []

    def hear(progress: Progress) -> None:
        if progress.value is not None:
            seen.append(progress)

    stopped = make_plan(yard.site, yard.order, rounds=0, progress=hear, stop=lambda: bool(seen))
    assert audited(stopped) == []
    first, best = stopped.stages[0], planned(seed).stages[0]
    assert best.value <= first.value  # type: ignore[operator]  # whole block-days
    assert first.bound <= best.value  # type: ignore[operator]


@pytest.mark.parametrize("seed", [116, 104, 108, 110])
def test_the_order_of_the_rows_never_matters(seed: int, tmp_path: Path) -> None:
    yard = few_blocks(seed)
    as_written = written_order(yard.order, tmp_path)
    shuffled = written_order(yard.order, tmp_path, lambda rows: Random(seed).sample(rows, len(rows))[::-1])
    calendar = yard.site.calendar
    assert digest_order(shuffled, takeoff(shuffled, calendar)) == digest_order(
        as_written, takeoff(as_written, calendar)
    )
    one, other = quick(yard.site, as_written), quick(yard.site, shuffled)
    assert one.stages == other.stages == planned(seed).stages
    assert one.totals == other.totals
    assert one.tables.casts.equals(other.tables.casts)


@pytest.mark.parametrize("seed", [116, 103, 104, 105, 108])
def test_one_more_mould_never_worsens_a_proven_lateness(seed: int) -> None:
    yard, late = few_blocks(seed), planned(seed).stages[0]
    for number, kind in enumerate(yard.site.moulds):
        bases = None if kind.bases is None else kind.bases + 1
        more = kind.model_copy(update={"count": kind.count + 1, "bases": bases})
        moulds = (*yard.site.moulds[:number], more, *yard.site.moulds[number + 1 :])
        richer = quick(yard.site.model_copy(update={"moulds": moulds}), yard.order).stages[0]
        assert richer.bound <= late.value, kind.kind  # type: ignore[operator]  # whole block-days
        if richer.proven:
            assert richer.value <= late.value, kind.kind  # type: ignore[operator]
