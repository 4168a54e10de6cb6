"""Rules on what the plan says of itself: its stages, their bounds, and what is proven."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from numbers import Real
from typing import TYPE_CHECKING

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import figure, near
from blockrun.planner.audit.finding import Rule, Said

if TYPE_CHECKING:
    from blockrun.planner.tables import Stage

STAGE_NAMES = ("block_days_late", "finish", "batches", "cement")
_WORDS = {
    "block_days_late": "the number of block-days late",
    "finish": "the last pour",
    "batches": "the number of batches",
    "cement": "the cement in kg",
}


def four_stages(case: Case) -> Iterator[Said]:
    """Say block_days_late, finish, batches and cement, in this order: finish is a date, the others are numbers."""
    names = tuple(stage.stage for stage in case.stages)
    if names != STAGE_NAMES:
        yield "stages", f"the stages are {', '.join(map(str, names)) or 'missing'}, not {', '.join(STAGE_NAMES)}"
    for stage in case.stages:
        for word, value in (("value", stage.value), ("bound", stage.bound)):
            if stage.stage in STAGE_NAMES and not _fits(stage.stage, value):
                due = "a date" if stage.stage == "finish" else "a number"
                what = "best possible" if word == "bound" else "value reached"
                yield stage.stage, f"{_WORDS[stage.stage]}: the {what} is {value}, not {due}"


def stage_values(case: Case) -> Iterator[Said]:
    """Say for each stage the value that the blocks and batches give."""
    right = {
        "block_days_late": block_days_late(case),
        "finish": finish(case),
        "batches": len(case.batches),
        "cement": sum(batch.cement_kg for batch in case.batches.values()),
    }
    for stage in _readable(case):
        value = right[stage.stage]
        if isinstance(value, Real) and isinstance(stage.value, Real):
            same = near(float(stage.value), float(value))
        else:
            same = stage.value == value
        if not same:
            words = _WORDS[stage.stage]
            yield stage.stage, f"{words} is said to be {_said(stage.value)}, but the plan gives {_said(value)}"


def bound_not_passed(case: Case) -> Iterator[Said]:
    """Claim nothing better than the best possible: a bound is at most its value."""
    for stage in _readable(case):
        if stage.bound > stage.value:  # type: ignore[operator]
            yield (
                stage.stage,
                f"{_WORDS[stage.stage]}, {_said(stage.value)}, would be better than the best possible, "
                f"{_said(stage.bound)}",
            )


def proven_when_equal(case: Case) -> Iterator[Said]:
    """Call a stage proven exactly when its bound equals its value."""
    for stage in _readable(case):
        if bool(stage.proven) != bool(stage.bound == stage.value):
            claim = "proven" if stage.proven else "not proven"
            yield (
                stage.stage,
                f"{_WORDS[stage.stage]} is said to be {claim}, with {_said(stage.value)} reached and "
                f"{_said(stage.bound)} best possible",
            )


def block_days_late(case: Case) -> int:
    """Sum over the blocks with a need date of the days from it to the date on which they are ready."""
    late = 0
    for turn in case.turns:
        for cast in turn.casts:
            if cast.needed is not None:
                late += max(0, case.day_of(case.ready_of(cast, turn)) - cast.needed)
    return late


def finish(case: Case) -> date | None:
    """Date of the last pour; None without a batch."""
    days = [case.day_of(batch.pour_to) for batch in case.batches.values()]
    return case.working.date_of(max(days)) if days else None


def _readable(case: Case) -> Iterator[Stage]:
    return (
        stage
        for stage in case.stages
        if stage.stage in STAGE_NAMES and _fits(stage.stage, stage.value) and _fits(stage.stage, stage.bound)
    )


def _fits(name: str, value: object) -> bool:
    if name == "finish":
        return type(value) is date
    return isinstance(value, Real) and not isinstance(value, bool) and math.isfinite(value)


def _said(value: object) -> str:
    return figure(float(value)) if isinstance(value, Real) else "empty" if value is None else str(value)


STAGES: tuple[Rule, ...] = (four_stages, stage_values, bound_not_passed, proven_when_equal)
