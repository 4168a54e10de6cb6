"""Weights by what castings are worth when batches are filled at their best: no others measure batches as truly.

Column generation (Gilmore and Gomory 1961; from memory): a linear programme of fillings says what each casting is
worth, and the dearest filling at these prices joins it, until none is dearer than its batch. Whole numbers are made of
the prices at the end, so that whatever the linear programme did, what batches hold by them is reckoned exactly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from ortools.math_opt.python import mathopt

from blockrun.optimiser.problem import Load, Problem
from blockrun.optimiser.weights import Fullest

_FINENESS: Final = 100_000
"""Weight of the dearest batch while fillings are sought."""
_FINER: Final = 10
"""Times so fine are weights in the end."""
_ROUNDS: Final = 60
_NEAR: Final = 1e-4

Filling = tuple[Mapping[int, int], int]
"""How many of each casting, by place, and the place of its load."""


class Worth:
    """What castings of a mix are worth.

    Parameters
    ----------
    left : blocks of each format that are to be cast.
    castings : those of a mix.
    loads : of that mix.
    """

    def __init__(self, problem: Problem, left: Sequence[int], castings: Sequence[int], loads: Sequence[Load]) -> None:
        self.problem, self.left, self.castings, self.loads = problem, left, castings, loads
        self._volumes = [problem.castings[number].volume for number in castings]
        self._room = max(load.room for load in loads)
        roomiest = max(range(len(loads)), key=lambda at: loads[at].room)
        # those found at some costs are good ones to begin from at others
        self._fillings: list[Filling] = [
            ({at: self._room // volume}, roomiest) for at, volume in enumerate(self._volumes) if volume <= self._room
        ]

    def weights(self, costs: Sequence[int]) -> tuple[int, ...]:
        """Weights of the castings, by which batches hold no more than they cost times some number.

        Parameters
        ----------
        costs : of each load, > 0.
        """
        a_unit = _FINENESS // max(costs)
        prices: list[float] = []
        for _ in range(_ROUNDS):
            prices = self._prices(costs)
            fullest = Fullest([round(price * a_unit) for price in prices], self._volumes, self._room)
            dearer = (
                (fullest.filling(load.room), at)
                for at, (load, cost) in enumerate(zip(self.loads, costs, strict=True))
                if fullest.most(load.room) > cost * a_unit * (1 + _NEAR)
            )
            new = [filling for filling in dearer if filling not in self._fillings]
            if not new:
                break
            self._fillings += new
        return tuple(round(price * a_unit * _FINER) for price in prices)

    def _prices(self, costs: Sequence[int]) -> list[float]:
        """What each casting is worth were the fillings that are known all there are."""
        fillings = self._fillings
        model = mathopt.Model(name="fillings")
        cast = [model.add_variable(lb=0.0) for _ in self.castings]
        made = [model.add_variable(lb=0.0) for _ in fillings]
        filled = [
            model.add_linear_constraint(
                mathopt.fast_sum([of[at] * n for (of, _), n in zip(fillings, made, strict=True) if at in of]) - cast[at]
                >= 0.0
            )
            for at in range(len(self.castings))
        ]
        for block, wanted in enumerate(self.left):
            gives = [self.problem.castings[number].of(block) for number in self.castings]
            if any(gives):
                given = mathopt.fast_sum([count * n for count, n in zip(gives, cast, strict=True) if count])
                model.add_linear_constraint(given >= float(wanted))
        model.minimize(mathopt.fast_sum([float(costs[of]) * n for (_, of), n in zip(fillings, made, strict=True)]))
        result = mathopt.solve(model, mathopt.SolverType.GLOP)
        if not result.has_dual_feasible_solution():
            return [0.0] * len(self.castings)
        prices = result.dual_values()
        return [max(0.0, prices[row]) for row in filled]
