"""Block-days late of the counts for strips that wait: blocks that leave the rack after so many are needed."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING

from blockrun.optimiser.off_rack import OffRack
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.state import blocks_of

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Expression


def late_by_strips(counts: Counts) -> Expression:
    """Block-days late of all blocks together, whichever they are, were they laid as soon as they leave the rack.

    What is poured after the last day counted leaves the rack after all days looked at.
    """
    problem = counts.problem
    gone, needs = Counter[int](), Counter[int]()
    for turn in counts.state.turns:
        if turn.strip is not None:
            gone[_off_rack(counts, turn.strip.end)] += blocks_of(problem, turn)
    for of_format in problem.formats:
        needs.update(dict(of_format.needs))
    leaving, short = _soonest(counts), _short_of_ground(counts)
    end = _off_rack(counts, (problem.days[counts.last].number + 1) * MINUTES_A_DAY)
    late: Expression = sum(blocks for day, blocks in short.items() if day >= end)
    for since, until in pairwise(sorted({day for day in (*needs, *gone, *leaving, *short) if day < end} | {end})):
        needed, there = (sum(n for day, n in of.items() if day <= since) for of in (needs, gone))
        owed = counts.model.new_int_var(min(needed, short.get(since, 0)), needed, f"not off the rack {since}")
        counts.model.add(owed >= needed - there - _off_rack_by(counts, since, leaving))
        late += (until - since) * owed
    return late


def _short_of_ground(counts: Counts) -> dict[int, int]:
    """By day, blocks that the stack keeps from being off the rack when they are needed, from an empty yard on."""
    stack = counts.problem.stack
    if stack is None or counts.state.turns:
        return {}
    return OffRack(counts.problem, stack, [block.needs for block in counts.problem.formats]).short()


def off_rack_by(counts: Counts, day: int) -> Expression:
    """Blocks of all turns still to strip that have left the rack by a day, at the most."""
    return _off_rack_by(counts, day, _soonest(counts))


def _off_rack_by(counts: Counts, by: int, leaving: dict[int, int]) -> Expression:
    slot = max((slot for day, slot in leaving.items() if day <= by), default=counts.slots[0] - 1)
    return sum((counts.racked[kind].by(slot) for kind in counts.kinds), start=0)


def _soonest(counts: Counts) -> dict[int, int]:
    """Days, by number, on which blocks may leave the rack, each with the last slot of which some may."""
    slots, days = counts.when.slots.all, counts.problem.days
    opens = {slot: max(slots[slot].first, days[slots[slot].day].opens) for slot in counts.slots}
    return {_off_rack(counts, at): slot for slot, at in opens.items()}


def _off_rack(counts: Counts, stripped: int) -> int:
    return counts.problem.leaves_rack(stripped) // MINUTES_A_DAY
