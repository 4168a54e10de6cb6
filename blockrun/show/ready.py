"""Blocks that become ready to lay: for which course, by when, and what of it is still to come."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.show.page import ALARM, Part, glued
from blockrun.show.words import place_said
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Ready


def ready_said(blocks: Sequence[Ready]) -> Iterator[list[Part]]:
    """Say what is ready on one day, use by use: ``24 full for north course 4, needed Mon 17 May; the course is whole``.

    Parameters
    ----------
    blocks : of the day, those of one use after one another.
    """
    for (part, course, needed, days_late, to_come, apart), alike in groupby(blocks, key=_use):
        counts = listed([glued(f"{ready.count} {ready.block}") for ready in alike])
        yield [counts, *_purpose(part, course, needed, days_late), *_the_rest(course, to_come, apart)]


def _use(ready: Ready) -> tuple[str, int | None, date | None, int, int, int]:
    return ready.part, ready.course, ready.needed, ready.days_late, ready.to_come, ready.apart


def _the_rest(course: int | None, to_come: int, apart: int) -> list[Part]:
    """A course, above all a ring, is ready only when all its blocks are."""
    if course is None:
        return []
    left = [f"{glued(f'{to_come} more')} to come"] if to_come else []
    left += [f"{apart} set apart"] if apart else []
    return [f"; {listed(left) or 'the course is whole'}"]


def _purpose(part: str, course: int | None, needed: date | None, days_late: int) -> list[Part]:
    """What blocks are for, when they are needed, and how late they are."""
    if not part:
        return [", spare"]
    said: list[Part] = [f" for {place_said(part, course)}"]
    if needed is not None:
        said.append(f", needed {glued(day_name(needed))}")
    if days_late:
        said += [", ", (glued(f"{counted(days_late, 'day')} LATE"), ALARM)]
    return said
