"""Sets of test cubes: on which days a mix gives one."""

from __future__ import annotations

from collections import defaultdict
from itertools import groupby

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import State


def owed(problem: Problem, state: State) -> dict[int, int]:
    """Volume of the set that each mix gives if any of it is poured on the state's day: 1/100 mL, by mix.

    The first day that a mix is poured gives a set, then each that begins with a whole lot made since the last.
    """
    if problem.cubes is None:
        return {}
    made: dict[int, list[int]] = defaultdict(list)
    in_order = sorted(state.batches, key=lambda batch: batch.start)
    for _, day in groupby(in_order, key=lambda batch: batch.start // MINUTES_A_DAY):
        of_day: dict[int, int] = defaultdict(int)
        for batch in day:
            of_day[batch.load.mix] += batch.load.cement
        for mix, cement in of_day.items():
            made[mix].append(cement)
    lots = problem.cubes.lots
    return {mix: problem.cubes.volume for mix in problem.mixes if _is_due(made[mix], lots[mix])}


def _is_due(made: list[int], lot: int) -> bool:
    """Whether the next day gives a set; ``made`` is the cement of each day so far."""
    since = lot
    for cement in made:
        since = cement if since >= lot else since + cement
    return since >= lot
