"""Orders derived from a plan that exists: that no plan is found, or that no plan can be so good, is a failure."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from blockrun.planner import Plan, make_plan
from blockrun.planner.audit import audit
from tests.bench.rule import Worked, work
from tests.bench.written import stages_of, tables_of
from tests.properties.orders import just_in_time
from tests.yards import a_yard

SEEDS = (100, 101, 102, 103, 105, 106, 113, 115, 117, 119)
LOOKS = 2
seeds = pytest.mark.parametrize("seed", SEEDS)


@cache
def known(seed: int) -> Worked:
    """A plan of the foreman's, kept to, with every block needed just when he has it ready."""
    yard = a_yard(seed, (4, 15))
    worked = work(yard.site, yard.order)
    return Worked(worked.site, just_in_time(worked), worked.batches, worked.turns)


@cache
def planned(seed: int) -> Plan:
    worked = known(seed)
    return make_plan(worked.site, worked.order, rounds=0)


@seeds
def test_what_the_foreman_has_ready_in_time_is_late_by_nothing(seed: int) -> None:
    worked = known(seed)
    tables = tables_of(worked)
    stages = stages_of(worked, tables)
    assert audit(worked.site, worked.order, tables, list(stages)) == []
    assert stages[0].value == 0


@seeds
def test_a_plan_is_found_and_the_audit_passes_it(seed: int) -> None:
    plan = planned(seed)
    assert audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals) == []


@seeds
def test_no_bound_is_above_what_is_known_to_work(seed: int) -> None:
    # a bound holds for all plans that are as good in every stage before it
    for stage, reached in zip(planned(seed).stages, reached_by(known(seed)), strict=True):
        assert not as_number(stage.bound) > as_number(reached) + 1e-6, stage.stage
        if stage.value != reached:
            break


@pytest.mark.parametrize("seed", [100, 113])
def test_looking_ahead_finds_the_plan_that_is_late_by_nothing(seed: int) -> None:
    worked = known(seed)
    plan = make_plan(worked.site, worked.order, rounds=LOOKS)
    assert [stage.value for stage in plan.stages[:2]] == reached_by(worked)[:2]


def reached_by(worked: Worked) -> list[int | float | date]:
    return [stage.value for stage in stages_of(worked, tables_of(worked))]


def as_number(reached: int | float | date) -> float:
    return reached.toordinal() if isinstance(reached, date) else reached
