"""The blocks of a saved plan and of its order, numbered: what is poured into what, and which course needs it."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import TYPE_CHECKING

import pandas as pd

from blockrun.order.castable import castable
from blockrun.planner.in_moulds import Turn, turns_of
from blockrun.planner.rows import Row, rows_of
from blockrun.planner.wanted import format_of, wanted
from blockrun.site.mould_names import number_named
from blockrun.yard.setting import NEVER, Course, Fill, PlannedTurn

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind

Mark = tuple[str, str]
"""A mark and its mix."""


@dataclass(frozen=True)
class Numbered:
    """Turns, fills, marks and courses of a plan by numbers; minutes and days from the first of its calendar."""

    plan: Plan

    @cached_property
    def rows(self) -> list[Row]:
        """Blocks of the plan; their place here is their number."""
        return rows_of(self.plan.tables.casts)

    @cached_property
    def turns(self) -> list[Turn]:
        """Turns of the plan by time."""
        return turns_of(self.plan)

    @cached_property
    def kinds(self) -> tuple[str, ...]:
        """Kinds of mould of the site."""
        return tuple(kind.kind for kind in self.plan.site.moulds)

    def planned(self, turn: Turn) -> PlannedTurn:
        """A turn as planned."""
        kind, stripped = turn.kind, self.minute(turn.stripped)
        return PlannedTurn(
            kind=self.kinds.index(kind.kind),
            unit=number_named(turn.mould),
            base=number_named(turn.base) if turn.base else 0,
            n_fills=1 if kind.saw else len(turn.casts),
            sides=0 if turn.sides is None else self.minute(turn.sides),
            strip=stripped - kind.strip_and_saw_min,
            clean=self.minute(turn.cleaned) - kind.clean_time_min,
        )

    @cached_property
    def lines(self) -> tuple[OrderLine, ...]:
        """Blocks ordered, and spares."""
        return wanted(self.plan.site, self.plan.order, self.plan.begun)

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Marks of these."""
        return tuple(sorted({(line.mark, line.mix) for line in self.lines}))

    @cached_property
    def mixes(self) -> tuple[str, ...]:
        """Their mixes."""
        return tuple(sorted({mix for _, mix in self.marks}))

    @property
    def start(self) -> date:
        """The day whose midnight is minute 0."""
        return self.plan.site.calendar.start

    def minute(self, moment: datetime) -> int:
        """The minute of a moment."""
        return self.plan.site.calendar.minute_of(moment)

    def mark(self, row: Row) -> int:
        """The mark of a block."""
        return self.marks.index((row.mark, row.mix))

    def day(self, moment: datetime) -> int:
        """The day of a moment."""
        return (moment.date() - self.start).days

    @cached_property
    def wanted(self) -> Counter[Mark]:
        """Blocks ordered, by mark."""
        counts: Counter[Mark] = Counter()
        for line in self.lines:
            if line.part:
                counts[line.mark, line.mix] += line.count
        return counts

    @cached_property
    def days_of_spares(self) -> dict[int, list[int]]:
        """By mark, the days on which its spares are poured, ascending."""
        found: defaultdict[int, list[int]] = defaultdict(list)
        for row in self.rows:
            if row.spare:
                found[self.mark(row)].append(self.day(row.poured))
        return {mark: sorted(days) for mark, days in found.items()}

    @cached_property
    def fills(self) -> Mapping[tuple[int, int], list[Fill]]:
        """Fills by turn and batch."""
        found: defaultdict[tuple[int, int], list[Fill]] = defaultdict(list)
        numbers = {row.cast: nth for nth, row in enumerate(self.rows)}
        for nth, turn in enumerate(self.turns):
            cavities: defaultdict[int, list[Row]] = defaultdict(list)
            for row in turn.casts:
                # blocks of a slab have a number each, and share its one cavity
                cavities[1 if turn.kind.saw else row.cavity].append(row)
            for rows in cavities.values():
                blocks = tuple(numbers[row.cast] for row in rows)
                found[nth, rows[0].batch].append(self._fill(turn.kind, rows, blocks))
        return found

    def _fill(self, kind: MouldKind, rows: Sequence[Row], blocks: tuple[int, ...]) -> Fill:
        needs = [self.day(row.needed) for row in rows if pd.notna(row.needed)]
        return Fill(
            mix=self.mixes.index(rows[0].mix),
            marks=tuple(self.mark(row) for row in rows),
            volume_l=self._poured_l(kind, self._line[rows[0].mark, rows[0].mix]),
            blocks=blocks,
            due=min(needs) - self.lead if needs else NEVER,
        )

    @cached_property
    def _line(self) -> Mapping[Mark, OrderLine]:
        return {(line.mark, line.mix): line for line in self.lines}

    @cached_property
    def formats(self) -> tuple[int, ...]:
        """By mark, a number that marks of one size and mix share."""
        keys = [format_of(self._line[mark]) for mark in self.marks]
        return tuple(map(keys.index, keys))

    def formats_of(self, kind: MouldKind) -> set[int]:
        """Formats that a mould casts, a block a cavity."""
        return {of for mark, of in zip(self.marks, self.formats, strict=True) if castable(kind, self._line[mark])}

    def _poured_l(self, kind: MouldKind, line: OrderLine) -> float:
        volume = math.prod(kind.cavity) / 1e6 if kind.saw else line.volume_l
        return volume * (1 + self.plan.site.overfill)

    def casts_of(self, mark: Mark) -> Iterator[tuple[int, Fill]]:
        """What a new fill of a mark may be: alone in a mould that casts it, or as a slab like one of the plan."""
        line, number = self._line[mark], self.marks.index(mark)
        for nth, kind in enumerate(self.plan.site.moulds):
            if not kind.saw and castable(kind, line):
                yield nth, Fill(self.mixes.index(mark[1]), (number,), self._poured_l(kind, line))
        slabs = {
            (self.kinds.index(self.turns[turn].kind.kind), fill.mix, fill.marks, fill.volume_l)
            for (turn, _), fills in self.fills.items()
            for fill in fills
            if self.turns[turn].kind.saw and number in fill.marks
        }
        for kind_number, mix, marks, volume_l in sorted(slabs):
            yield kind_number, Fill(mix, marks, volume_l)

    @cached_property
    def lead(self) -> int:
        """Days from a pour until its blocks are laid, at the quickest of the plan, and one more for good measure."""
        return 1 + min(self.day(row.ready) - self.day(row.poured) for row in self.rows)

    @cached_property
    def _of_courses(self) -> Mapping[tuple[str, int | None, int], list[tuple[int, int]]]:
        """Marks and counts of each course with a date."""
        found: defaultdict[tuple[str, int | None, int], list[tuple[int, int]]] = defaultdict(list)
        for line in self.lines:
            if line.needed is not None:
                day = (line.needed - self.start).days
                found[line.part, line.course, day].append((self.marks.index((line.mark, line.mix)), line.count))
        return found

    @cached_property
    def _sorted_courses(self) -> list[tuple[str, int | None, int]]:
        return sorted(self._of_courses, key=lambda key: (key[2], key[0], key[1] or 0))

    @property
    def courses(self) -> Iterator[Course]:
        """Courses with a date, soonest needed first."""
        for key in self._sorted_courses:
            yield Course(*key)

    def needs(self) -> tuple[tuple[tuple[int, int], ...], ...]:
        """By mark, the day and the course of each block that has one, soonest first."""
        needs: list[list[tuple[int, int]]] = [[] for _ in self.marks]
        for nth, key in enumerate(self._sorted_courses):
            for mark, count in self._of_courses[key]:
                needs[mark] += [(key[2], nth)] * count
        return tuple(tuple(sorted(of_mark)) for of_mark in needs)
