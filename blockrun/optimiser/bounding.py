"""What no plan can beat, worked out beside the search for better ones."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor

from blockrun.optimiser.best import Best
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.score import BATCHES, CEMENT, FINISH, LATE, Score


class Bounding:
    """Asks for the bounds of the best plan that are not known yet, one set at a time.

    They are awaited where it is said, not when they are there: a search that hangs on them repeats.
    """

    def __init__(self, best: Best, bounds: Bounds) -> None:
        self.best, self.bounds = best, bounds
        self._pool = ThreadPoolExecutor(1)
        self._asked: tuple[Score, tuple[int, ...], Future[list[int]]] | None = None
        self.asked_in = 0
        """Round of the last that were asked for."""
        self._bounded = -1
        self._proved: tuple[int, ...] = ()

    @property
    def is_asked(self) -> bool:
        """Whether there is something to wait for."""
        return self._asked is not None

    @property
    def leads_on(self) -> bool:
        """Whether others can be asked for only once those that are asked for are there."""
        return self._asked is not None and LATE in self._asked[1]

    def ask(self, number: int, *, last_day_stands: bool) -> None:
        """Have bounds begun in a round for the best plan so far, if some are missing and none are on their way.

        Without ``last_day_stands`` batches and cement, which hang on it, are left for later.
        """
        stages = () if self.is_asked else self._missing(self.best.score, last_day_stands=last_day_stands)
        if stages:
            best = self.best.score
            self.asked_in = number
            self._asked = best, stages, self._pool.submit(lambda: [self._bound(stage, best) for stage in stages])

    def wait(self) -> None:
        """Have what was asked for."""
        if self._asked is not None:
            best, stages, found = self._asked
            for stage, least in zip(stages, found.result(), strict=True):
                self.best.raise_bound(stage, least, best)
            self._asked = None

    def close(self) -> None:
        """No more is asked for."""
        self._pool.shutdown()

    def _missing(self, best: Score, *, last_day_stands: bool) -> tuple[int, ...]:
        """Stages whose bounds are not known yet: the first ones, then the later ones with the first as they are."""
        first = best.stages[:BATCHES]
        # the earliest last pour of plans as late is the same for all of them
        if best.late != self._bounded and not self.best.reached(BATCHES):
            self._bounded = best.late
            return LATE, FINISH
        if last_day_stands and first != self._proved:
            self._proved = first
            return BATCHES, CEMENT
        return ()

    def _bound(self, stage: int, best: Score) -> int:
        of = {LATE: self.bounds.late, FINISH: self.bounds.finish, BATCHES: self.bounds.batches}
        return of.get(stage, self.bounds.cement)(best)
