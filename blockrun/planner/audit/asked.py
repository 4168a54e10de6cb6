"""The blocks an order asks for, each with the day it is needed, counted in working days of our own."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from blockrun.order.lines import OrderLine, rows_asked

if TYPE_CHECKING:
    from blockrun.order import Need, Order
    from blockrun.planner.audit.working import WorkingTime
    from blockrun.planner.begun.facts import Begun
    from blockrun.site import MouldKind


def lines_asked(order: Order, working: WorkingTime, moulds: Sequence[MouldKind]) -> list[OrderLine]:
    """Take the order off row by row, and date the rows that a part dates by its courses.

    Returns
    -------
    Lines in the order of the parts; ``needed`` is None where nobody gives a date.
    """
    return [
        line if line.needed or need is None else _by_course(line, need, working)
        for need, line in rows_asked(order, moulds)
    ]


def _by_course(line: OrderLine, need: Need, working: WorkingTime) -> OrderLine:
    """Date a line: course i is needed floor((i - 1) / courses a day) working days after the first day."""
    if line.course is None:
        return line
    later = math.floor((line.course - 1) / need.courses_a_day)
    day = working.working_day((need.from_day - working.start).days, later)
    return replace(line, needed=working.date_of(day))


def without_found(lines: Sequence[OrderLine], begun: Begun) -> list[OrderLine]:
    """Lines less the blocks that turned up at a count: they are for those needed first that are not laid."""
    left = Counter({(mark, mix): count for mark, mix, count in begun.found})
    laid = Counter((block.mark, block.mix) for turn in begun.turns for block in turn.blocks if block.laid)
    soonest = sorted(lines, key=lambda line: (line.needed or date.max, line.part, line.course or 0))
    kept = []
    for line in soonest:
        stands = min(laid[line.mark, line.mix], line.count)
        laid[line.mark, line.mix] -= stands
        there = min(left[line.mark, line.mix], line.count - stands)
        left[line.mark, line.mix] -= there
        kept += [replace(line, count=line.count - there)] if there < line.count else []
    return kept


def spares_told(lines: Iterable[OrderLine], told: Iterable[tuple[str, str, int]]) -> list[OrderLine]:
    """The spares that a plan made anew is to have in the end."""
    one_of = {(line.mark, line.mix): line for line in lines}
    return [
        replace(one_of[mark, mix], part="", course=None, needed=None, cut="", count=count)
        for mark, mix, count in told
        if (mark, mix) in one_of
    ]
