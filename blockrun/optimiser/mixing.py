"""How many batches the mixers make in any stretch of a day, whatever else goes on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.makers import Maker, makers_of
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.slots import Stretch


@dataclass(frozen=True)
class Ceiling:
    """What batches may cost together, at most: by maker, for counts, and by load, for batches of a known size."""

    of_maker: dict[int, int]
    of_load: dict[int, int]
    most: int

    def holds(self, loads: Iterable[int]) -> bool:
        """Whether batches of these loads stay under it."""
        return sum(self.of_load.get(load, 0) for load in loads) <= self.most


class Mixing:
    """Batches a stretch, kept."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.makers = makers_of(problem)
        self.ceilings = cache(self._ceilings)
        self.batches_of = cache(self._batches_of)
        self._starts = cache(self._starts_of)

    def batches_in(self, stretch: Stretch, maker: Maker) -> int:
        """Most batches of one maker poured in a stretch of a day."""
        spans = self._pours(stretch, [maker])
        return sum(1 + (late - early) // maker.shortest.length for early, late in spans)

    def _batches_of(self, stretch: Stretch, mixer: int) -> int:
        """Most batches of one mixer poured in a stretch of a day."""
        own = [maker for maker in self.makers if maker.mixer == mixer]
        shortest = min((maker.shortest.length for maker in own), default=1)
        return sum(1 + (late - early) // shortest for early, late in self._pours(stretch, own))

    def _pours(self, stretch: Stretch, of: list[Maker]) -> list[tuple[int, int]]:
        """First and last minute, in each part of the day, at which a batch's pour may end in a stretch of it."""
        spans: list[tuple[int, int]] = []
        for index in (index for maker in of for index in maker.loads):
            load = self.problem.loads[index]
            for start, end in self._starts(stretch.day, index):
                early, late = max(start + load.to_poured, stretch.first), min(end + load.to_poured, stretch.last)
                if early <= late:
                    spans.append((early, late))
        return _joined(spans)

    def _starts_of(self, day: int, load: int) -> list[tuple[int, int]]:
        return batch_starts(self.problem.days[day], self.problem.loads[load])

    def _ceilings(self, stretch: Stretch) -> tuple[Ceiling, ...]:
        """Ceilings of the batches poured in a stretch of a day.

        From the end of one pour to the end of the next in a mixer passes at least the length of the
        next, so all but the first of a part lie between its first and last minute.
        """
        of_mixer: dict[int, dict[int, Maker]] = {}
        for index, maker in enumerate(self.makers):
            of_mixer.setdefault(maker.mixer, {})[index] = maker
        ceilings = []
        for mixer, own in of_mixer.items():
            ceilings.append(self._ceiling(dict.fromkeys(own, 1), self.batches_of(stretch, mixer)))
            spans = self._pours(stretch, list(own.values()))
            lengths = {index: maker.shortest.length for index, maker in own.items()}
            longest = max(lengths.values())
            ceilings.append(self._ceiling(lengths, sum(late - early + longest for early, late in spans)))
        if len(of_mixer) > 1:
            ceilings.append(self._foam_ceiling(stretch))
        return tuple(ceilings)

    def _foam_ceiling(self, stretch: Stretch) -> Ceiling:
        """Foam steps of all mixers follow one another, each ending its own pour time before its pour does."""
        foam = {i: min(self.problem.loads[j].foam for j in maker.loads) for i, maker in enumerate(self.makers)}
        pours = [self.problem.loads[j].pour for maker in self.makers for j in maker.loads]
        spans = self._pours(stretch, list(self.makers))
        slack = max(foam.values()) + max(pours) - min(pours)
        return self._ceiling(foam, sum(late - early + slack for early, late in spans))

    def _ceiling(self, of_maker: dict[int, int], most: int) -> Ceiling:
        of_load = {load: cost for index, cost in of_maker.items() for load in self.makers[index].loads}
        return Ceiling(of_maker, of_load, most)


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans, both ends included, in order and joined where they overlap."""
    joined: list[tuple[int, int]] = []
    for early, late in sorted(spans):
        if joined and early <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], late))
        else:
            joined.append((early, late))
    return joined
