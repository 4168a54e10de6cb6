"""The best plan so far and what no plan can beat: the one place where either is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable
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
    """What is known so far: the best plan, its score and the bound of each stage, ``None`` until found."""

    best: Score | None
    bounds: tuple[int | None, ...]
    state: State | None = None

    def found(self) -> Found | None:
        """What has come of it all; ``None`` without a plan."""
        if self.state is None or self.best is None:
            return None
        return Found.claimed(self.state, self.best, tuple(bound or 0 for bound in self.bounds))


@dataclass
class Best:
    """Keeps the better plan and the higher bound; ``report`` hears of each."""

    problem: Problem
    report: Callable[[Known], None]
    state: State | None = None
    _score: Score | None = None
    _bounds: list[int | None] = field(default_factory=lambda: [None] * 4)

    @property
    def score(self) -> Score:
        """Score of the best plan, once there is one."""
        assert self._score is not None
        return self._score

    def bound(self, stage: int) -> int | None:
        """What no plan can beat in a stage, as far as is known."""
        return self._bounds[stage]

    def keep(self, states: Iterable[State | None]) -> None:
        """Keep what is better, and of equals the earlier; ``None`` is a play that came to nothing."""
        for state in states:
            if state is not None:
                of_state = score(self.problem, state)
                if self._score is None or of_state < self._score:
                    self.state, self._score = state, of_state
                    self._tell()

    def raise_bound(self, stage: int, least: int) -> None:
        """No plan is below this; a bound found for a worse plan still holds, so the higher one counts."""
        known = self._bounds[stage]
        self._bounds[stage] = least if known is None else max(known, least)
        self._tell()

    def reached(self, stages: int = 4) -> bool:
        """Whether nothing can be better in the first so many stages."""
        return tuple(self._bounds[:stages]) == self.score.stages[:stages]

    def found(self) -> Found | None:
        """What has come of it all; ``None`` without a plan."""
        return self._known().found()

    def _known(self) -> Known:
        return Known(self._score, tuple(self._bounds), self.state)

    def _tell(self) -> None:
        self.report(self._known())
