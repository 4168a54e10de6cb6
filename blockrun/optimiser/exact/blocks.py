"""What is cast: all that is asked for, from no batch that could be left out."""

from __future__ import annotations

from ortools.sat.python import cp_model

from blockrun.optimiser.either_version import weighed
from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.batches import Batches
from blockrun.optimiser.exact.turns import Turns
from blockrun.optimiser.problem import Problem


class Blocks:
    """Blocks of each format that come of the turns."""

    def __init__(self, model: cp_model.CpModel, problem: Problem, batches: Batches, turns: Turns) -> None:
        self.model, self.problem, self.batches, self.turns = model, problem, batches, turns
        for number, block in enumerate(problem.formats):
            cast = sum(self._of(number, batch) for batch in range(len(batches.all)))
            if number in problem.sawn:
                model.add(cast >= block.demand)
            else:
                model.add(cast == block.demand)
        if problem.slabs:
            self._none_needless()

    def castings(self, batch: int) -> dict[int, Expression]:
        """How many of each casting are poured from a batch."""
        found: dict[int, Expression] = {}
        for turn in self.turns.all:
            for (of, casting), fill in turn.fills.items():
                if of == batch:
                    found[casting] = found.get(casting, 0) + fill
        return found

    def _of(self, block: int, batch: int) -> Expression:
        """Blocks of a format that come of a batch."""
        return weighed((self.problem.castings[c].of(block), count) for c, count in self.castings(batch).items())

    def _none_needless(self) -> None:
        """Without any one batch too little would be cast of something."""
        for number, batch in enumerate(self.batches.all):
            missed = []
            for block, of_format in enumerate(self.problem.formats):
                others = [self._of(block, other) for other in range(len(self.batches.all)) if other != number]
                if of_format.demand:
                    missed.append(self.model.new_bool_var(f"{block} of {number} needed"))
                    self.model.add(sum(others) <= of_format.demand - 1).only_enforce_if(missed[-1])
            self.model.add_bool_or(*missed, batch.used.negated())
