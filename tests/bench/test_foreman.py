"""The baseline itself: his plans are real plans, for the audit finds nothing in them."""

from __future__ import annotations

import pytest

from blockrun.planner.audit import audit
from blockrun.site.checks import find_faults
from tests.bench.rule import work
from tests.bench.written import stages_of, tables_of
from tests.yards import a_yard


@pytest.mark.parametrize("seed", range(25))
def test_the_audit_finds_nothing_in_what_the_foreman_does(seed: int) -> None:
    yard = a_yard(seed)
    worked = work(yard.site, yard.order)
    tables = tables_of(worked)
    assert audit(yard.site, yard.order, tables, stages_of(worked, tables)) == []


def test_every_yard_is_one_that_a_site_file_could_describe() -> None:
    assert [fault for seed in range(100) for fault in find_faults(a_yard(seed).site)] == []
