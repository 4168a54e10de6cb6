"""Courses that share a setting, so that moulds are set anew less often."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.ways import Setting, Way, bed_fits, limits_of
from blockrun.order.domes.wedge import Limits, fit

MORE_TO_SHARE: Final = 0.1
"""A course takes a neighbour's setting when it then needs no more than a tenth more blocks (our choice)."""


def shared(dome: DomePart, courses: Sequence[Course], own: Sequence[Setting]) -> list[Setting]:
    """Settings of runs of courses, each run as long as one of its own settings serves it all."""
    found: list[Setting] = []
    while len(found) < len(courses):
        start, end, kept = len(found), len(found) + 1, own[len(found)]
        while end < len(courses) and own[end].way is own[start].way is not Way.SAWN:
            if own[end] == kept:
                end += 1
                continue
            wider = _serving(dome, courses[start : end + 1], own[start : end + 1])
            if wider is None:
                break
            kept, end = wider, end + 1
        found += [kept] * (end - start)
    return found


def _serving(dome: DomePart, courses: Sequence[Course], own: Sequence[Setting]) -> Setting | None:
    """The setting among those of some courses that serves them all with the fewest blocks, if any does."""
    serving: list[tuple[int, int, Setting]] = []
    limits = limits_of(dome, own[0].way)
    least = [_count(course, setting, limits) for course, setting in zip(courses, own, strict=True)]
    for place, setting in enumerate(own):
        if setting in own[:place]:
            continue
        counts = [_count(course, setting, limits) for course in courses]
        enough = all(0 < n <= most + max(1, MORE_TO_SHARE * most) for n, most in zip(counts, least, strict=True))
        beds = all(bed_fits(dome, course, setting.laid.bed_deg) for course in courses)
        if enough and beds:
            serving.append((sum(counts), place, setting))
    return min(serving)[2] if serving else None


def _count(course: Course, setting: Setting, limits: Limits) -> int:
    """Blocks of this setting that close the course by their joints alone; 0 where they do not."""
    found = fit(course, setting.laid, limits)
    return found.count if found and not found.closing_rad else 0
