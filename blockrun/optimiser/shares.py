"""What each block costs at the least, whichever casting it comes from: costs of castings as costs of blocks.

A slab's cost is spread over its blocks by their volume, and of all castings that give a block the cheapest
counts. Whatever castings are poured then cost at least as much as the blocks that come of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from blockrun.optimiser.problem import Problem


def least_each(problem: Problem, costs: Mapping[int, int]) -> dict[int, int | Fraction]:
    """Least cost of a block of each format.

    Parameters
    ----------
    costs : of castings, >= 0.

    Returns
    -------
    For each format that one of these castings gives.
    """
    least: dict[int, int | Fraction] = {}
    for number, cost in costs.items():
        for block, of_block in _spread(problem, number, cost):
            least[block] = min(of_block, least.get(block, of_block))
    return least


def _spread(problem: Problem, number: int, cost: int) -> list[tuple[int, int | Fraction]]:
    casting = problem.castings[number]
    if casting.blocks == 1:
        return [(casting.gives[0][0], cost)]
    total = sum(count * problem.formats[block].volume for block, count in casting.gives)
    return [(block, Fraction(cost * problem.formats[block].volume, total)) for block, _ in casting.gives]
