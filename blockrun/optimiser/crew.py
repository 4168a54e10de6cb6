"""When the people of a batch are there together, and how much work all people have time for."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TYPE_CHECKING

from blockrun.optimiser.problem import Day, Load, Problem

if TYPE_CHECKING:
    from blockrun.optimiser.slots import Stretch


def batch_windows(day: Day, crew: int) -> list[tuple[int, int]]:
    """Parts of a day in which the crew of a batch can be together: windows less the minutes chores need them."""
    parts: list[tuple[int, int]] = []
    for start, end in day.windows:
        changes = {minute for chore in day.chores for minute in (chore.start, chore.end) if start < minute < end}
        for since, until in pairwise([start, *sorted(changes), end]):
            if _present(day, since) < crew:
                continue
            if parts and parts[-1][1] == since and since != start:
                parts[-1] = (parts[-1][0], until)
            else:
                parts.append((since, until))
    return parts


def _present(day: Day, minute: int) -> int:
    busy = sum(chore.people for chore in day.chores if chore.start <= minute < chore.end)
    return day.people - busy


def batch_starts(day: Day, load: Load) -> list[tuple[int, int]]:
    """First and last minute, both allowed, at which a batch may start, in each part of the day."""
    return starts_in(batch_windows(day, load.crew), day, load)


def starts_in(windows: Iterable[tuple[int, int]], day: Day, load: Load) -> list[tuple[int, int]]:
    """The same, where it is known in which parts of the day its crew can be together.

    Hot hours part them further. That only rules plans out, so what bounds take from here bounds plans as before.
    """
    starts = []
    for start, end in windows:
        last = min(end - load.length, day.last_foam - load.slurry)
        for hot, cool in day.too_hot(load) if day.hot else ():
            if start < hot:
                starts.append((start, min(last, hot - 1)))
            start = max(start, cool)
        starts.append((start, last))
    return [(start, last) for start, last in starts if start <= last]


def person_minutes(problem: Problem, stretch: Stretch) -> int:
    """Minutes all people have for what ends in a stretch of a day, begun before it or not."""
    day = problem.days[stretch.day]
    minutes = sum(max(0, min(end, stretch.last + 1) - max(start, stretch.first)) for start, end in day.windows)
    from_opening = stretch.first <= day.opens
    return day.people * (minutes if from_opening else minutes + _longest_task(problem))


def _longest_task(problem: Problem) -> int:
    of_moulds = [max(mould.strip, mould.clean, mould.sides) for mould in problem.moulds]
    return max(of_moulds + [load.to_poured for load in problem.loads])
