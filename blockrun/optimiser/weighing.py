"""What the batches of a mix can hold by many ways of weighing its blocks, and so what an order takes at the least."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.problem import Load, Problem
from blockrun.optimiser.shares import least_each
from blockrun.optimiser.state import State
from blockrun.optimiser.weights import Fullest, standard_weights

Weights = npt.NDArray[np.int64]

_LONGEST_WALK = 10_000
"""Steps of cement walked one by one; each takes some 20 microseconds."""


@dataclass(frozen=True)
class Way:
    """Weights, and a line above what any batch of a mix holds by them: so much a step of cement and a batch."""

    weights: tuple[int, ...]
    per_cement: int
    per_batch: int


class Weighing:
    """Ways of weighing the blocks of each mix; all it says holds for every plan, whatever the days.

    Weights are whole numbers without a unit, rooms 1/100 mL, cement steps of a bag, agent microlitres. What is of a mix
    is of its blocks that are still to pour; what is of the whole order holds what ``begun`` has made of it.
    """

    def __init__(self, problem: Problem, begun: State | None = None) -> None:
        self.problem, self.begun = problem, begun or State()
        self.left = self.begun.left_to_pour(problem)
        self.held = cache(self._held)
        self.fewest_of, self.least_of = cache(self._fewest), cache(self._least)
        # they are big, and asked for one after the other
        self._fullest = lru_cache(1)(self._fullest_of)

    @property
    def _mixes(self) -> list[int]:
        """Mixes of which there is something to cast; of a job that has begun some may be done with."""
        return [mix for mix in self.problem.mixes if self.castings_of(mix)]

    @cached_property
    def ways(self) -> dict[int, list[tuple[int, ...]]]:
        """The weights in use, by mix; each tuple has a weight for each of ``castings_of`` the mix."""
        found = {}
        for mix in self._mixes:
            volumes = [self.problem.castings[number].volume for number in self.castings_of(mix)]
            found[mix] = standard_weights(volumes, [load.room for load in self.problem.loads_of(mix)])
        return found

    @cached_property
    def true_ways(self) -> dict[int, list[Way]]:
        """By what castings are worth where batches are to be few, cement is to be spared, or both."""
        from blockrun.optimiser.worth import Worth  # it solves, and brings what does

        found = {}
        for mix in self._mixes:
            loads = self.problem.loads_of(mix)
            worth, most = (
                Worth(self.problem, self.left, self.castings_of(mix), loads),
                max(load.cement for load in loads),
            )
            # a batch counts as so much cement on top of its own, or cement for nothing
            costs = {(1, most * n): [load.cement + most * n for load in loads] for n in (0, 1, 4)}
            costs[0, 1] = [1] * len(loads)
            ways = (self._way(mix, worth.weights(each), *of) for of, each in costs.items())
            found[mix] = [way for way in ways if any(way.weights)]
        return found

    def _way(self, mix: int, weights: tuple[int, ...], cement: int, batch: int) -> Way:
        """The line over what batches hold that has the slope of the costs by which these weights were found."""
        loads = self.problem.loads_of(mix)
        held = [self.held(mix, weights, load.room) for load in loads]
        costs = [cement * load.cement + batch for load in loads]
        slope = max(-(-h * cement // cost) for h, cost in zip(held, costs, strict=True))
        return Way(weights, slope, max(h - slope * load.cement for h, load in zip(held, loads, strict=True)))

    def castings_of(self, mix: int) -> list[int]:
        """Castings of a mix that there are moulds for."""
        return [number for number in self.problem.in_moulds if self.problem.castings[number].mix == mix]

    def _held(self, mix: int, weights: tuple[int, ...], room: int) -> int:
        """Greatest weight a batch with this room can hold, and the moulds can take from it.

        A turn ends after the pour of its last batch, so one batch fills each mould at most once.
        """
        castings = self.castings_of(mix)
        in_moulds = sum(
            mould.count
            * mould.cavities
            * max(
                (weight for number, weight in zip(castings, weights, strict=True) if number in mould.casts), default=0
            )
            for mould in self.problem.moulds
        )
        return min(self._fullest(mix, weights).most(room), in_moulds)

    def _fullest_of(self, mix: int, weights: tuple[int, ...]) -> Fullest:
        volumes = [self.problem.castings[number].volume for number in self.castings_of(mix)]
        return Fullest(weights, volumes, max(load.room for load in self.problem.loads_of(mix)))

    def _weight(self, mix: int, weights: tuple[int, ...]) -> int:
        """Least weight of castings that give all blocks of a mix."""
        each = least_each(self.problem, dict(zip(self.castings_of(mix), weights, strict=True)))
        return math.ceil(sum(weight * self.left[block] for block, weight in each.items()))

    @cached_property
    def fewest_batches(self) -> int:
        """Batches the whole order takes at the least."""
        return len(self.begun.batches) + sum(self.fewest_of(mix) for mix in self.ways)

    def _all_ways(self, mix: int) -> list[tuple[int, ...]]:
        return self.ways[mix] + [way.weights for way in self.true_ways[mix]]

    def _fewest(self, mix: int) -> int:
        biggest = max(load.room for load in self.problem.loads_of(mix))
        held = {weights: self.held(mix, weights, biggest) for weights in self._all_ways(mix)}
        return max((-(-self._weight(mix, weights) // most) for weights, most in held.items() if most), default=0)

    @cached_property
    def least_cement(self) -> int:
        """Cement the whole order takes at the least, in the problem's unit."""
        return self.begun.cement() + sum(self.least_of(mix) for mix in self.ways)

    @cached_property
    def least_agent(self) -> int:
        """Foaming agent the whole order takes at the least, in the problem's unit."""
        a_step = {mix: min(load.agent // load.cement for load in self.problem.loads_of(mix)) for mix in self.ways}
        return self.begun.agent() + sum(self.least_of(mix) * a_step[mix] for mix in self.ways)

    def _least(self, mix: int) -> int:
        """Cement of the cheapest set of whole batches that holds the blocks of a mix by each weighing alone.

        ``most[c]`` is the greatest weight, by each weighing, of batches with ``c`` of cement in all.
        """
        ways, loads = self._all_ways(mix), self.problem.loads_of(mix)
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
