"""How good a plan is: the four stages, one after the other, and then how early it pours."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.sent import Sent
from blockrun.optimiser.state import State

LATE, FINISH, BATCHES, CEMENT = range(4)
"""The stages that are bounded, by their place in ``Score.stages``."""


@dataclass(frozen=True, order=True)
class Score(Sent):
    """Smaller is better, from the first to the last.

    ``late`` in block-days, ``finish`` as the number of the day of the last pour, ``cement`` in steps
    of a bag, ``pours`` the minutes at which the blocks are poured, added up, then the ``turns``.
    """

    late: int
    finish: int
    batches: int
    cement: int
    pours: int
    turns: int

    @property
    def stages(self) -> tuple[int, int, int, int]:
        """What is bounded: late, finish, batches, cement."""
        return (self.late, self.finish, self.batches, self.cement)


def score(problem: Problem, state: State) -> Score:
    """Score of a finished plan."""
    return Score(
        late=late(problem, state),
        finish=max(batch.start for batch in state.batches) // MINUTES_A_DAY,
        batches=len(state.batches),
        cement=state.cement(),
        pours=sum(batch.pour_to for turn in state.turns for _, batch in turn.fills),
        turns=len(state.turns),
    )


def late(problem: Problem, state: State) -> int:
    """Block-days late: of each format, the block that is ready first goes where it is needed first."""
    ready: dict[int, list[int]] = defaultdict(list)
    for turn in state.turns:
        if turn.strip is None:
            raise ValueError("a turn that is never stripped")
        days: dict[int, int] = {}
        for place, (number, batch) in enumerate(turn.fills):
            poured = batch.pour_to
            if turn.laid or poured not in days:
                days[poured] = turn.ready(problem, place, turn.strip.end) // MINUTES_A_DAY
            for block, count in problem.castings[number].gives:
                ready[block] += [days[poured]] * count
    total = 0
    for block, of_format in enumerate(problem.formats):
        due = [day for day, count in of_format.needs for _ in range(count)]
        total += sum(max(0, day - need) for day, need in zip(sorted(ready[block]), due, strict=False))
    return total
