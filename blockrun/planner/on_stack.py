"""How many places of a small stack a plan takes, day by day."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any

from blockrun.planner.rows import rows_of
from blockrun.planner.wanted import FormatKey, format_of, wanted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

_A_DAY = timedelta(days=1)


def places_taken(plan: Plan) -> dict[date, int]:
    """Places taken from each day on which that changes, ascending; nothing where there is ground for all."""
    return OnStack(plan).taken


class OnStack:
    """Blocks on the stack over time.

    A block is there from the day it leaves the rack to the day it is laid, both included; a column holds blocks of one
    size and mix.
    """

    def __init__(self, plan: Plan) -> None:
        self._plan, self._stack = plan, plan.site.stack

    @cached_property
    def taken(self) -> dict[date, int]:
        """Places taken from each day on which that changes, ascending."""
        if self._stack is None:
            return {}
        return {day: self._stack.columns(there.values()) for day, there in self._there.items()}

    @cached_property
    def _formats(self) -> dict[tuple[str, str], FormatKey]:
        return {(line.mark, line.mix): format_of(line) for line in wanted(self._plan.site, self._plan.order)}

    @cached_property
    def _there(self) -> dict[date, Counter[FormatKey]]:
        """Blocks of each format from each day on which one comes or goes."""
        changes: defaultdict[date, Counter[FormatKey]] = defaultdict(Counter)
        for cast in rows_of(self._plan.tables.casts):
            of_format = self._formats[cast.mark, cast.mix]
            changes[cast.rack_to.date()][of_format] += 1
            changes[_laid(cast, cast.ready.date()) + _A_DAY][of_format] -= 1
        there, found = Counter[FormatKey](), {}
        for day in sorted(changes):
            there.update(changes[day])
            found[day] = there.copy()
        return found

    def has_room(self, turn: Sequence[Any], since: date, old_enough: Sequence[date]) -> bool:
        """Whether all blocks of a turn could stand there from a day on, sooner than they do.

        Parameters
        ----------
        turn : its casts.
        old_enough : for each of them, the day from which its age lets it be laid.
        """
        if self._stack is None:
            return True
        comes = turn[0].rack_to.date()
        laid = [
            (self._formats[cast.mark, cast.mix], _laid(cast, aged)) for cast, aged in zip(turn, old_enough, strict=True)
        ]
        there = Counter[FormatKey]()
        for day, on_day in self._there.items():
            if day <= since:
                there = on_day
        days = {since: there, **{day: on_day for day, on_day in self._there.items() if since < day < comes}}
        return all(
            self._stack.columns((on_day + Counter(of for of, until in laid if day <= max(until, since))).values())
            <= self._stack.places
            for day, on_day in days.items()
        )


def _laid(cast: Any, ready: date) -> date:
    """The day on which a block is laid: when it is ready, and not before it is needed."""
    return ready if cast.needed is None else max(ready, cast.needed.date())
