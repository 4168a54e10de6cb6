"""How big a plan may get at the most, so that all that is worth having has room in it."""

from __future__ import annotations

from dataclasses import dataclass

from blockrun.optimiser.problem import Mould, Problem


@dataclass(frozen=True)
class Size:
    """So many batches, and so many of each casting by its number."""

    batches: int
    castings: dict[int, int]

    def numbers(self, problem: Problem, late: int) -> int:
        """How many numbers there are of all batches, turns, castings, and days that something may be owed on."""
        owed = sum(1 + late + block.needs[-1][0] - block.needs[0][0] for block in problem.formats if block.needs)
        in_turns = sum(len(casts) * sum(self.castings[c] for c in casts) for casts in map(self._casts, problem.moulds))
        return self.batches * in_turns * (1 + owed)

    def _casts(self, mould: Mould) -> frozenset[int]:
        return mould.casts & self.castings.keys()


def size_of(problem: Problem) -> Size:
    """Of all castings no more than are of use by themselves; each batch is needed for a block, or gives a set."""
    useful = problem.useful([block.demand for block in problem.formats])
    castings = {number: useful[number] for number in problem.in_moulds if useful[number]}
    blocks = sum(block.demand for block in problem.formats)
    return Size(blocks + _sets(problem, blocks), castings)


def _sets(problem: Problem, batches: int) -> int:
    """Sets that so many batches owe: no more batches than that are made for cubes alone."""
    cubes = problem.cubes
    if cubes is None:
        return 0
    if not cubes.lots:
        return batches
    cement = max(load.cement for load in problem.loads)
    return max(-int(-(batches * cement) // lot) for lot in cubes.lots)
