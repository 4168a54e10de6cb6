"""Need dates that may not be meant so: before the start, or on a day that is not worked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.files.day_names import full_day_name
from blockrun.order.lines import rows_asked

if TYPE_CHECKING:
    from datetime import date

    from blockrun.order import Order
    from blockrun.site import Site


def odd_need_dates(site: Site, order: Order) -> Iterator[str]:
    """Say which parts ask for blocks before the start, and what becomes of dates on days off; the first of each."""
    calendar = site.calendar
    of_rows: dict[str, set[date]] = defaultdict(set)
    of_parts: dict[str, set[date]] = defaultdict(set)
    for need, line in rows_asked(order, site.moulds):
        if line.needed is not None:
            of_rows[line.part].add(line.needed)
        elif need is not None and line.course is not None:
            of_parts[line.part].add(need.from_day)
    for part in sorted({*of_rows, *of_parts}):
        first = min(of_rows[part] | of_parts[part])
        if first < calendar.start:
            start = full_day_name(calendar.start)
            yield f"{part}: needed from {full_day_name(first)} on, before the start, {start}. Is the date right?"
    for part, days in sorted(of_parts.items()):
        for day in sorted(day for day in days if not calendar.is_working(day)):
            moved = full_day_name(calendar.next_working_day(day))
            yield f"{part}: {full_day_name(day)} is not worked, so its first course counts as needed on {moved}."
    for part, days in sorted(of_rows.items()):
        off = [day for day in sorted(days) if not calendar.is_working(day)]
        if off:
            more = f", and {len(off) - 1} more such" if off[1:] else ""
            yield f"{part}: needed on {full_day_name(off[0])}{more}, not worked: a day written in a list is not moved."
