"""Which moulds stay full though they are old enough to be stripped, because the racks have no room for their blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.on_rack import OnRacks
from blockrun.planner.rows import grouped
from blockrun.show.manned import is_manned
from blockrun.show.words import named_together
from blockrun.site.calendar import moment_at

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.rows import Row


class KeptFull:
    """Strips that a plan puts off until there is room.

    Parameters
    ----------
    casts, tasks : its blocks, and the tasks of it that are still to be done.
    old_enough : since when the blocks of a strip are.
    """

    def __init__(
        self, plan: Plan, casts: Iterable[Row], tasks: Iterable[Row], old_enough: Callable[[Row], datetime]
    ) -> None:
        self._site = plan.site
        self._places = sum(rack.places for rack in plan.site.racks)
        self._on_racks = OnRacks(plan.tables.casts)
        self._old_enough = old_enough
        self._strips = [task for task in tasks if task.task == "strip"]
        stripped = grouped(casts, lambda cast: (cast.mould, cast.base, cast.strip))
        self._poured = {strip: max(cast.poured for cast in alike) for strip, alike in stripped.items()}

    def on(self, day: date) -> Iterator[Row]:
        """The strips that could be done on a day, but for the racks: at its end they have no room for their blocks."""
        if not is_manned(day, self._site):
            return
        closes = moment_at(day, self._site.calendar.ends_min)
        free = self._places - self._on_racks.at(closes)
        put_off = (task for task in self._strips if task.blocks > free and task.start.date() > day)
        yield from (task for task in put_off if self._is_due(task, closes))

    def _is_due(self, task: Row, closes: datetime) -> bool:
        """Whether it could be done before a day closes; how old it is is reckoned only of what is poured by then."""
        if self._poured[task.mould, task.base, task.end] > closes:
            return False
        return bool(self._old_enough(task) + (task.end - task.start) <= closes)


def kept_full_said(names: Sequence[str]) -> str:
    """``Racks full: the blocks in gang-4/01-05 are old enough, and stay in their moulds.``; empty where none are."""
    return (
        f"Racks full: the blocks in {named_together(names)} are old enough, and stay in their moulds." if names else ""
    )
