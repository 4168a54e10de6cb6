"""blockrun against the foreman on small yards: never worse, and never sure of a bound that he passes."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.planner.audit import audit
from tests.bench.against import Match, bounds_passed, match
from tests.bench.foreman import HEADS, rows_of
from tests.yards import a_yard

SEEDS = range(20)
BLOCKS = (8, 20)


@cache
def played(seed: int) -> Match:
    return match(a_yard(seed, BLOCKS), rounds=1)


@pytest.mark.parametrize("seed", SEEDS)
def test_blockrun_is_never_worse_than_the_foreman(seed: int) -> None:
    assert played(seed).ours <= played(seed).his


@pytest.mark.parametrize("seed", SEEDS)
def test_the_foreman_never_does_better_than_what_is_called_best_possible(seed: int) -> None:
    assert bounds_passed(played(seed)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_the_audit_finds_nothing_in_the_plan(seed: int) -> None:
    plan = played(seed).plan
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []


def test_the_table_has_a_row_for_each_of_both_and_for_the_bounds() -> None:
    rows = list(rows_of(played(SEEDS[0])))
    assert [row[2] for row in rows] == ["foreman", "blockrun", "best possible"]
    assert {len(row) for row in rows} == {len(HEADS)}
