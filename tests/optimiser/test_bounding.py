"""Bounds are asked for in order, once for a plan, and hold from when they are waited for."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from blockrun.optimiser.best import Best
from blockrun.optimiser.bounding import Bounding
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.score import BATCHES, CEMENT, FINISH, LATE, Score
from tests.optimiser.small import EFFORT, YARD
from tests.optimiser.test_best import kept, plan


@dataclass
class Asked:
    """Which bounds were worked out, for which plan."""

    stages: list[tuple[str, Score]] = field(default_factory=list)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    found = Asked()
    for name in ("late", "finish", "batches", "cement"):

        def worked_out(_: Bounds, best: Score, name: str = name) -> int:
            found.stages.append((name, best))
            return getattr(best, name) - (name == "cement")

        monkeypatch.setattr(Bounds, name, worked_out)
    return found


def bounding() -> tuple[Best, Bounding]:
    best = Best(lambda _: None)
    return best, Bounding(best, Bounds(YARD, Limits(YARD), EFFORT))


def test_late_and_finish_come_first_then_batches_and_cement_and_each_once(asked: Asked) -> None:
    best, of = bounding()
    kept(best, plan(1))
    for _ in range(4):
        of.ask(0, last_day_stands=True)
        of.wait()
    of.close()
    assert [name for name, _ in asked.stages] == ["late", "finish", "batches", "cement"]
    assert [best.bound(stage) for stage in (LATE, FINISH, BATCHES)] == list(best.score.stages[:3])
    assert best.bound(CEMENT) == best.score.cement - 1


def test_nothing_is_known_of_what_was_asked_until_it_is_waited_for(asked: Asked) -> None:
    best, of = bounding()
    kept(best, plan(1))
    of.ask(0, last_day_stands=True)
    of.ask(0, last_day_stands=True)
    assert of.is_asked
    assert of.leads_on
    assert best.bound(FINISH) is None
    of.wait()
    of.close()
    assert not of.is_asked
    assert best.bound(FINISH) == best.score.finish
    assert len(asked.stages) == 2


def test_the_earliest_last_pour_is_worked_out_once_for_all_plans_that_are_as_late(
    asked: Asked, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Best, "reached", lambda *_: False)
    best, of = bounding()
    for days in (2, 1):
        kept(best, plan(days))
        for _ in range(2):
            of.ask(0, last_day_stands=True)
            of.wait()
    of.close()
    assert [(name, of_plan.finish) for name, of_plan in asked.stages if name in ("late", "finish")] == [
        ("late", 2),
        ("finish", 2),
    ]
    assert [of_plan.finish for name, of_plan in asked.stages if name == "batches"] == [2, 1]


def test_a_plan_that_is_better_since_does_not_change_what_was_asked(asked: Asked) -> None:
    best, of = bounding()
    kept(best, plan(2))
    of.ask(0, last_day_stands=True)
    kept(best, plan(1))
    of.wait()
    of.close()
    assert {of_plan.finish for _, of_plan in asked.stages} == {2}
    # a bound of plans that are no later holds for those that end sooner too, and proves that something is wrong
    assert best.bound(FINISH) == 2


def test_batches_are_not_bounded_before_the_last_day_stands(asked: Asked) -> None:
    best, of = bounding()
    kept(best, plan(1))
    for number in range(3):
        of.ask(number, last_day_stands=False)
        of.wait()
    assert [name for name, _ in asked.stages] == ["late", "finish"]
    assert of.asked_in == 0
    assert not of.leads_on
    of.ask(3, last_day_stands=True)
    of.wait()
    of.close()
    assert [name for name, _ in asked.stages][2:] == ["batches", "cement"]
    assert of.asked_in == 3
