"""A part course by course: how many blocks, when they are poured, ready and needed, and how far they are by a day."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.show.report.dealt import Cast
from blockrun.show.report.lives import STATES
from blockrun.show.words import days_said

if TYPE_CHECKING:
    from blockrun.show.report.lives import Lives


@dataclass(frozen=True)
class Course:
    """Blocks of one course, or of none, in a part.

    Parameters
    ----------
    name : its number, or words for blocks of no course.
    marks : how many of each.
    poured, ready, laid : from when to when; the day all are ready, and all are laid, empty where some never are.
    lives : how many blocks of each life.
    counts : blocks in each state on the day that is shown.
    """

    name: str
    blocks: int
    marks: str
    poured: str
    ready: str
    laid: str
    lives: tuple[tuple[int, int], ...]
    counts: tuple[int, ...]


def courses(casts: Sequence[Cast], lives: Lives) -> list[Course]:
    """A row for each course of a part, blocks of no course last; spares by mark."""
    rows: dict[tuple[bool, int], list[Cast]] = defaultdict(list)
    for cast in casts:
        rows[cast.course is None, cast.course or 0].append(cast)
    return [_course(str(course) if not none else "none", of, lives) for (none, course), of in sorted(rows.items())]


def spares(casts: Sequence[Cast], lives: Lives) -> list[Course]:
    """A row for each mark of the spares."""
    rows: dict[str, list[Cast]] = defaultdict(list)
    for cast in casts:
        rows[cast.mark].append(cast)
    return [_course(mark, of, lives) for mark, of in sorted(rows.items())]


def _course(name: str, casts: Sequence[Cast], lives: Lives) -> Course:
    count = Counter(cast.life for cast in casts)
    each = [lives.each[life] for life in count]
    states = Counter[int]()
    for life, blocks in count.items():
        states[lives.each[life].state(lives.shown)] += blocks
    marks = Counter(cast.mark for cast in casts)
    return Course(
        name,
        len(casts),
        ", ".join(f"{blocks} {mark}" for mark, blocks in sorted(marks.items())),
        days_said(lives.date(min(life.poured for life in each)), lives.date(max(life.poured for life in each))),
        _all_by([life.ready for life in each], lives),
        _all_by([life.laid for life in each], lives),
        tuple(sorted(count.items())),
        tuple(states[state] for state in range(len(STATES))),
    )


def _all_by(days: Sequence[int | None], lives: Lives) -> str:
    """The last of some days; empty where one never comes."""
    return "" if None in days else day_name(lives.date(max(day for day in days if day is not None)))
