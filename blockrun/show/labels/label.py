"""What stands on a label, and in which order it is made shorter where the label is too small for all of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Final, NamedTuple

from blockrun.files.day_names import MONTHS, clock, day_name
from blockrun.show.apart import DO_NOT_LAY, OUTSIDE, SET_APART, count_said
from blockrun.show.page import glued
from blockrun.show.words import batches_said, place_said
from blockrun.units import counted, listed

_MOST_LETTERS: Final = 14
"""Of the name of a part that is made shorter."""
_MOST_MARKS: Final = 2
"""Marks that a label with few words names."""
_CUT: Final = "\u2026"
_DAYS: Final = "weekdays"
LAY: Final = "lay from"
"""What blocks wait for from the day on which they are ready."""

When = tuple[str, date]
"""What is at a day, or from a moment of one on, such as ``strip from``."""


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
        return place_said(self.part, self.course)


class Wording(NamedTuple):
    """One way to say what stands under the name.

    Attributes
    ----------
    lines : one under the other.
    limit, when : from when on what may be done, printed large.
    lacks : what is not said.
    """

    lines: list[str]
    limit: str
    when: str
    lacks: list[str]


@dataclass(frozen=True)
class Label:
    """One label.

    Parameters
    ----------
    on : ``mould``, ``rack`` or ``stack``.
    name, beside : of what it is on, printed large; and what else tells which, such as the turn.
    blocks : what is there.
    poured : first and last day.
    others : what else happens when.
    limit : from when on it is stripped or laid: what its reader must not be wrong about.
    code : the line of text in its code.
    batches : it is poured from, where that is told.
    apart : of what it is poured from, or of what lies there, batches outside their cards.
    n_apart : blocks that are of those.
    """

    on: str
    name: str
    beside: str
    blocks: tuple[Blocks, ...]
    poured: tuple[date, date]
    others: tuple[When, ...]
    limit: When
    code: str
    batches: tuple[int, ...] = ()
    apart: tuple[int, ...] = ()
    n_apart: int = 0

    @property
    def count(self) -> int:
        """Blocks that it stands for."""
        return sum(one.count for one in self.blocks)

    def wordings(self, units: str) -> list[Wording]:
        """All that is to be said, then shorter and shorter; the label takes the first it has room for.

        Name, day of pouring and limit stay to the last.

        Parameters
        ----------
        units : ``SI`` or ``US``, for the order of day and month.
        """
        limit, when, briefly = self._large(units)
        said: list[Wording] = []
        for lack, lines in self._lines(units):
            if said and lines == said[-1].lines:
                continue
            lacks = [*said[-1].lacks, lack] if said else []
            said.append(Wording(lines, limit, when, list(dict.fromkeys(filter(None, lacks)))))
        last = said[-1]
        return [*said, last._replace(when=briefly, lacks=list(dict.fromkeys([*last.lacks, _DAYS])))]

    @property
    def _is_not_to_lay(self) -> bool:
        return self.limit[0] == LAY and bool(self.apart)

    def _large(self, units: str) -> tuple[str, str, str]:
        """What stands large: from when on what may be done, in full and short; or that it may not."""
        what, day = self.limit
        if self._is_not_to_lay:
            said = count_said(self.n_apart, self.count, self.apart)
            return DO_NOT_LAY, said, said
        return what, _moment(day), _short_moment(day, units)

    def _lines(self, units: str) -> Iterator[tuple[str, list[str]]]:
        """Shorter and shorter lines, each with what it lacks that the one before has, if anything."""
        shorter, few = _short_names(self.blocks), self._few_marks()
        others, short = self._others(None), self._others(units)
        poured, briefly = self._poured(None), self._poured(units)
        yield "", [*self._each(), poured, *others]
        yield (
            "which are for which course" if len(self.blocks) > 1 else "",
            [*self._together(self.blocks), poured, *others],
        )
        yield "names of parts in full", [*self._together(shorter), poured, *others]
        yield _DAYS, [*self._together(shorter), briefly, *short]
        yield "parts", [self._marks(), self._courses(), briefly, *short]
        yield "some marks", [few, self._courses(), briefly, *short]
        yield "", [f"{few}, {self._courses()}", briefly, *short]
        yield "courses", [few, briefly, *short]
        yield "marks", [counted(self.count, "block"), briefly, *short]
        yield listed([what for what, _ in self.others]), [counted(self.count, "block"), briefly]
        yield "batches", [counted(self.count, "block"), replace(self, batches=())._poured(units)]

    def _each(self) -> Iterator[str]:
        """A line for each mark and use."""
        for one in self.blocks:
            yield f"{self._of_mark(one.count, one.mark)}{f' for {one.use}' if one.use else ', spare'}"

    def _of_mark(self, count: int, mark: str) -> str:
        """So many of a mark; where the label is called by it, so many blocks."""
        return glued(counted(count, "block") if mark == self.name else f"{count} {mark}")

    def _together(self, blocks: Sequence[Blocks]) -> Iterator[str]:
        """All marks in one line, all uses in the next."""
        yield self._marks()
        yield _uses(blocks)

    def _marks(self) -> str:
        return listed([self._of_mark(count, mark) for mark, count in self._by_mark().items()])

    def _few_marks(self) -> str:
        """The first marks, and how many blocks of others there are."""
        every = list(self._by_mark().items())
        said = [self._of_mark(count, mark) for mark, count in every[:_MOST_MARKS]]
        rest = sum(count for _, count in every[_MOST_MARKS:])
        return listed([*said, counted(rest, "other")] if rest else said)

    def _by_mark(self) -> Counter[str]:
        counts: Counter[str] = Counter()
        for one in self.blocks:
            counts[one.mark] += one.count
        return counts

    def _courses(self) -> str:
        """``courses 3, 4``, whatever they are of; the parts where none is told by courses."""
        courses = sorted({one.course for one in self.blocks if one.course})
        if not courses:
            return ", ".join(dict.fromkeys(one.part or "spare" for one in _short_names(self.blocks)))
        return _courses_said(courses)

    def _poured(self, units: str | None) -> str:
        """``poured Mon 5 Apr, batch 3``; without the weekday where units tell how."""
        first, last = (_moment(day) if units is None else _short_moment(day, units) for day in self.poured)
        said = f"poured {first}" + (f" to {last}" if last != first else "")
        if not self.batches:
            return said
        named = batches_said(self.batches)
        if not self.apart:
            return f"{said}, {named}"
        which = "" if len(self.batches) == 1 else f" ({glued(listed(list(map(str, self.apart))))})"
        return f"{said}, {named}, {OUTSIDE}{which}: {SET_APART}"

    def _others(self, units: str | None) -> list[str]:
        others = [*self.others]
        if self._is_not_to_lay and self.n_apart < self.count:
            others.append((f"the rest: {self.limit[0]}", self.limit[1]))
        return [f"{what} {_moment(day) if units is None else _short_moment(day, units)}" for what, day in others]


def _uses(blocks: Sequence[Blocks]) -> str:
    """``for store courses 3, 4, and a spare``."""
    parts: dict[str, list[int]] = {}
    for one in blocks:
        parts.setdefault(one.part, []).append(one.course)
    said = [f"{part} {_courses_said(courses)}" if any(courses) else part for part, courses in parts.items() if part]
    return f"for {', '.join(said + ['spare'] * ('' in parts))}" if said else "spare"


def _courses_said(numbers: Sequence[int]) -> str:
    """``course 3``, ``courses 3, 4``."""
    several = sorted(set(numbers))
    return glued(f"course {several[0]}") if len(several) == 1 else f"courses {', '.join(map(str, several))}"


def _short_names(blocks: Sequence[Blocks]) -> list[Blocks]:
    """The same with the names of parts cut to their first letters."""
    return [
        replace(one, part=one.part if len(one.part) <= _MOST_LETTERS else one.part[: _MOST_LETTERS - 1].rstrip() + _CUT)
        for one in blocks
    ]


def _moment(day: date) -> str:
    """``Mon 5 Apr``, ``Tue 6 Apr 19:03``."""
    return glued(f"{day_name(day)} {clock(day)}" if isinstance(day, datetime) else day_name(day))


def _short_moment(day: date, units: str) -> str:
    """``5 Apr``, ``6 Apr 19:03``, by the order of the site."""
    month = MONTHS[day.month - 1]
    said = f"{month} {day.day}" if units == "US" else f"{day.day} {month}"
    return glued(f"{said} {clock(day)}" if isinstance(day, datetime) else said)
