"""One way to run CP-SAT: one worker, a seed and a limit that does not look at the clock, so that answers repeat."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

_POLL_S = 0.05

Expression = cp_model.LinearExpr | int
Value = Callable[[Expression], int]
"""What an answer says of an expression."""


@dataclass(frozen=True)
class Effort:
    """How hard to try.

    ``work`` is CP-SAT's deterministic time. A unit is near to a second of one core for counts, and up to
    five for big days by the minute (measured). ``stop`` is asked every twentieth of a second and ends
    the solve when it says so.
    """

    work: float
    stop: Callable[[], bool]
    seed: int = 0

    def of(self, work: float) -> Effort:
        """The same with another amount of work."""
        return Effort(work, self.stop, self.seed)


@dataclass(frozen=True)
class Answer:
    """What CP-SAT said. ``value`` may be asked only when ``found``."""

    found: bool
    impossible: bool
    objective: int
    bound: int
    solver: cp_model.CpSolver

    def value(self, expression: Expression) -> int:
        """Value of a variable or expression in the answer."""
        if not self.found:
            raise ValueError("no answer to read from")
        return int(self.solver.value(expression))


class _Watch:
    """Asks ``stop`` while a solver runs, and ends it."""

    def __init__(self, solver: cp_model.CpSolver, stop: Callable[[], bool]) -> None:
        self._solver, self._stop = solver, stop
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)

    def _look(self) -> None:
        while not self._done.wait(_POLL_S):
            if self._stop():
                self._solver.stop_search()

    def __enter__(self) -> None:
        self._thread.start()

    def __exit__(self, *_: object) -> None:
        self._done.set()
        self._thread.join()


def run(
    model: cp_model.CpModel,
    effort: Effort,
    **parameters: object,
) -> Answer:
    """Solve a model.

    Parameters
    ----------
    model : checked before it is solved.
    effort : limits.
    **parameters : CP-SAT's own, over those set here.
    """
    wrong = model.validate()
    if wrong:
        raise ValueError(f"invalid model: {wrong}")
    solver = cp_model.CpSolver()
    settings = {
        "num_workers": 1,
        "random_seed": effort.seed,
        "max_deterministic_time": max(effort.work, 1e-3),
        "catch_sigint_signal": False,
    }
    for name, setting in (settings | parameters).items():
        setattr(solver.parameters, name, setting)
    if effort.stop():
        solver.parameters.max_deterministic_time = 1e-3
    with _Watch(solver, effort.stop):
        status = solver.solve(model)
    good = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    minimises = model.has_objective()
    return Answer(
        found=good,
        impossible=status == cp_model.INFEASIBLE,
        objective=round(solver.objective_value) if good and minimises else 0,
        bound=_ceiling(solver.best_objective_bound) if minimises else 0,
        solver=solver,
    )


def _ceiling(bound: float) -> int:
    """Objectives are whole, so a bound of 3.2 means 4; forgive the solver's rounding."""
    return int(-(-(bound - 1e-6) // 1)) if bound > -1e15 else 0


def hint(model: cp_model.CpModel, answer: Answer) -> None:
    """Start the next solve of a model from a whole answer to it."""
    model.clear_hints()  # type: ignore[no-untyped-call]
    known = answer.solver.response_proto.solution
    for index in range(len(known)):
        model.add_hint(model.get_int_var_from_proto_index(index), known[index])
