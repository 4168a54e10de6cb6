"""What is taken at which minute: people of one day, things that serve one at a time, places on the rack."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

MINUTES_A_DAY = 1440
Span = tuple[int, int]


class People:
    """Who is free at each minute of one working day; minutes count from midnight of the first day."""

    def __init__(self, midnight: int, windows: Iterable[Span], people: int) -> None:
        self.midnight = midnight
        self.windows = tuple((midnight + start, midnight + end) for start, end in windows)
        self.free: npt.NDArray[np.int64] = np.full(MINUTES_A_DAY, people)

    def take(self, start: int, end: int, people: int) -> None:
        """Keep people busy."""
        self.free[start - self.midnight : end - self.midnight] -= people

    def starts(self, length: int, people: int, at: int) -> Iterator[int]:
        """Minutes from ``at`` on from which so many are free for so long, without a break between."""
        for opens, closes in self.windows:
            start = max(opens, at)
            while start + length <= closes:
                of_day = start - self.midnight
                (short,) = np.nonzero(self.free[of_day : of_day + length] < people)
                if short.size:
                    start += int(short[-1]) + 1
                else:
                    yield start
                    start += 1


@dataclass
class OneAtATime:
    """A mixer, or the generator: spans that may not overlap."""

    spans: list[Span] = field(default_factory=list)

    def is_free(self, start: int, end: int) -> bool:
        """Whether nothing else runs in this span."""
        nth = bisect_left(self.spans, (start, start))
        before = nth > 0 and self.spans[nth - 1][1] > start
        after = nth < len(self.spans) and self.spans[nth][0] < end
        return not before and not after

    def take(self, start: int, end: int) -> None:
        """Run in this span."""
        if start < end:
            insort(self.spans, (start, end))


@dataclass
class Places:
    """Places on the racks, taken from a minute to another."""

    places: int
    stays: list[tuple[int, int, int]] = field(default_factory=list)

    def has_room(self, start: int, end: int, blocks: int) -> bool:
        """Whether so many more blocks find a place all the time."""
        meanwhile = [stay for stay in self.stays if stay[0] < end and stay[1] > start]
        moments = {start, *(since for since, _, _ in meanwhile if since > start)}
        return start == end or all(
            sum(n for since, until, n in meanwhile if since <= moment < until) + blocks <= self.places
            for moment in moments
        )

    def take(self, start: int, end: int, blocks: int) -> None:
        """Put blocks there."""
        self.stays.append((start, end, blocks))

    def taken(self, moment: int) -> int:
        """Places taken at a minute."""
        return sum(n for since, until, n in self.stays if since <= moment < until)

    def next_leaves(self, moment: int) -> int:
        """First minute after one at which blocks leave; the minute after it where none do."""
        return min((until for _, until, _ in self.stays if until > moment), default=moment + 1)

    def forget(self, before: int) -> None:
        """Stays that ended by a minute matter no more."""
        self.stays = [stay for stay in self.stays if stay[1] > before]
