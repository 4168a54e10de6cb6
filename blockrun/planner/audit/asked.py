"""The blocks an order asks for, each with the day it is needed, counted in working days of our own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from blockrun.order.lines import OrderLine, rows_asked

if TYPE_CHECKING:
    from blockrun.order import Need, Order
    from blockrun.planner.audit.working import WorkingTime
    from blockrun.site import MouldKind


def lines_asked(order: Order, working: WorkingTime, moulds: Sequence[MouldKind] = ()) -> list[OrderLine]:
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
