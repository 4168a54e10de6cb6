"""Test cubes on a sheet: sets that a batch gives, and cubes whose day to be crushed has come."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any

from blockrun.files.day_names import day_name
from blockrun.mix.cubes import shared_by_age, written_on
from blockrun.planner.rows import rows_of
from blockrun.show.page import glued
from blockrun.units import counted, show

if TYPE_CHECKING:
    from blockrun.planner.begun import Begun
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site


@dataclass(frozen=True)
class CubesCast:
    """Test cubes that a batch gives, all of one set."""

    number: int
    cubes: int

    def said(self, site: Site) -> str:
        """``4 test cubes of 100 mm: set 2, mark them 2-1 to 2-4; crush 2 at 7 d, 2 at 28 d``."""
        of = f" of {show(site.test_cubes.size_mm, 'length', site.units)}" if site.test_cubes else ""
        what = glued(f"{counted(self.cubes, 'test cube')}{of}")
        ((_, marked),) = written_on(self.number, self.cubes, 0)
        them = "it" if self.cubes == 1 else "them"
        return f"{what}: {glued(f'set {self.number}')}, mark {them} {glued(marked)}{self._ages(site)}"

    def _ages(self, site: Site) -> str:
        """How many are crushed at each age; empty where the site tells none, or another number of cubes."""
        sets = site.test_cubes
        if sets is None or not sets.crush_after_d or sets.count != self.cubes:
            return ""
        shares = zip(shared_by_age(self.cubes, len(sets.crush_after_d)), sets.crush_after_d, strict=True)
        return f"; crush {', '.join(glued(f'{cubes} at {days} d') for cubes, days in shares)}"


@dataclass(frozen=True)
class CubesDue:
    """Test cubes to be crushed on a day: of which set, what is written on them, from which batch, and their age."""

    number: int
    cubes: int
    marked: str
    mix: str
    batch: int
    cast: date
    age_d: int

    @property
    def crush(self) -> date:
        """The day on which they are crushed."""
        return self.cast + timedelta(days=self.age_d)

    @property
    def said(self) -> str:
        """``2 cubes of set 3, marked 3-2 to 3-3: mix light, batch 7 of Mon 5 Apr, 28 days old``."""
        return (
            f"{glued(counted(self.cubes, 'cube'))} of {glued(f'set {self.number}')}, marked "
            f"{glued(self.marked)}: mix {self.mix}, {glued(f'batch {self.batch}')} of {glued(day_name(self.cast))}, "
            f"{glued(counted(self.age_d, 'day'))} old"
        )


class Cubes:
    """The test cubes of a plan, by batch and by the day on which they are crushed.

    Those that were crushed before it was made anew, as ``begun`` has it, are not due again.
    """

    def __init__(self, tables: PlanTables, begun: Begun | None = None) -> None:
        rows, batches = rows_of(tables.cubes), {row.batch: row for row in rows_of(tables.batches)}
        self._cast: dict[int, list[CubesCast]] = defaultdict(list)
        for (batch, number), of_set in groupby(rows, key=lambda row: (row.batch, row.set)):
            self._cast[batch].append(CubesCast(number, sum(row.cubes for row in of_set)))
        self._due: dict[date, list[CubesDue]] = defaultdict(list)
        due = [_due(row, batches[row.batch]) for row in rows if _is_due(row, batches)]
        for one in _not_crushed(due, begun):
            self._due[one.crush].append(one)

    def of_batch(self, batch: int) -> tuple[CubesCast, ...]:
        """Sets that a batch gives."""
        return tuple(self._cast.get(batch, ()))

    def due(self, day: date) -> tuple[CubesDue, ...]:
        """Cubes to be crushed on a day."""
        return tuple(self._due.get(day, ()))

    @property
    def days(self) -> frozenset[date]:
        """Days on which any are crushed."""
        return frozenset(self._due)


def _is_due(row: Any, batches: Mapping[int, Any]) -> bool:
    """Whether a row has a day; one of a batch that is not there is for the audit to find."""
    return row.crush is not None and row.batch in batches


def _not_crushed(due: Sequence[CubesDue], begun: Begun | None) -> Iterator[CubesDue]:
    """What is left of cubes once each that was crushed is taken off those of its batch that are nearest to its age."""
    left = Counter({one: one.cubes for one in due})
    for batch in begun.batches if begun else ():
        for age_d in batch.crushed:
            of_batch = [one for one in due if one.batch == batch.number and left[one]]
            if of_batch:
                left[min(of_batch, key=lambda one: abs(one.age_d - age_d))] -= 1
    return (replace(one, cubes=left[one]) for one in due if left[one])


def _due(row: Any, batch: Any) -> CubesDue:
    cast, crush = batch.start.date(), row.crush.date()
    return CubesDue(row.set, row.cubes, row.marked, batch.mix, batch.batch, cast, (crush - cast).days)
