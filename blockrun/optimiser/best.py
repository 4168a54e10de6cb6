"""The best plan so far and what no plan can beat: the one place where either is written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from blockrun.optimiser.left_over import with_left_over
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State


@dataclass(frozen=True)
class Found:
    """The best plan, its score, and what no plan can beat: late, finish, batches, cement.

    A bound above what the plan reaches is a fault of ours; then ``sound`` is false, and none is claimed.
    """

    state: State
    score: Score
    bounds: tuple[int, ...]
    sound: bool

    @classmethod
    def claimed(cls, state: State, of_state: Score, bounds: tuple[int, ...]) -> Found:
        """With the bounds that can be claimed of it."""
        sound = all(bound <= value for bound, value in zip(bounds, of_state.stages, strict=True))
        return cls(state, of_state, bounds if sound else (0, 0, 0, 0), sound)

    def with_left_over(self, problem: Problem) -> Found:
        """The same with further blocks of what is left of its batches; no bound hangs on those."""
        state = with_left_over(problem, self.state)
        found = Found.claimed(state, score(problem, state), self.bounds)
        return replace(found, sound=found.sound and self.sound)


@dataclass(frozen=True)
class Known:
    """What is known so far: the score of the best plan, the bound of each stage, ``None`` until found, and the plan."""

    best: Score
    bounds: tuple[int | None, ...]
    state: State

    def found(self) -> Found:
        """What has come of it all."""
        return Found.claimed(self.state, self.best, tuple(bound or 0 for bound in self.bounds))


@dataclass(frozen=True)
class _Bound:
    """No plan is below ``least`` in a ``stage`` that is no worse in any stage before than ``best``."""

    stage: int
    least: int
    best: Score | None

    def holds(self, now: Score | None) -> bool:
        """Whether it holds for all plans that are as good as a better one in the stages before."""
        if self.best is None:
            return True
        before = zip((now or self.best).stages[: self.stage], self.best.stages, strict=False)
        return all(here <= there for here, there in before)


@dataclass
class Best:
    """Keeps the better plan and the higher bound; ``report`` hears of each, once there is a plan.

    Of plans that are equal in all stages the one with the fewest ``changes`` is better, whatever these are.
    """

    report: Callable[[Known], None]
    changes: Callable[[State], int] = lambda _: 0
    state: State | None = None
    changed: int = 0
    _score: Score | None = None
    _bounds: list[_Bound] = field(default_factory=list)

    @property
    def score(self) -> Score:
        """Score of the best plan, once there is one."""
        assert self._score is not None
        return self._score

    def bound(self, stage: int) -> int | None:
        """What no plan can beat in a stage, as far as is known."""
        least = (bound.least for bound in self._bounds if bound.stage == stage and bound.holds(self._score))
        return max(least, default=None)

    def keep(self, state: State, of_state: Score) -> None:
        """Keep a plan if it is better; of equals the earlier."""
        if self._score is None or of_state.stages <= self._score.stages:
            changed = self.changes(state)
            if self._score is None or self._rank(of_state, changed) < self._rank(self._score, self.changed):
                self.state, self._score, self.changed = state, of_state, changed
                self._tell()

    def _rank(self, of_state: Score, changed: int) -> tuple[tuple[int, ...], int, Score]:
        return of_state.stages, changed, of_state

    def raise_bound(self, stage: int, least: int, best: Score | None = None) -> None:
        """No plan is below this that is no worse in the stages before than ``best``, or whatever it is there.

        Where a better plan is found it still holds, unless that one is worse in a stage before: one less late may
        finish later, and then take fewer batches than any that finish as soon. The highest that holds counts.
        """
        self._bounds.append(_Bound(stage, least, best))
        self._tell()

    def reached(self, stages: int = 4) -> bool:
        """Whether nothing can be better in the first so many stages."""
        return self._all_bounds()[:stages] == self.score.stages[:stages]

    def found(self) -> Found | None:
        """What has come of it all; ``None`` without a plan."""
        known = self._known()
        return known.found() if known else None

    def _known(self) -> Known | None:
        if self.state is None or self._score is None:
            return None
        return Known(self._score, self._all_bounds(), self.state)

    def _all_bounds(self) -> tuple[int | None, ...]:
        return tuple(self.bound(stage) for stage in range(4))

    def _tell(self) -> None:
        known = self._known()
        if known:
            self.report(known)
