"""The foreman and blockrun on the same yard: what each reaches in the four stages, and in what time."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from time import perf_counter
from typing import TypeVar

from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.tables import Stage
from tests.bench.rule import Worked, work
from tests.bench.written import stages_of, tables_of
from tests.yards import Yard, blocks_of

Reached = tuple[int | float | date, ...]
T = TypeVar("T")


@dataclass(frozen=True)
class Match:
    """One yard: the stages of both, and seconds."""

    name: str
    blocks: int
    foreman: tuple[Stage, ...]
    plan: Plan
    foreman_s: float
    plan_s: float

    @property
    def his(self) -> Reached:
        """What the foreman reaches."""
        return values_of(self.foreman)

    @property
    def ours(self) -> Reached:
        """What blockrun reaches."""
        return values_of(self.plan.stages)


def match(yard: Yard, rounds: int = 3, longest_s: float = math.inf) -> Match:
    """Let both plan a yard; blockrun stops looking for better after so many seconds."""
    worked, foreman_s = _timed(lambda: work(yard.site, yard.order))
    until = perf_counter() + longest_s
    plan, plan_s = _timed(lambda: make_plan(yard.site, yard.order, rounds=rounds, stop=lambda: perf_counter() > until))
    return Match(yard.site.name, blocks_of(yard.order), _stages(worked), plan, foreman_s, plan_s)


def values_of(stages: Sequence[Stage]) -> Reached:
    """Values of stages, cement without the noise of adding up floats, so that they can be compared in order."""
    return tuple(round(stage.value, 6) if isinstance(stage.value, float) else stage.value for stage in stages)


def bounds_passed(match: Match) -> list[str]:
    """Stages at which the foreman does better than blockrun says can be done, the stages before being equal."""
    passed = []
    for stage, his, ours in zip(match.plan.stages, match.his, match.ours, strict=True):
        if _below(his, stage.bound):
            passed.append(f"{match.name}: {stage.stage} {his} is better than the best possible, {stage.bound}")
        if his != ours:
            break
    return passed


def _below(value: int | float | date, bound: int | float | date) -> bool:
    if isinstance(value, date) and isinstance(bound, date):
        return value < bound
    assert not isinstance(value, date)
    assert not isinstance(bound, date)
    return value < bound - 1e-6


def _stages(worked: Worked) -> tuple[Stage, ...]:
    return stages_of(worked, tables_of(worked))


def _timed(what: Callable[[], T]) -> tuple[T, float]:
    began = perf_counter()
    done = what()
    return done, perf_counter() - began
