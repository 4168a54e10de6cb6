"""Small orders proved: whole plans by the minute, stage by stage, each as good as any plan there is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import MISSING, Field, dataclass, fields
from functools import cached_property
from itertools import chain
from typing import Any

from ortools.sat.python import cp_model

from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Answer, Effort, hint, run
from blockrun.optimiser.exact.clock import pour_days
from blockrun.optimiser.exact.known import Known, emptied, poured
from blockrun.optimiser.exact.size import Size, size_of
from blockrun.optimiser.exact.whole import Whole
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.score import LATE, Score, score
from blockrun.optimiser.state import State

_WORK = 2.0
_EARLY_WORK = 0.3
_MOST_BLOCKS = 12
_MOST_DAYS = 40
_MOST_NUMBERS = 12_000

HELD = frozenset(
    {"days", "horizon", "later", "formats", "slabs", "moulds", "loads", "cement", "agent", "cubes", "places", "move"}
    | {"move_seconds", "rack_for", "lay_at", "ripe_strip", "ripe_sides", "ripe_lay", "clear_until"}
)
"""What of a problem the model holds; it says nothing of problems that have more."""


@dataclass(frozen=True)
class Proven:
    """The best plan found, and what no plan can beat: late, finish, batches, cement, or the first of these."""

    state: State
    bounds: tuple[int, ...]


@dataclass
class Exact:
    """A search for small orders, from the beginning, that leaves nothing out; it says nothing of others."""

    problem: Problem
    limits: Limits
    effort: Effort

    @property
    def fits(self) -> bool:
        """Whether the order is small enough, and the model holds every rule of it."""
        last = len(self.problem.days) - 1
        return self._is_small(0, 0) and bool(pour_days(self.problem, last))

    def solve(self, best: State | None) -> Proven | None:
        """A plan at least as good as the best known, if one is; ``None`` where this is not for an exact search."""
        best = best or (self._any_plan() if self.fits else None)
        return None if best is None else self._improved(best, score(self.problem, best))

    def _any_plan(self) -> State | None:
        last = len(self.problem.days) - 1
        if not self._is_small(last, 0):
            return None
        whole = Whole(self.problem, last, self._size, None)
        answer = self._run(whole.model, _WORK)
        return whole.read(answer.value) if answer.found else None

    def _improved(self, best: State, of_best: Score) -> Proven | None:
        """Stage by stage; what is late may be less so in a plan that is longer."""
        least_of = self._least()
        may_be_longer = of_best.late > least_of[LATE]
        last = len(self.problem.days) - 1 if may_be_longer else self.problem.day_index[of_best.finish]
        if not self._is_small(last, of_best.late):
            return None
        whole = Whole(self.problem, last, self._size, of_best.late)
        if not self._begin_with(whole, best):
            return None
        bounds: list[int] = []
        for stage, least in zip(whole.stages, least_of, strict=True):
            value = score(self.problem, best).stages[len(bounds)]
            if value > least:
                whole.model.minimize(stage)
                answer = self._run(whole.model, _WORK)
                if not answer.found:
                    return Proven(best, tuple(bounds))
                least = max(least, answer.bound)
                if answer.objective < value:
                    best, value = whole.read(answer.value), answer.objective
                    hint(whole.model, answer)
            bounds.append(least)
            whole.model.add(stage <= value)
        return Proven(self._early(whole, best), tuple(bounds))

    def _begin_with(self, whole: Whole, best: State) -> bool:
        """Start from a plan; whether it keeps every rule of the model, as it should."""
        fixed = _with(whole, chain(poured(whole, best), emptied(whole, best)))
        answer = self._run(fixed, _WORK)
        if answer.found:
            hint(whole.model, answer)
        return answer.found

    def _run(self, model: cp_model.CpModel, work: float) -> Answer:
        # measured: probing takes longer than all of the search does without it
        return run(model, self.effort.of(work), cp_model_probing_level=0)

    def _least(self) -> tuple[int, int, int, int]:
        """What arithmetic alone says no plan can beat."""
        curve, weighing = Curve(self.problem, self.limits), self.limits.weighing
        return curve.late, self.problem.days[curve.finish].number, weighing.fewest_batches, weighing.least_cement

    def _early(self, whole: Whole, best: State) -> State:
        """The same poured as early as can be, and then emptied so."""
        whole.model.minimize(whole.pours)
        answer = self._run(whole.model, _EARLY_WORK)
        if answer.found:
            earlier = whole.read(answer.value)
            best = min(best, earlier, key=lambda plan: score(self.problem, plan))
        fixed = _with(whole, poured(whole, best))
        fixed.minimize(whole.emptied)
        answer = self._run(fixed, _EARLY_WORK)
        return whole.read(answer.value) if answer.found else best

    @cached_property
    def _size(self) -> Size:
        return size_of(self.problem)

    def _is_small(self, last: int, late: int) -> bool:
        """Whether a plan up to the day at a position and so late is small."""
        blocks = sum(block.demand for block in self.problem.formats)
        numbers = self._size.numbers(self.problem, late)
        begun = self.limits.begun.batches or self.limits.begun.turns
        return (
            not begun
            and blocks <= _MOST_BLOCKS
            and last < _MOST_DAYS
            and numbers <= _MOST_NUMBERS
            and covered(self.problem)
        )


def _with(whole: Whole, known: Iterable[Known]) -> cp_model.CpModel:
    """The model with what is known."""
    fixed = whole.model.clone()
    for variable, value in known:
        fixed.add(variable == value)
    return fixed


def covered(problem: Problem) -> bool:
    """Whether the model holds every rule of a problem."""
    others = (field for field in fields(problem) if field.init and field.name not in HELD)
    return not (problem.slabs and problem.cubes) and all(
        getattr(problem, field.name) == _default(field) for field in others
    )


def _default(field: Field[Any]) -> object:
    return None if field.default is MISSING else field.default
