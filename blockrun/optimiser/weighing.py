"""What the batches of a mix can hold by many ways of weighing its blocks, and so what an order takes at the least."""

from __future__ import annotations

import math
from functools import cache, cached_property

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.problem import Load, Problem
from blockrun.optimiser.shares import least_each
from blockrun.optimiser.weights import most_weight, standard_weights

Weights = npt.NDArray[np.int64]

_LONGEST_WALK = 10_000
"""Steps of cement walked one by one; each takes some 20 microseconds."""


class Weighing:
    """Ways of weighing the blocks of each mix; all it says holds for every plan, whatever the days.

    Weights are whole numbers without a unit, rooms 1/100 mL, cement steps of a bag, agent microlitres.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.held = cache(self._held)

    @cached_property
    def ways(self) -> dict[int, list[tuple[int, ...]]]:
        """The weights in use, by mix; each tuple has a weight for each of ``castings_of`` the mix."""
        found = {}
        for mix in self.problem.mixes:
            volumes = [self.problem.castings[number].volume for number in self.castings_of(mix)]
            found[mix] = standard_weights(volumes, [load.room for load in self._loads(mix)])
        return found

    def castings_of(self, mix: int) -> list[int]:
        """Castings of a mix that there are moulds for."""
        return [number for number in self.problem.in_moulds if self.problem.castings[number].mix == mix]

    def _loads(self, mix: int) -> list[Load]:
        return [load for load in self.problem.loads if load.mix == mix]

    def _held(self, mix: int, weights: tuple[int, ...], room: int) -> int:
        """Greatest weight a batch with this room can hold, and the moulds can take from it.

        A turn ends after the pour of its last batch, so one batch fills each mould at most once.
        """
        castings = self.castings_of(mix)
        volumes = [self.problem.castings[number].volume for number in castings]
        in_moulds = sum(
            mould.count
            * mould.cavities
            * max(
                (weight for number, weight in zip(castings, weights, strict=True) if number in mould.casts), default=0
            )
            for mould in self.problem.moulds
        )
        return min(most_weight(weights, volumes, room), in_moulds)

    def _weight(self, mix: int, weights: tuple[int, ...]) -> int:
        """Least weight of castings that give all blocks of a mix."""
        each = least_each(self.problem, dict(zip(self.castings_of(mix), weights, strict=True)))
        return math.ceil(sum(weight * self.problem.formats[block].demand for block, weight in each.items()))

    @cached_property
    def fewest_batches(self) -> int:
        """Batches the whole order takes at the least."""
        return sum(self._fewest_of(mix) for mix in self.ways)

    def _fewest_of(self, mix: int) -> int:
        biggest = max(load.room for load in self._loads(mix))
        held = {weights: self.held(mix, weights, biggest) for weights in self.ways[mix]}
        return max(-(-self._weight(mix, weights) // most) for weights, most in held.items() if most)

    @cached_property
    def least_cement(self) -> int:
        """Cement the whole order takes at the least, in the problem's unit."""
        return sum(self._least_of(mix) for mix in self.ways)

    @cached_property
    def least_agent(self) -> int:
        """Foaming agent the whole order takes at the least, in the problem's unit."""
        return sum(
            self._least_of(mix) * min(load.agent // load.cement for load in self._loads(mix)) for mix in self.ways
        )

    def _least_of(self, mix: int) -> int:
        """Cement of the cheapest set of whole batches that holds the blocks of a mix by each weighing alone.

        ``most[c]`` is the greatest weight, by each weighing, of batches with ``c`` of cement in all.
        """
        ways, loads = self.ways[mix], self._loads(mix)
        held = np.array([[self.held(mix, weights, load.room) for weights in ways] for load in loads])
        due = np.array([self._weight(mix, weights) for weights in ways]) * (held.max(axis=0) > 0)
        most = [np.zeros(len(ways), dtype=np.int64)]
        while (most[-1] < due).any():
            cement = len(most)
            if cement > _LONGEST_WALK:
                return self._by_ratio(held, due, loads)
            last = [most[cement - load.cement] + held[i] for i, load in enumerate(loads) if load.cement <= cement]
            most.append(np.max([most[-1], *last], axis=0))
        return len(most) - 1

    def _by_ratio(self, held: Weights, due: Weights, loads: list[Load]) -> int:
        """The same without whole batches: what an order too big for the walk takes by its best load alone."""
        cements = np.array([load.cement for load in loads], dtype=float)
        best = (held / cements[:, None]).max(axis=0)
        needed = due[best > 0] / best[best > 0]
        return math.ceil(float(needed.max(initial=0.0)) - 1e-6)
