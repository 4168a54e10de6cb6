"""Small orders proved: whole plans by the minute, stage by stage, each as good as any plan there is."""

from __future__ import annotations

from dataclasses import MISSING, Field, dataclass, fields
from functools import cached_property
from typing import Any

from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Effort, hint, run
from blockrun.optimiser.exact.clock import pour_days
from blockrun.optimiser.exact.known import known
from blockrun.optimiser.exact.size import Size, size_of
from blockrun.optimiser.exact.whole import Whole
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State

_WORK = 5.0
_EARLY_WORK = 1.0
_MOST_DAYS = 40
_MOST_NUMBERS = 20_000

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
    """A search for small orders that leaves nothing out; it says nothing of others."""

    problem: Problem
    limits: Limits
    effort: Effort

    @property
    def fits(self) -> bool:
        """Whether the order is small enough, and the model holds every rule of it."""
        last = len(self.problem.days) - 1
        return covered(self.problem) and self._is_small(0, 0) and bool(pour_days(self.problem, last))

    def solve(self, best: State | None) -> Proven | None:
        """A plan at least as good as the best known, if one is; ``None`` where this is not for an exact search."""
        best = best or self._any_plan()
        return None if best is None else self._improved(best, score(self.problem, best))

    def _any_plan(self) -> State | None:
        last = len(self.problem.days) - 1
        if not self._is_small(last, 0):
            return None
        whole = Whole(self.problem, last, self._size, None)
        answer = run(whole.model, self.effort.of(_WORK))
        return whole.read(answer.value) if answer.found else None

    def _improved(self, best: State, of_best: Score) -> Proven | None:
        """Stage by stage; what is late may be less so in a plan that is longer."""
        last = len(self.problem.days) - 1 if of_best.late else self.problem.day_index[of_best.finish]
        if not self._is_small(last, of_best.late):
            return None
        whole = Whole(self.problem, last, self._size, of_best.late)
        if not self._begin_with(whole, best):
            return None
        bounds: list[int] = []
        for stage, least in zip(whole.stages, self._least(), strict=True):
            value = score(self.problem, best).stages[len(bounds)]
            if value > least:
                whole.model.minimize(stage)
                answer = run(whole.model, self.effort.of(_WORK))
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
        fixed = whole.model.clone()
        for variable, value in known(whole, best):
            fixed.add(variable == value)
        answer = run(fixed, self.effort.of(_WORK))
        if answer.found:
            hint(whole.model, answer)
        return answer.found

    def _least(self) -> tuple[int, int, int, int]:
        """What arithmetic alone says no plan can beat."""
        curve, weighing = Curve(self.problem, self.limits), self.limits.weighing
        return 0, self.problem.days[curve.finish].number, weighing.fewest_batches, weighing.least_cement

    def _early(self, whole: Whole, best: State) -> State:
        """The same poured as early as can be, and emptied so."""
        for aim in (whole.pours, whole.effort):
            whole.model.minimize(aim)
            answer = run(whole.model, self.effort.of(_EARLY_WORK))
            if not answer.found:
                break
            best = whole.read(answer.value)
            whole.model.add(aim <= answer.objective)
            hint(whole.model, answer)
        return best

    @cached_property
    def _size(self) -> Size:
        return size_of(self.problem)

    def _is_small(self, last: int, late: int) -> bool:
        """Whether a plan up to the day at a position and so late is small."""
        return covered(self.problem) and last < _MOST_DAYS and self._size.numbers(self.problem, late) < _MOST_NUMBERS


def covered(problem: Problem) -> bool:
    """Whether the model holds every rule of a problem."""
    others = (field for field in fields(problem) if field.name not in HELD)
    return not (problem.slabs and problem.cubes) and all(
        getattr(problem, field.name) == _default(field) for field in others
    )


def _default(field: Field[Any]) -> object:
    return None if field.default is MISSING else field.default
