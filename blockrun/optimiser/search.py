"""The search: a first plan soon, better ones as long as they come, and how good a plan can be.

Quick plays come first, whatever the size; then counting ahead, which sees what they do not. Two plays by counts, or
two bounds, run side by side, and each is the same however fast the machine is; only ``stop``, which is asked all the
time, can make an answer differ.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import chain
from typing import TypeVar

from blockrun.optimiser.best import Best, Found, Known
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.plays import LATEST, SAFE, Look, Play, Plays
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.optimiser.score import BATCHES, CEMENT, FINISH, LATE

_SOON = 120
_QUICK_BLOCKS = 4_000
_QUICK_BLOCKS_A_ROUND = 36_000
"""Blocks that quick plays place in all: a thousand take about a twentieth of a second."""
_OPENINGS: tuple[Callable[[Plays], list[Play]], ...] = (
    # quick, so that there is a plan even if time is short
    lambda plays: [plays.foreman(LATEST, patient=False)],
    lambda plays: [plays.foreman(_SOON), plays.foreman(_SOON, thrifty=True)],
)
_LOOKS = ((SAFE, Look(120, 1)), (Look(0, 3), Look(90, 2)))

T = TypeVar("T")


@dataclass
class Search:
    """One search; ``report`` hears of each better plan and each bound. ``rounds`` of looking ahead at the most."""

    problem: Problem
    limits: Limits
    effort: Effort
    report: Callable[[Known], None]
    rounds: int = 3

    def __post_init__(self) -> None:
        """Nothing is known yet."""
        self.tries = Tries(Ground(self.problem, self.limits), self.effort.seed, self.effort.stop)
        self.plays = Plays(self.problem, self.limits, self.effort)
        self.bounds = Bounds(self.problem, self.limits, self.effort)
        self.best = Best(self.problem, self.report)

    def run(self) -> Found | None:
        """The best plan found; ``None`` when there is none, or no time for one."""
        self._begin()
        self._open()
        if self.best.state is not None:
            ahead = [self._aimed(SAFE, 0)] if self.rounds else []
            self._play(*ahead, self.plays.foreman(_SOON))
            self._aim()
            self._look_ahead()
            self._finish_off()
            self._prove()
        return self.best.found()

    def _begin(self) -> None:
        """Quick plays, and the best of them played on."""
        plays = self.tries.plays_of(_QUICK_BLOCKS + self.rounds * _QUICK_BLOCKS_A_ROUND)
        best: Tried | None = None
        for tried in chain(self.tries.openings(), self.tries.drawn(plays // 5)):
            self.best.keep([tried.state])
            best = tried if best is None or tried.score < best.score else best
        if best is not None:
            self._play_on(best, 3 * plays // 5, "begin")

    def _finish_off(self) -> None:
        """The best of all plans played on once more."""
        plays = self.tries.plays_of(self.rounds * _QUICK_BLOCKS_A_ROUND)
        if self.best.state is not None:
            self._play_on(Tried(self.best.state, self.best.score), plays // 5, "finish off")

    def _play_on(self, best: Tried, plays: int, name: str) -> None:
        if not self.best.reached():
            for tried in self.tries.improved(best, plays, name):
                self.best.keep([tried.state])

    def _open(self) -> None:
        for opening in _OPENINGS:
            if self.best.state is not None:
                return
            self._play(*opening(self.plays))
        if self.best.state is not None:
            return
        if not self.bounds.stock_is_short:
            # where cement or agent is scarce, only counting ahead makes it last
            self._play(self.plays.saving(4), self.plays.saving(2))

    def _play(self, *plays: Play) -> None:
        self.best.keep(_side_by_side(*plays))

    def _look_ahead(self) -> None:
        """Round after round, two by two, as long as a stage is not at its bound and something gets better."""
        for number in range(self.rounds):
            before = self.best.score.stages
            for looks in _LOOKS:
                if self.best.reached() or self.effort.stop():
                    return
                self._play(*[self._aimed(look, number) for look in looks])
            if self.best.score.stages == before and number:
                return

    def _aimed(self, look: Look, number: int) -> Play:
        """A play that aims a day sooner where there may be one, and else at fewer batches."""
        best, soonest = self.best.score, self.best.bound(FINISH)
        last = self.problem.day_index[best.finish]
        hurry = best.late > (self.best.bound(LATE) or 0)
        try_sooner = number < self.rounds - 1 or not number
        sooner = not hurry and soonest is not None and best.finish > soonest and try_sooner
        return self.plays.ahead(look, last - 1 if sooner else last, best.late, hurry=hurry)

    def _aim(self) -> None:
        """Bounds that show where to look."""
        best = self.best.score
        late, finish = _side_by_side(lambda: self.bounds.late(best), lambda: self.bounds.finish(best))
        self.best.raise_bound(LATE, late)
        self.best.raise_bound(FINISH, finish)
        self.best.raise_bound(BATCHES, self.limits.weighing.fewest_batches)

    def _prove(self) -> None:
        """Bounds of the later stages, with the earlier ones held where the best plan has them."""
        best = self.best.score
        batches, cement = _side_by_side(lambda: self.bounds.batches(best), lambda: self.bounds.cement(best))
        self.best.raise_bound(BATCHES, batches)
        self.best.raise_bound(CEMENT, cement)


def _side_by_side(*jobs: Callable[[], T]) -> list[T]:
    """What comes of each, in their order."""
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(lambda job: job(), jobs))
