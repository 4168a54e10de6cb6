"""The words of a plan made anew: why, what it costs and what it changes; `yard` and planner fill, `show` prints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.begun.changes import DayChanged
    from blockrun.planner.begun.courses import CourseMoved
    from blockrun.planner.plan import Plan

Reached = Mapping[str, int | float | date]
"""What a plan reaches in each stage."""


@dataclass(frozen=True)
class Replanned:
    """A plan made anew.

    Attributes
    ----------
    plan : it.
    before : what the plan before said it would reach.
    kept : what that one comes to when it is carried on as it is, as far as it can be; None where that was not found.
    why : what happened otherwise than planned, in sentences.
    missing : numbers of batches that should have been poured by then and that nobody recorded.
    later : entries of the journal that are later than its moment and were not heeded.
    days : the next working days.
    notes : warnings that the plan before had not.
    number, after : of the plan, and of the one before.
    blocks_off_card : of batches outside their cards, which count as good.
    courses : that are ready on another day than by the plan before.
    """

    plan: Plan
    before: Reached
    kept: Reached | None
    why: tuple[str, ...]
    missing: tuple[int, ...]
    later: int
    days: tuple[DayChanged, ...]
    notes: tuple[str, ...]
    number: int
    after: int
    blocks_off_card: int = 0
    courses: tuple[CourseMoved, ...] = ()
