"""Frost: when it comes, and what must be done before. No mould may stand in it between pour and strip.

Frost is seen as far as the days of the problem; whatever comes after them is not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from blockrun.optimiser.problem import Problem

_NEAR_DAYS = 7
_LONGEST_TAIL = 15


class Frost:
    """Frost of a problem. Days are numbers of calendar days, positions are places among the working days."""

    def __init__(self, problem: Problem) -> None:
        self._days, self._clear_until = problem.days, problem.clear_until
        self._last = problem.horizon - 1

    @property
    def ever(self) -> bool:
        """Whether there is any."""
        return bool((self._clear_until < 0).any())

    @property
    def at_the_end(self) -> bool:
        """Whether the days end in frost."""
        return bool(self._clear_until[-1] < 0)

    @property
    def last_clear(self) -> int:
        """The last day of all that is clear, -1 without any."""
        return max((day for day in range(self._last + 1) if self._clear_until[day] >= 0), default=-1)

    def before(self, day: int) -> int | None:
        """The last clear day before it freezes, -1 where it does so on this one; ``None`` where it never does."""
        clear = int(self._clear_until[day])
        return clear if clear < self._last else None

    def spares(self, first: int, last: int) -> bool:
        """Whether it does not freeze from one day to another."""
        return last <= int(self._clear_until[first])

    def comes_overnight(self, position: int, since: int) -> bool:
        """Whether what stands since a day must be stripped on this one, for frost comes before the next working day."""
        clear = self.before(since)
        return clear is not None and (position + 1 == len(self._days) or self._days[position + 1].number > clear)

    def is_near(self, position: int, since: int) -> bool:
        """Whether it freezes within a week of this day on what stands since a day."""
        clear = self.before(since)
        return clear is not None and clear < self._days[position].number + _NEAR_DAYS

    def last_days(self, positions: Iterable[int]) -> Iterator[int]:
        """Those of the days that are the last working day before a frost."""
        for position in positions:
            day = self._days[position].number
            if int(self._clear_until[day]) >= 0 and self.comes_overnight(position, day):
                yield position

    def tail(self, last: int) -> int:
        """Last day to count: on to the coming frost, if one is near, for all must be stripped by then."""
        clear = self.before(self._days[last].number)
        if clear is None:
            return last
        end = last
        while end + 1 < len(self._days) and self._days[end + 1].number <= clear:
            end += 1
        return end if end - last <= _LONGEST_TAIL else last
