"""Blocks laid in a course that is hardly meant: it has no more of them, or nothing is laid of those under it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.units import listed
from blockrun.yard.now import Kind, Pile

if TYPE_CHECKING:
    from blockrun.yard.journal.events import Laid
    from blockrun.yard.record.known import Known


def course_doubted(event: Laid, known: Known) -> Iterator[str]:
    """More than a course has, and one that stands on nothing, by what is recorded."""
    if event.course is not None:
        yield from _too_many(event, event.course, known)
        yield from _on_nothing(event.part, event.course, known)


def _too_many(event: Laid, course: int, known: Known) -> Iterator[str]:
    due: Counter[Kind] = known.plan.courses.get((event.part, course), Counter())
    before = known.state.laid.get((event.part, course), Pile())
    for blocks in event.blocks:
        kind = (blocks.mark, blocks.mix)
        laid = blocks.count + before.count(kind)
        if laid > due[kind]:
            has = f"{due[kind]} {blocks.mark}" if due[kind] else f"no {blocks.mark}"
            yield f"{event.part} course {course} has {has}, and {laid} are laid in it now. Is it another course?"


def _on_nothing(part: str, course: int, known: Known) -> Iterator[str]:
    """Courses under it of which nothing is laid; nobody can tell where some were laid without their course."""
    laid = {under for (of, under), pile in known.state.laid.items() if of == part and pile}
    if course in laid or 0 in laid:
        return
    courses = {one for of, one in known.plan.courses if of == part and one is not None}
    if bare := [str(one) for one in sorted(courses - laid) if one < course]:
        of = f"{part} course{'s' * (len(bare) > 1)} {listed(bare)}"
        yield f"nothing of {of} is laid by what is recorded. Is it another course?"
