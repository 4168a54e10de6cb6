"""Block-days late of the counts: the blocks still owed, day after day."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TYPE_CHECKING

from blockrun.optimiser.late_strips import late_by_strips

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Expression


def block_days_late(counts: Counts) -> Expression:
    """What the blocks of the whole plan are late, those poured already included.

    It adds variables to the model of the counts that are right only where less lateness is better, or wanted.
    """
    formats = range(len(counts.problem.formats))
    late = sum((days * owed for block in formats for days, owed in _owed(counts, block)), start=0)
    return late if counts.problem.stack is None else _at_least(counts, late, late_by_strips(counts))


def _at_least(counts: Counts, *numbers: Expression) -> Expression:
    """A number of the model that is no less than any of these."""
    blocks = sum(count for block in counts.problem.formats for _, count in block.needs)
    least = counts.model.new_int_var(0, counts.problem.horizon * blocks, "late")
    for number in numbers:
        counts.model.add(least >= number)
    return least


def _owed(counts: Counts, block: int) -> list[tuple[int, Expression]]:
    """(Days, blocks due and not ready) of each stretch of days in which neither changes."""
    needs = counts.problem.formats[block].needs
    if not needs:
        return []
    arrived, coming = counts.arrived[block], _by_day(coming_of(counts, block))
    # the last day itself may be no later, and saves looking past the horizon
    end = counts.when.ready_from[counts.last]
    if not counts.overflow:
        end = max([end, *coming])
    changes = {due for due, _ in needs} | set(arrived) | set(coming)
    stretches = sorted({day for day in changes if day < end} | {end})
    ready = _totals(counts, block, [(day, coming.get(day, [])) for day in stretches])
    rows: list[tuple[int, Expression]] = []
    for since, until in pairwise(stretches):
        needed = sum(count for due, count in needs if due <= since)
        if needed:
            there = sum(on <= since for on in arrived)
            owed = counts.model.new_int_var(0, needed, f"owed {block} {since}")
            counts.model.add(owed >= needed - there - ready[since])
            rows.append((until - since, owed))
    return rows


def coming_of(counts: Counts, block: int) -> list[tuple[int, Expression]]:
    """(Number of the earliest day they may be laid, blocks) of all that is to be poured of a format."""
    of_each = [casting.of(block) for casting in counts.problem.castings]
    return [
        (counts.when.ready_day(kind, slot), of_each[casting] * number)
        for slot in counts.pour_slots
        for (kind, casting), number in counts.filled[slot].items()
        if of_each[casting]
    ]


def _by_day(coming: Iterable[tuple[int, Expression]]) -> dict[int, list[Expression]]:
    found: dict[int, list[Expression]] = {}
    for day, number in coming:
        found.setdefault(day, []).append(number)
    return found


def _totals(counts: Counts, block: int, coming: list[tuple[int, list[Expression]]]) -> dict[int, Expression]:
    """Blocks ready by each day: a variable a day, so that rows stay short."""
    totals: dict[int, Expression] = {}
    castings = zip(counts.problem.castings, counts.useful, strict=True)
    of_one = max(casting.of(block) * useful for casting, useful in castings)
    ready: Expression = 0
    most = 0
    for day, numbers in coming:
        if numbers:
            most += of_one * len(numbers)
            total = counts.model.new_int_var(0, most, f"ready {block} {day}")
            counts.model.add(total == ready + sum(numbers))
            ready = total
        totals[day] = ready
    return totals
