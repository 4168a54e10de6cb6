"""How many places of a small stack a plan takes, day by day."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from pandas import isna

from blockrun.planner.wanted import FormatKey, format_of, wanted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def places_taken(plan: Plan) -> dict[date, int]:
    """Places taken from each day on which that changes, ascending; nothing where there is ground for all.

    A block is there from the day it leaves the rack to the day it is laid, both included; a column holds blocks of one
    size and mix.
    """
    stack = plan.site.stack
    if stack is None:
        return {}
    formats = {(line.mark, line.mix): format_of(line) for line in wanted(plan.site, plan.order)}
    changes: defaultdict[FormatKey, Counter[date]] = defaultdict(Counter)
    casts: list[Any] = list(plan.tables.casts.itertuples(index=False))
    for cast in casts:
        laid = cast.ready if isna(cast.needed) else max(cast.ready, cast.needed)
        of_format = changes[formats[cast.mark, cast.mix]]
        of_format[cast.rack_to.date()] += 1
        of_format[laid.date() + timedelta(days=1)] -= 1
    there, taken = Counter[FormatKey](), dict[date, int]()
    for day in sorted({day for of_format in changes.values() for day in of_format}):
        there.update({key: of_format[day] for key, of_format in changes.items()})
        taken[day] = stack.columns(there.values())
    return taken
