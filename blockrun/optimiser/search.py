"""The search: plays by the foreman's rule, then plays that look ahead, and beside them the bounds.

Two things run side by side, and each is the same however fast the machine is; only ``stop``, which
is asked all the time, can make an answer differ.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from blockrun.optimiser.ahead import Ahead
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State

_WAITS = (1000, 120, 300, 0)
_LOOKS = ((120, 1), (75, 2), (45, 3))

Job = Callable[[], "State | None"]


@dataclass(frozen=True)
class Known:
    """What is known so far: the best plan's score and the bound of each stage, ``None`` until found."""

    best: Score | None
    bounds: tuple[int | None, int | None, int | None, int | None]


@dataclass(frozen=True)
class Found:
    """The best plan, its score, and what no plan can beat: late, finish, batches, cement."""

    state: State
    score: Score
    bounds: tuple[int, int, int, int]


@dataclass
class Search:
    """One search; ``report`` hears of each better plan and each bound."""

    problem: Problem
    limits: Limits
    effort: Effort
    report: Callable[[Known], None]
    best: State | None = None
    best_score: Score | None = None
    bounds: list[int | None] = field(default_factory=lambda: [None] * 4)

    def run(self) -> Found | None:
        """The best plan found; ``None`` when there is none, or no time for one."""
        self.bounder = Bounds(self.problem, self.limits, self.effort)
        with ThreadPoolExecutor(2) as pool:
            self.pool = pool
            self._together([self._foreman(wait) for wait in _WAITS[:2]])
            if self.best_score is None:
                self._together([self._foreman(wait) for wait in _WAITS[2:]])
            if self.best_score is None:
                return None
            self._look_ahead()
            self._last_bounds()
        return self._found()

    # plays

    def _foreman(self, wait: int) -> Job:
        foreman = Foreman(self.problem, self.limits, wait)
        return Roll(
            self.problem, self.limits, lambda state: {state.day: foreman.day(state)}, self.effort, foreman.worth
        ).play

    def _ahead(self, look: tuple[int, int], last: int, *, hurry: bool) -> Job:
        best = self._best()
        delay, slots_a_day = look
        limits = Limits(self.problem, delay=delay, slots_a_day=slots_a_day)
        foreman = Foreman(self.problem, self.limits, _WAITS[0])
        guide = Ahead(self.problem, limits, foreman, self.effort, last, best.late, hurry)
        latest = last if not hurry else len(self.problem.days)
        return Roll(self.problem, self.limits, guide, self.effort, foreman.worth, last_day=latest).play

    def _together(self, jobs: list[Job]) -> None:
        """Play side by side; keep what is better, the earlier job where they are equal."""
        for state in list(self.pool.map(lambda job: job(), jobs)):
            if state is not None:
                of_state = score(self.problem, state)
                if self.best_score is None or of_state < self.best_score:
                    self.best, self.best_score = state, of_state
                    self._tell()

    def _best(self) -> Score:
        assert self.best_score is not None
        return self.best_score

    def _look_ahead(self) -> None:
        """While a stage is not at its bound: look ahead, aiming at it."""
        bound = self.pool.submit(self._first_bounds)
        self._play_ahead(_LOOKS[0])
        bound.result()
        for look in _LOOKS[1:]:
            if self.effort.stop():
                return
            self._play_ahead(look)

    def _first_bounds(self) -> None:
        best = self._best()
        self.bounds[0] = self.bounder.late(best)
        self._tell()
        self.bounds[1] = self.bounder.finish(best)
        self._tell()

    def _play_ahead(self, look: tuple[int, int]) -> None:
        best = self._best()
        last = self.problem.day_index[best.finish]
        hurry = best.late > (self.bounds[0] or 0)
        state = self._ahead(look, last, hurry=hurry)()
        self._keep(state)
        if not hurry and last and best.finish > (self.bounds[1] or 0):
            self._keep(self._ahead(look, self.problem.day_index[self._best().finish] - 1, hurry=False)())

    def _keep(self, state: State | None) -> None:
        if state is not None:
            of_state = score(self.problem, state)
            if of_state < self._best():
                self.best, self.best_score = state, of_state
                self._tell()

    # bounds

    def _last_bounds(self) -> None:
        """Bounds for the stages as the best plan has them."""
        best = self._best()
        self.bounds[0] = min(best.late, self.bounds[0] or 0)
        finish = self.pool.submit(self._finish_bound)
        self.bounds[2] = self.bounder.batches(best)
        self._tell()
        self.bounds[3] = self.bounder.cement(best)
        finish.result()
        self._tell()

    def _finish_bound(self) -> None:
        """Still valid where lateness is as it was; found anew where a plan now in hand is less late."""
        if self.bounds[1] is None:
            self.bounds[1] = self.problem.days[0].number
        self.bounds[1] = min(self._best().finish, self.bounds[1])

    def _tell(self) -> None:
        late, finish, batches, cement = self.bounds
        self.report(Known(self.best_score, (late, finish, batches, cement)))

    def _found(self) -> Found:
        assert self.best is not None
        late, finish, batches, cement = (bound or 0 for bound in self.bounds)
        return Found(self.best, self._best(), (late, finish, batches, cement))
