"""Whatever becomes of the search: a clear message and the best plan that passes the audit, in time, or none."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

import pytest

from blockrun.errors import BadPlan, NoPlanInTime
from blockrun.order import Order, load_order
from blockrun.planner import Plan, make_plan
from blockrun.planner.audit import audit
from blockrun.planner.beside import Beside, DiedError
from blockrun.planner.columns import COLUMNS
from blockrun.planner.guard import Guard, TimeAllowed
from blockrun.planner.solvers import Apart
from blockrun.site import Site, load_site
from tests.planner import faults

ROOT: Final = Path(__file__).parents[2]

Planned = Callable[..., Plan]


@pytest.fixture(scope="module")
def inputs(small_folder: Path) -> tuple[Site, Order]:
    folder = small_folder / "inputs"
    return load_site(folder / "site.yaml"), load_order(folder / "order.yaml")


@pytest.fixture
def beside() -> Iterator[Beside]:
    with Beside() as process:
        yield process


@pytest.fixture
def planned(inputs: tuple[Site, Order], beside: Beside) -> Planned:
    """Plan with a search that goes wrong."""

    def plan(fault: Callable[..., object], guard: Guard) -> Plan:
        return guard.plan(*inputs, beside, work=faults.HERE + fault.__name__)

    return plan


class Clock:
    """A clock that is set."""

    at = 0.0

    def __call__(self) -> float:
        return self.at

    def set(self, at: float) -> None:
        self.at = at


def guard() -> Guard:
    """One with all the time there is."""
    return Guard(TimeAllowed())


def hurried() -> Guard:
    """One whose time is over as soon as there is a plan."""
    clock = Clock()
    return Guard(TimeAllowed(clock, until=20), progress=lambda _: clock.set(21))


def audited(plan: Plan) -> bool:
    return audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals) == []


@pytest.mark.parametrize("folder", ["tests/plans/small/inputs", "examples/slabs"])
def test_a_search_beside_makes_the_plan_that_one_in_this_process_makes(folder: str, beside: Beside) -> None:
    inputs = load_site(ROOT / folder / "site.yaml"), load_order(ROOT / folder / "order.yaml")
    here, there = make_plan(*inputs, rounds=0), Guard(TimeAllowed(), rounds=0).plan(*inputs, beside)
    assert (here.stages, here.totals, here.warnings) == (there.stages, there.totals, there.warnings)
    assert all(getattr(here.tables, name).equals(getattr(there.tables, name)) for name in COLUMNS)


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (faults.crashes, "it crashed (SIGSEGV)"),
        (faults.is_killed, "it was ended from outside, as when memory runs out"),
        (faults.runs_out_of_memory, "memory ran out"),
        (faults.breaks_down, "ValueError: invalid model: no variable 7"),
    ],
)
def test_a_search_that_dies_leaves_its_best_plan_and_is_told_of(
    planned: Planned, fault: Callable[..., object], said: str
) -> None:
    plan = planned(fault, guard())
    assert plan.warnings[0].startswith(f"The search broke down: {said}. This is the best plan it had found")
    assert audited(plan)


def test_a_search_that_dies_before_a_plan_is_begun_once_more_and_does_little(planned: Planned) -> None:
    plan = planned(faults.crashes_unless_short, guard())
    assert audited(plan)
    assert "The search broke down: it crashed (SIGSEGV)." in plan.warnings[0]


def test_a_search_that_always_dies_is_told_of(planned: Planned) -> None:
    with pytest.raises(DiedError, match="it crashed \\(SIGSEGV\\)"):
        planned(faults.crashes_at_once, guard())


def test_a_search_whose_time_is_over_is_asked_to_stop(planned: Planned) -> None:
    plan = planned(faults.ends_when_asked, hurried())
    assert "it was asked to stop" in plan.warnings[0]


@pytest.mark.parametrize("fault", [faults.hangs, faults.is_frozen])
def test_a_search_that_does_not_end_is_ended_and_its_best_plan_kept(
    planned: Planned, fault: Callable[..., object]
) -> None:
    plan = planned(fault, hurried())
    assert audited(plan)
    assert not any("broke down" in warning for warning in plan.warnings)


def test_a_repeatable_plan_that_takes_longer_than_it_may_is_none(planned: Planned) -> None:
    late = hurried()
    late.repeatable = True
    with pytest.raises(NoPlanInTime, match="planning took longer than --seconds, so not repeatable"):
        planned(faults.hangs, late)


def test_a_search_that_hangs_before_a_plan_is_told_of_as_out_of_time(planned: Planned) -> None:
    with pytest.raises(NoPlanInTime, match="no plan was found in the time given"):
        planned(faults.hangs_at_once, Guard(TimeAllowed(lambda: 21, until=20)))


def test_sawing_that_is_not_settled_in_time_is_told_of_as_out_of_time(beside: Beside) -> None:
    solver = Apart(lambda: True, beside, saws=faults.HERE + faults.saws_for_ever.__name__)
    with pytest.raises(NoPlanInTime, match="no plan was found in the time given"):
        solver.saw([], 0)


def test_a_plan_that_fails_the_audit_gives_way_to_the_best_that_passes(planned: Planned) -> None:
    plan = planned(faults.is_wrong_at_the_end, guard())
    assert audited(plan)
    assert plan.warnings[0].startswith("Our own audit refused the best plan (")


def test_where_no_plan_passes_the_audit_there_is_none(planned: Planned) -> None:
    with pytest.raises(BadPlan, match="its own audit refuses the plan"):
        planned(faults.is_wrong, guard())


# the time


def test_a_search_may_use_all_its_time_where_a_plan_is_soon_finished() -> None:
    clock = Clock()
    time = TimeAllowed(clock, until=20)
    time.expect(300)
    clock.at = 19.9
    assert not time.over()
    clock.at = 20
    assert time.over()


def test_a_search_stops_sooner_by_what_it_takes_to_finish_beyond_what_may_be_overrun() -> None:
    clock = Clock()
    time = TimeAllowed(clock, until=20)
    with time.finishing():
        clock.at = 1.5
    # 3 s for a plan and its saving, 1 s for the search to stop and 0.3 s to spare are 2.3 s more than 2 s
    clock.at = 17.6
    assert not time.over()
    clock.at = 17.8
    assert time.over()
    # without a plan there is nothing to stop for, as long as one can still be saved
    clock.at = 19.4
    assert not time.over(without=True)
    clock.at = 19.5
    assert time.over(without=True)


def test_a_first_plan_is_finished_on_the_way_only_where_there_is_time_for_two() -> None:
    clock = Clock()
    time = TimeAllowed(clock, until=20)
    with time.finishing():
        clock.at = 1.5
    clock.at = 14.6
    assert time.room()
    clock.at = 14.8
    assert not time.room()


def test_without_a_limit_time_is_never_over() -> None:
    assert not TimeAllowed().over()
    assert TimeAllowed().room()
