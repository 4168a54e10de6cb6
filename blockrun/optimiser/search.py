"""The search: plays by the foreman's rule, then plays that look ahead, and beside them the bounds.

Two things run side by side, and each is the same however fast the machine is; only ``stop``, which
is asked all the time, can make an answer differ.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from random import Random

from blockrun.optimiser.ahead import Ahead
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When

_WAITS = (1000, 120)
_MOOD_WAITS = (1000, 300, 120, 0)
_MOODS_A_ROUND = 4
_LOOKS = ((60, 2), (120, 1), (0, 3), (90, 2))

Job = Callable[[], "State | None"]


@dataclass(frozen=True)
class Known:
    """What is known so far: the best plan's score and the bound of each stage, ``None`` until found."""

    best: Score | None
    bounds: tuple[int | None, int | None, int | None, int | None]


@dataclass(frozen=True)
class Found:
    """The best plan, its score, and what no plan can beat: late, finish, batches, cement.

    A bound above what the plan reaches is a fault of ours; then ``sound`` is false, and none is claimed.
    """

    state: State
    score: Score
    bounds: tuple[int, int, int, int]
    sound: bool


@dataclass
class Search:
    """One search; ``report`` hears of each better plan and each bound. ``rounds`` of looking ahead at the most."""

    problem: Problem
    limits: Limits
    effort: Effort
    report: Callable[[Known], None]
    rounds: int = 3
    best: State | None = None
    best_score: Score | None = None
    bounds: list[int | None] = field(default_factory=lambda: [None] * 4)

    def run(self) -> Found | None:
        """The best plan found; ``None`` when there is none, or no time for one."""
        self.bounder = Bounds(self.problem, self.limits, self.effort)
        with ThreadPoolExecutor(2) as pool:
            self.pool = pool
            # the first play is the quick one, so that there is a plan even if time is short
            self._together([self._foreman(_WAITS[0], patient=False)])
            if self.best_score is None:
                self._together([self._foreman(_WAITS[1]), self._foreman(_WAITS[1], thrifty=True)])
            if self.best_score is None and not self.bounder.stock_is_short:
                # where cement or agent is scarce, only counting ahead makes it last
                self._together([self._saving(share) for share in (4, 2)])
            if self.best_score is None:
                return None
            looks = [self._aimed(_LOOKS[0], 0)] if self.rounds else []
            self._together([*looks, self._foreman(_WAITS[1])])
            self._first_bounds()
            self._look_ahead()
            self._change_moods()
            self._last_bounds()
        return self._found()

    # plays

    def _foreman(self, wait: int, *, patient: bool = True, thrifty: bool = False, mood: int | None = None) -> Job:
        of_mood = None if mood is None else Random(self.effort.seed * 1000 + mood)
        foreman = Foreman(self.problem, self.limits, wait, of_mood)
        return Roll(
            self.problem,
            self.limits,
            lambda state: {state.day: foreman.day(state)},
            self.effort,
            foreman.worth,
            patient=patient,
            thrifty=thrifty,
        ).play

    def _ahead(self, look: tuple[int, int], last: int, *, hurry: bool) -> Job:
        best = self._best()
        foreman = Foreman(self.problem, self.limits, _WAITS[0])
        guide = Ahead(self.problem, self.limits, self._when(look), foreman, self.effort, last, best.late, hurry)
        latest = last if not hurry else len(self.problem.days)
        return Roll(
            self.problem, self.limits, guide, self.effort, foreman.worth, last_day=latest, fallback=foreman.day
        ).play

    def _saving(self, share: int) -> Job:
        """A play that counts ahead over part of the days for the least cement."""
        last, never_too_late = (len(self.problem.days) - 1) // share, 1 << 40
        foreman = Foreman(self.problem, self.limits, _WAITS[0])
        guide = Ahead(
            self.problem, self.limits, self._when(_LOOKS[0]), foreman, self.effort, last, never_too_late, thrifty=True
        )
        return Roll(self.problem, self.limits, guide, self.effort, foreman.worth, thrifty=True).play

    def _when(self, look: tuple[int, int]) -> When:
        delay, slots_a_day = look
        return When(self.problem, self.limits.reach, Slots(self.problem, self.limits.reach, slots_a_day), delay)

    def _together(self, jobs: list[Job]) -> None:
        """Play side by side; keep what is better, the earlier job where they are equal."""
        for state in self.pool.map(lambda job: job(), jobs):
            if state is not None:
                of_state = score(self.problem, state)
                if self.best_score is None or of_state < self.best_score:
                    self.best, self.best_score = state, of_state
                    self._tell()

    def _best(self) -> Score:
        assert self.best_score is not None
        return self.best_score

    def _look_ahead(self) -> None:
        """Round after round, two by two, as long as a stage is not at its bound and something gets better."""
        for number in range(self.rounds):
            before = self._best()
            for looks in (_LOOKS[:2], _LOOKS[2:]):
                if self._all_reached() or self.effort.stop():
                    return
                self._together([self._aimed(look, number) for look in looks])
            if self._best().stages == before.stages and number:
                return

    def _change_moods(self) -> None:
        """The foreman in many moods, while plans may be less late or end sooner: what counting ahead may not see."""
        for mood in range(0, self.rounds * _MOODS_A_ROUND, 2):
            if tuple(self.bounds[:2]) == self._best().stages[:2] or self.effort.stop():
                return
            waits = [_MOOD_WAITS[number // 2 % len(_MOOD_WAITS)] for number in (mood, mood + 1)]
            self._together([self._foreman(wait, mood=mood + i) for i, wait in enumerate(waits)])

    def _aimed(self, look: tuple[int, int], number: int) -> Job:
        """A play that aims a day sooner where there may be one, and else at fewer batches."""
        best, bounds = self._best(), self.bounds
        last = self.problem.day_index[best.finish]
        hurry = best.late > (bounds[0] or 0)
        sooner = (
            not hurry and bounds[1] is not None and best.finish > bounds[1] and (number < self.rounds - 1 or not number)
        )
        return self._ahead(look, last - 1 if sooner else last, hurry=hurry)

    def _all_reached(self) -> bool:
        return tuple(self.bounds) == self._best().stages

    # bounds

    def _first_bounds(self) -> None:
        """Bounds that show where to aim."""
        best = self._best()
        self.bounds[0] = self.bounder.late(best)
        self.bounds[1] = self.bounder.finish(best)
        self.bounds[2] = self.limits.weighing.fewest_batches
        self._tell()

    def _last_bounds(self) -> None:
        """Bounds of the stages as the best plan has them; a bound found for a worse plan still holds."""
        best = self._best()
        batches = self.pool.submit(self.bounder.batches, best)
        cement = self.pool.submit(self.bounder.cement, best)
        self.bounds[2:] = [batches.result(), cement.result()]
        self._tell()

    def _tell(self) -> None:
        late, finish, batches, cement = self.bounds
        self.report(Known(self.best_score, (late, finish, batches, cement)))

    def _found(self) -> Found:
        assert self.best is not None
        late, finish, batches, cement = (bound or 0 for bound in self.bounds)
        bounds = (late, finish, batches, cement)
        of_best = self._best()
        sound = all(bound <= value for bound, value in zip(bounds, of_best.stages, strict=True))
        return Found(self.best, of_best, bounds if sound else (0, 0, 0, 0), sound)
