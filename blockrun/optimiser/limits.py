"""Numbers that no plan passes, worked out once: how soon, how often, how much."""

from __future__ import annotations

from blockrun.optimiser.chains import Chains
from blockrun.optimiser.mixing import Mixing
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.state import State
from blockrun.optimiser.weighing import Weighing
from blockrun.optimiser.when import When

_SLOTS_A_DAY = 5


class Limits:
    """Limits of a problem, each valid for every real plan that goes on from what is ``begun``.

    Attributes
    ----------
    begun : the yard that plans go on from: an empty one, for a whole plan.
    reach, frost : how soon moulds can be filled again, and the frost that keeps them from it.
    slots, when : the slots that bounds are counted in, and how soon things come in them.
    chains, mixing : how many turns moulds can begin, and how many batches mixers make.
    weighing : what batches hold, and what the order takes of them.
    """

    def __init__(self, problem: Problem, begun: State | None = None) -> None:
        self.begun = begun or State()
        self.reach = Reach(problem)
        self.frost = self.reach.frost
        self.slots = Slots(problem, self.reach, _SLOTS_A_DAY)
        self.when = When(problem, self.reach, self.slots)
        self.chains = Chains(problem, self.reach)
        self.mixing = Mixing(problem)
        self.weighing = Weighing(problem, self.begun)
