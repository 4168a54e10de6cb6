"""Plans made for a job: this one and those before it, each known by its digits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.plan import Plan

Row = Any
"""A row of one of a plan's tables."""

Lie = tuple[float, float, float, float]
"""How a block lies in its slab: from the left, from the bottom, its length and its height there, in mm."""


@dataclass(frozen=True)
class Kept:
    """A plan that was saved.

    Parameters
    ----------
    as_planned, plan : the same, as the yard knows it and whole.
    """

    as_planned: AsPlanned
    plan: Plan

    @property
    def id(self) -> str:
        """Its digits."""
        return self.as_planned.id

    @cached_property
    def batches(self) -> dict[int, Row]:
        """Rows of its batches, by number."""
        rows: Iterable[Row] = self.plan.tables.batches.itertuples(index=False)
        return {int(row.batch): row for row in rows}

    @cached_property
    def sets(self) -> dict[int, tuple[int, ...]]:
        """Numbers of the sets of test cubes that its batches give."""
        rows: Iterable[Row] = self.plan.tables.cubes.itertuples(index=False)
        sets: dict[int, dict[int, None]] = {}
        for row in rows:
            sets.setdefault(int(row.batch), {})[int(row.set)] = None
        return {batch: tuple(numbers) for batch, numbers in sets.items()}

    def sawn(self, batch: int, mould: str, cavity: int) -> Lie | None:
        """How a block of a slab lies there; None for one that is cast by itself. A slab may be in another mould."""
        return self._lies.get((batch, mould, cavity)) or self._lies.get((batch, kind_named(mould), cavity))

    @cached_property
    def _lies(self) -> dict[tuple[int, str, int], Lie]:
        """By batch, mould and cavity; and by the kind of mould, those of the first slab of a batch."""
        rows: Iterable[Row] = self.plan.tables.sawing.itertuples(index=False)
        lies = {
            (row.mould, row.turn, row.cavity): (row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm)
            for row in rows
        }
        found: dict[tuple[int, str, int], Lie] = {}
        for cast in self.as_planned.casts:
            lie = lies.get((cast.mould, cast.turn, cast.cavity))
            if lie is not None:
                found[cast.batch, cast.mould, cast.cavity] = lie
                found.setdefault((cast.batch, kind_named(cast.mould), cast.cavity), lie)
        return found

    def clean_from(self, mould: str, base: str, strip: datetime) -> Row | None:
        """The row of the first clean of a mould, or its base, from a strip on."""
        after = [row for row in self._cleans.get((mould, base), ()) if row.start >= strip]
        return min(after, key=lambda row: row.start, default=None)

    @cached_property
    def _cleans(self) -> dict[tuple[str, str], list[Row]]:
        found: dict[tuple[str, str], list[Row]] = {}
        rows: Iterable[Row] = self.plan.tables.tasks.itertuples(index=False)
        for row in rows:
            if row.task == "clean":
                found.setdefault((row.mould, row.base), []).append(row)
        return found
