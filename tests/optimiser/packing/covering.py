"""Packing as a cover by whole batches: every way to fill a batch is listed, and HiGHS chooses among them.

Nothing here is taken from ``pack``. A way is as full as it gets, so ways may hold more blocks than are wanted: leaving
some out makes none of it worse.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ortools.math_opt.python import mathopt

from tests.optimiser.packing.days import PackedDay


def fullest(volumes: Sequence[int], most: Sequence[int], room: int) -> Iterator[tuple[int, ...]]:
    """All ways to fill a room with up to so many of each volume, such that nothing more goes in."""
    if not volumes:
        yield ()
        return
    for count in range(min(most[0], room // volumes[0]), -1, -1):
        left = room - count * volumes[0]
        for rest in fullest(volumes[1:], most[1:], left):
            still = left - sum(volume * n for volume, n in zip(volumes[1:], rest, strict=True))
            if count == most[0] or still < volumes[0]:
                yield (count, *rest)


@dataclass(frozen=True)
class Way:
    """A batch of one load, filled: how many of each casting, and how many sets of cubes."""

    load: int
    content: dict[int, int]
    sets: int


@dataclass(frozen=True)
class Covering:
    """All ways to fill the batches of a day, and the least that cover what it asks."""

    day: PackedDay

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """Every batch there may be."""
        return tuple(way for number in range(len(self.day.problem.loads)) for way in self._ways_of(number))

    def _ways_of(self, number: int) -> Iterator[Way]:
        problem = self.day.problem
        load = problem.loads[number]
        blocks = [b for b, count in self.day.wanted.items() if count and problem.castings[b].mix == load.mix]
        volumes = [problem.castings[b].volume for b in blocks]
        most = [self.day.wanted[b] for b in blocks]
        if problem.cubes is not None and blocks:
            volumes.append(problem.cubes.volume)
            most.append(load.room // problem.cubes.volume)
        for counts in fullest(volumes, most, load.room):
            content = dict(zip(blocks, counts, strict=False))
            yield Way(number, content, sum(counts[len(blocks) :]))

    def least(self, *, thrifty: bool = False) -> tuple[int, int] | None:
        """Batches and cement: fewest and then least, or ``thrifty`` the other way round; ``None`` where none cover."""
        model = mathopt.Model()
        used = [(way, model.add_integer_variable(lb=0)) for way in self.ways]
        self._cover(model, used)
        self._sets(model, used)
        for ceiling in self.day.ceilings:
            model.add_linear_constraint(_sum((ceiling.of_load.get(way.load, 0), n) for way, n in used) <= ceiling.most)
        batches, cement = _sum((1, n) for _, n in used), self._cement(used)
        first, second = (cement, batches) if thrifty else (batches, cement)
        best = _least(model, first)
        if best is None:
            return None
        model.add_linear_constraint(first == best)
        then = _least(model, second)
        assert then is not None
        return (then, best) if thrifty else (best, then)

    def _cement(self, used: Any) -> Any:
        return _sum((self.day.problem.loads[way.load].cement, n) for way, n in used)

    def _cover(self, model: mathopt.Model, used: Any) -> None:
        """All blocks are poured."""
        for block, count in self.day.wanted.items():
            if count:
                model.add_linear_constraint(_sum((way.content.get(block, 0), n) for way, n in used) >= count)

    def _sets(self, model: mathopt.Model, used: Any) -> None:
        """Each lot gives a set: no more cement than the sets given allow."""
        problem = self.day.problem
        for mix in {problem.castings[block].mix for block, count in self.day.wanted.items() if count}:
            due = self.day.cubes.get(mix)
            of_mix = [(way, n) for way, n in used if problem.loads[way.load].mix == mix]
            sets = _sum((way.sets, n) for way, n in of_mix)
            if due is not None and due.lot is None:
                model.add_linear_constraint(due.given + sets >= 1)
            elif due is not None and due.lot is not None:
                lot = due.lot
                made = due.made + self._cement(of_mix)
                model.add_linear_constraint(lot.denominator * made <= lot.numerator * (due.given + sets))


def _sum(terms: Any) -> Any:
    return mathopt.fast_sum([weight * n for weight, n in terms if weight])


def _least(model: mathopt.Model, aim: Any) -> int | None:
    model.minimize(aim)
    exact = mathopt.SolveParameters(relative_gap_tolerance=0.0, absolute_gap_tolerance=0.0)
    result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=exact)
    if result.termination.reason == mathopt.TerminationReason.OPTIMAL:
        found: float = result.objective_value()
        return round(found)
    assert result.termination.reason == mathopt.TerminationReason.INFEASIBLE, result.termination
    return None
