"""The stack of the counts: no more blocks on any day than its columns hold, and how late strips that wait make them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from blockrun.optimiser.lateness import coming_of
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import blocks_of

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Expression


def hold_stack(counts: Counts) -> None:
    """Of what has left the rack for certain by a day, all that cannot have been laid before it is on the stack.

    Blocks poured after the last day counted are laid no sooner than they come, so they need not be known.
    """
    stack = counts.problem.stack
    if stack is None:
        return
    leaving = _last_to_leave(counts)
    laid: dict[int, list[Expression]] = {day: [] for day in leaving}
    for block in range(len(counts.problem.formats)):
        for day, most in _ready_before(counts, block, list(leaving)).items():
            laid[day].append(_laid(counts, block, day, most))
    stripped = [turn for turn in counts.state.turns if turn.strip is not None]
    there = sum(blocks_of(counts.problem, turn) for turn in stripped)
    # what stands there already may be more than there is room for
    stacked = Stacked.of(counts.problem, stack, stripped)
    for day, slot in leaving.items():
        came = sum((counts.racked[kind].by(slot) for kind in counts.kinds), start=there)
        counts.model.add(came - sum(laid[day]) <= max(stack.places * stack.layers, sum(stacked.on(day))))


def _last_to_leave(counts: Counts) -> dict[int, int]:
    """Days, by number, on which blocks leave the rack, ascending, each with the last slot of which all have by then."""
    slots, days = counts.when.slots.all, counts.problem.days
    # a block at the least is moved after the strip
    move = counts.problem.move[1]
    last = {slot: min(slots[slot].last, days[slots[slot].day].closes - move) for slot in counts.slots}
    return {counts.problem.leaves_rack(minute) // MINUTES_A_DAY: slot for slot, minute in last.items()}


def _ready_before(counts: Counts, block: int, days: list[int]) -> dict[int, Expression]:
    """Blocks of a format ready before each of some days, ascending, at the most."""
    problem, model = counts.problem, counts.model
    arrived = counts.arrived[block]
    coming = [*((at, 1) for at in arrived), *coming_of(counts, block)]
    # slabs that are of no use are never cast
    useful = (counts.useful[number] * casting.of(block) for number, casting in enumerate(problem.castings))
    most = max(problem.formats[block].demand, len(arrived)) + sum(useful)
    ready: dict[int, Expression] = {}
    before: Expression = 0
    for since, day in pairwise([-1, *days]):
        ready[day] = model.new_int_var(0, most, f"ready {block} before {day}")
        model.add(ready[day] <= before + sum((number for at, number in coming if since <= at < day), start=0))
        before = ready[day]
    return ready


def _laid(counts: Counts, block: int, day: int, ready: Expression) -> Expression:
    """Blocks of a format laid before a day, at the most: those that are ready, if needed by then or for no day."""
    of_format = counts.problem.formats[block]
    dated = sum(count for _, count in of_format.needs)
    due = sum(count for number, count in of_format.needs if number < day)
    if block in counts.problem.sawn or due == dated:
        return ready
    most = max(of_format.demand, len(counts.arrived[block]))
    laid = counts.model.new_int_var(0, due + most - dated, f"laid {block} before {day}")
    counts.model.add(laid <= ready)
    return laid
