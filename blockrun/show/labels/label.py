"""What stands on a label, and in which order it is made shorter where the label is too small for all of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from blockrun.show.page import glued
from blockrun.show.words import MONTHS, counted, day_name, listed

_MOST_LETTERS: Final = 14
"""Of the name of a part that is made shorter."""
_MOST_MARKS: Final = 2
"""Marks that a label with few words names."""
_CUT: Final = "\u2026"


@dataclass(frozen=True)
class Blocks:
    """So many blocks of a mark and what they are for: a part and a course (0 for none), no part for spares."""

    count: int
    mark: str
    part: str
    course: int

    @property
    def use(self) -> str:
        """``store course 3``; empty for spares."""
        return f"{self.part} course {self.course}" if self.course else self.part


@dataclass(frozen=True)
class Label:
    """One label.

    Parameters
    ----------
    on : ``mould``, ``rack`` or ``stack``.
    name, beside : of what it is on, printed large; and what else tells which, such as the turn.
    blocks : what is there.
    days : what happens when, in words and the first and last day, the most needed last.
    code : the line of text in its code.
    """

    on: str
    name: str
    beside: str
    blocks: tuple[Blocks, ...]
    days: tuple[tuple[str, date, date], ...]
    code: str

    @property
    def count(self) -> int:
        """Blocks that it stands for."""
        return sum(one.count for one in self.blocks)

    def wordings(self, units: str) -> list[list[str]]:
        """The lines under the name: all that is to be said, then shorter and shorter; the label takes the first it can.

        Parameters
        ----------
        units : ``SI`` or ``US``, for the order of day and month.
        """
        shorter, few, short_days = _short_names(self.blocks), self._few_marks(), list(self._short_days(units))
        said = [
            [*self._each(), *self._days()],
            [*self._together(self.blocks), *self._days()],
            [*self._together(shorter), *self._days()],
            [few, *self._uses(shorter), *self._days()],
            [few, *self._uses(shorter), *short_days],
            [few, self._courses(), *short_days],
            [f"{few}, {self._courses()}", *short_days],
            [f"{few}, {self._courses()}", *short_days[-1:]],
            [few, *short_days[-1:]],
            [counted(self.count, "block"), *short_days[-1:]],
        ]
        return [lines for number, lines in enumerate(said) if not number or lines != said[number - 1]]

    def _each(self) -> Iterator[str]:
        """A line for each mark and use."""
        for one in self.blocks:
            yield f"{self._of_mark(one.count, one.mark)}{f' for {one.use}' if one.use else ', spare'}"

    def _of_mark(self, count: int, mark: str) -> str:
        """So many of a mark; where the label is called by it, so many blocks."""
        return glued(counted(count, "block") if mark == self.name else f"{count} {mark}")

    def _together(self, blocks: Sequence[Blocks]) -> Iterator[str]:
        """All marks in one line, all uses in the next."""
        yield listed([self._of_mark(count, mark) for mark, count in _by_mark(blocks).items()])
        yield from self._uses(blocks)

    def _uses(self, blocks: Sequence[Blocks]) -> Iterator[str]:
        """``for store courses 3, 4, and a spare``."""
        parts: dict[str, list[int]] = {}
        for one in blocks:
            parts.setdefault(one.part, []).append(one.course)
        said = [
            f"{part} {'course' if len(set(courses)) == 1 else 'courses'} {', '.join(map(str, sorted(set(courses))))}"
            if any(courses)
            else part
            for part, courses in parts.items()
            if part
        ]
        yield f"for {', '.join(said + ['spare'] * ('' in parts))}" if said else "spare"

    def _courses(self) -> str:
        """``courses 3, 4``, whatever they are of; the parts where none is told by courses."""
        courses = sorted({one.course for one in self.blocks if one.course})
        if not courses:
            return ", ".join(dict.fromkeys(one.part or "spare" for one in _short_names(self.blocks)))
        return f"{'course' if len(courses) == 1 else 'courses'} {', '.join(map(str, courses))}"

    def _few_marks(self) -> str:
        """The first marks, and how many blocks of others there are."""
        every = list(_by_mark(self.blocks).items())
        said = [self._of_mark(count, mark) for mark, count in every[:_MOST_MARKS]]
        rest = sum(count for _, count in every[_MOST_MARKS:])
        return listed([*said, counted(rest, "other")] if rest else said)

    def _days(self) -> Iterator[str]:
        for what, first, last in self.days:
            yield f"{what} {glued(day_name(first))}" + (f" to {glued(day_name(last))}" if last != first else "")

    def _short_days(self, units: str) -> Iterator[str]:
        for what, first, last in self.days:
            yield f"{what} {_short_day(first, units)}" + (f" to {_short_day(last, units)}" if last != first else "")


def _by_mark(blocks: Sequence[Blocks]) -> Counter[str]:
    counts: Counter[str] = Counter()
    for one in blocks:
        counts[one.mark] += one.count
    return counts


def _short_names(blocks: Sequence[Blocks]) -> list[Blocks]:
    """The same with the names of parts cut to their first letters."""
    return [
        replace(one, part=one.part if len(one.part) <= _MOST_LETTERS else one.part[: _MOST_LETTERS - 1].rstrip() + _CUT)
        for one in blocks
    ]


def _short_day(day: date, units: str) -> str:
    month = MONTHS[day.month - 1]
    return glued(f"{month} {day.day}" if units == "US" else f"{day.day} {month}")
