"""One day by the minute: which mould each batch fills, and when everybody does what.

The day's batches are given; the model places them and the stripping, moving and cleaning of the
turns that are ripe, within the working windows, the people, the mixers, the generator, the moulds
and bases, and the rack. What does not fit stays for later, at a price.
"""

from __future__ import annotations

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.board import Board
from blockrun.optimiser.emptying import Emptying
from blockrun.optimiser.engine import Effort, Value, hint, run
from blockrun.optimiser.fillings import Fillings
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State

# measured on the days of the demo: no linear relaxation and no probing give far better days in the same work;
# use_dynamic_precedence_in_disjunctive would too, but ends the whole process on some days (ortools 9.15)
_SEARCH: dict[str, object] = {
    "linearization_level": 0,
    "cp_model_probing_level": 0,
    "use_overload_checker_in_cumulative": True,
    "use_timetable_edge_finding_in_cumulative": True,
}


class DayModel:
    """Variables and rules of one day; all minutes count from its midnight."""

    def __init__(self, problem: Problem, limits: Limits, state: State, asked: Asked) -> None:
        self.state = state
        board = Board(problem, state)
        self.fillings = Fillings(board, limits, asked)
        self.emptying = Emptying(board, limits, asked)
        board.share(asked.chores)
        self.model = board.model
        self.model.minimize(board.price)
        self.impossible = False

    def solve(self, effort: Effort) -> State | None:
        """The state at the end of the day; ``None`` when none was found: see ``impossible``."""
        answer = run(self.model, effort, **_SEARCH)
        self.impossible = answer.impossible
        if not answer.found:
            return None
        hint(self.model, answer)
        return self._state(answer.value)

    def _state(self, value: Value) -> State:
        after = State(self.state.day + 1, list(self.state.turns), list(self.state.batches))
        batches = self.fillings.read(value)
        made = (batch for batch in batches if batch is not None)
        after.batches += sorted(made, key=lambda batch: (batch.start, batch.load.mixer))
        for turn, moved in self.emptying.read(value):
            after.turns[after.turns.index(turn)] = moved
        after.turns += self.fillings.begun(batches, value)
        return after
