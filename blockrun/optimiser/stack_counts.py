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
    stripped = [turn for turn in counts.state.turns if turn.strip is not None]
    there = sum(blocks_of(counts.problem, turn) for turn in stripped)
    # what stands there already may be more than there is room for
    stacked = Stacked.of(counts.problem, stack, stripped)
    room = {day: max(stack.places * stack.layers, sum(stacked.on(day))) for day in leaving}
    laid: dict[int, list[Expression]] = {day: [] for day in leaving}
    for block in range(len(counts.problem.formats)):
        most = _most_ready(counts, block, stack.places * stack.layers)
        for day, ready in _ready_before(counts, block, list(leaving)).items():
            laid[day].append(_laid(counts, block, day, ready, most[day]))
    for day, slot in leaving.items():
        came = sum((counts.racked[kind].by(slot) for kind in counts.kinds), start=there)
        counts.model.add(came - sum(laid[day]) <= room[day])


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


def _most_ready(counts: Counts, block: int, room: int) -> list[int]:
    """For each day the most blocks of a format that are ready before it: laid before then, or on the stack the evening.

    None is laid that nobody needs before all are ready that somebody does; so where those are more than have had room
    so far, what is laid are blocks due.
    """
    of_format, horizon = counts.problem.formats[block], counts.problem.horizon
    most = max(of_format.demand, len(counts.arrived[block]))
    last = counts.problem.ready(horizon * MINUTES_A_DAY - 1, horizon * MINUTES_A_DAY) // MINUTES_A_DAY + 1
    if counts.state.turns or block in counts.problem.sawn:
        return [most] * (last + 1)
    dated, due, undated, found = sum(count for _, count in of_format.needs), 0, 0, [0]
    needs = dict(of_format.needs)
    for day in range(1, last + 1):
        found.append(min(most, room + due + undated))
        due, undated = due + needs.get(day - 1, 0), max(0, found[-1] - dated)
    return found


def _laid(counts: Counts, block: int, day: int, ready: Expression, most: int) -> Expression:
    """Blocks of a format laid before a day, at the most: of those ready the ones due, and those over when all are.

    Between all due and the most that may be ready it is a straight line.
    """
    of_format = counts.problem.formats[block]
    dated = sum(count for _, count in of_format.needs)
    due = sum(count for number, count in of_format.needs if number < day)
    if block in counts.problem.sawn or due == dated:
        return ready
    over = max(0, most - dated)
    laid = counts.model.new_int_var(0, due + over, f"laid {block} before {day}")
    counts.model.add(laid <= ready)
    if over:
        counts.model.add((most - due) * laid <= (most - due) * due + over * (ready - due))
    return laid
