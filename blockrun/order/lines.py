"""An order taken off: so many blocks of one mark and mix, for one course of one part, by one date."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_CEILING
from typing import TYPE_CHECKING

from blockrun.order.model import Order
from blockrun.order.need import Need
from blockrun.order.parts import rows_of_parts
from blockrun.order.shape import Shape
from blockrun.site.calendar import Calendar

if TYPE_CHECKING:
    from blockrun.site.moulds import MouldKind


@dataclass(frozen=True)
class OrderLine:
    """Equal blocks that are asked for.

    Parameters
    ----------
    part : where they go; empty for spares.
    course : counted from 1 at the bottom, or None.
    mark, mix : the type of the block and what it is cast of.
    length_mm, height_mm, thickness_mm : its size.
    count : how many, >= 1.
    needed : the day on which they must be ready, or None.
    bevel_deg, taper_deg, bed_deg : how far its faces lean in, see :class:`blockrun.order.shape.Shape`.
    cut : what is sawn off before it is laid, in words; empty when it is laid as cast.
    role : what it is for, such as a lintel; empty for a plain block.
    """

    part: str
    course: int | None
    mark: str
    mix: str
    length_mm: float
    height_mm: float
    thickness_mm: float
    count: int
    needed: date | None
    bevel_deg: float = 0.0
    taper_deg: float = 0.0
    bed_deg: float = 0.0
    cut: str = ""
    role: str = ""

    @property
    def shape(self) -> Shape:
        """What is cast."""
        sides = (self.length_mm, self.height_mm, self.thickness_mm)
        return Shape(*sides, self.bevel_deg, self.taper_deg, self.bed_deg)

    @property
    def volume_l(self) -> float:
        """Volume of one of the blocks in litres, as cast."""
        return self.shape.volume_l


def takeoff(order: Order, calendar: Calendar | None = None, moulds: Sequence[MouldKind] = ()) -> list[OrderLine]:
    """All lines of an order, equal ones added up.

    Parameters
    ----------
    order : as read.
    calendar : working days, to date the courses of parts needed at so many a day; without it those get no date.
    moulds : of the site; what they can cast decides how the blocks of a dome are made.

    Returns
    -------
    Lines by part, course (none last), mark, mix, size and date (none last), whatever the order of the rows read.
    """
    counts: Counter[OrderLine] = Counter()
    for need, line in rows_asked(order, moulds):
        needed = line.needed or _needed(need, line.course, calendar)
        counts[replace(line, needed=needed, count=1)] += line.count
    return sorted((replace(line, count=count) for line, count in counts.items()), key=_place)


def rows_asked(order: Order, moulds: Sequence[MouldKind]) -> Iterator[tuple[Need | None, OrderLine]]:
    """Every row of an order as a line, with the need of its part, which dates it where it has no date of its own."""
    for part in rows_of_parts(order, moulds):
        for row in part.rows:
            shape, own = row.shape, row.part or part.name
            sides = (shape.length_mm, shape.height_mm, shape.thickness_mm)
            leans = (shape.bevel_deg, shape.taper_deg, shape.bed_deg)
            line = OrderLine(
                own, row.course, row.mark, row.mix, *sides, row.count, row.needed, *leans, row.cut, row.role
            )
            yield part.need, line


def spares(order: Order, lines: Iterable[OrderLine]) -> list[OrderLine]:
    """The spares an order asks for: of each mark and mix its share of the whole count, rounded up.

    Returns
    -------
    Lines with an empty part, no course and no date, by mark and mix; none where the share is nought.
    """
    counts: Counter[OrderLine] = Counter()
    for line in lines:
        counts[replace(line, part="", course=None, needed=None, cut="", count=1)] += line.count
    asked = {line: (order.spares * count).to_integral_value(ROUND_CEILING) for line, count in counts.items()}
    return sorted((replace(line, count=int(count)) for line, count in asked.items() if count), key=_place)


def _needed(need: Need | None, course: int | None, calendar: Calendar | None) -> date | None:
    """Course i is needed floor((i - 1) / courses_a_day) working days after the first one's day."""
    if need is None or course is None or calendar is None:
        return None
    return calendar.next_working_day(need.from_day, math.floor((course - 1) / need.courses_a_day))


def _place(line: OrderLine) -> tuple[object, ...]:
    return (
        line.part,
        line.course is None,
        line.course or 0,
        line.mark,
        line.mix,
        line.shape,
        line.cut,
        line.role,
        line.needed is None,
        line.needed or date.min,
    )
