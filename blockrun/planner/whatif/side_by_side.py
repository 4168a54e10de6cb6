"""Many sites solved at once, in processes of their own: the same answers with any number of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, field
from functools import partial
from multiprocessing import active_children
from multiprocessing.process import BaseProcess
from multiprocessing.synchronize import Event
from typing import TYPE_CHECKING, Final, Self, TypeVar

from blockrun.planner.beside import FRESH, begin
from blockrun.planner.plan import Stop
from blockrun.planner.whatif.solved import Answer, Job, Promise, promised, solve

if TYPE_CHECKING:
    from blockrun.order import Order

_GLANCE_S: Final = 0.1
_PATIENCE: Final = 10
"""Glances at work that was asked to stop before its process is ended: a solver may take long to hear of it."""

T = TypeVar("T")
Work = Callable[..., T]
"""Takes a job, the order, rounds and when to stop."""


class _Asked:
    """Whether this process was asked to stop: set once, as it begins."""

    event: Event | None = None


@dataclass
class SideBySide:
    """Solves an order on many sites, each with the same fixed work; to be used in a ``with``.

    Attributes
    ----------
    rounds : of playing on for each.
    workers : processes, >= 1; one solves here, site after site.
    stop : asked all the time; what is not solved by then has no answer.
    """

    order: Order
    rounds: int
    workers: int
    stop: Stop
    _pool: ProcessPoolExecutor | None = None
    _others: Iterable[BaseProcess] = field(default=(), init=False)

    def __enter__(self) -> Self:
        """Begin the processes, if there are to be any."""
        if self.workers > 1:
            self._asked, self._others = FRESH.Event(), active_children()
            self._pool = ProcessPoolExecutor(
                self.workers, mp_context=FRESH, initializer=_begin, initargs=(self._asked,)
            )
        return self

    def __exit__(self, *_: object) -> None:
        """End them."""
        if self._pool is not None:
            self._pool.shutdown()

    def solve(self, jobs: Sequence[Job], tell: Callable[[int], None]) -> list[Answer | None]:
        """An answer for each job, in their order; ``tell`` hears how many are solved."""
        return self._each(solve, jobs, tell)

    def promised(self, jobs: Sequence[Job]) -> list[Promise | None]:
        """What arithmetic allows each job."""
        return self._each(promised, jobs, lambda _: None)

    def _each(self, work: Work[T], jobs: Sequence[Job], tell: Callable[[int], None]) -> list[T | None]:
        tell(0)
        if self._pool is not None:
            return self._in_processes(self._pool, work, jobs, tell)
        answers: list[T | None] = []
        for job in jobs:
            answers.append(None if self.stop() else work(job, self.order, self.rounds, self.stop))
            tell(len(answers))
        return answers

    def _in_processes(
        self, pool: ProcessPoolExecutor, work: Work[T], jobs: Sequence[Job], tell: Callable[[int], None]
    ) -> list[T | None]:
        do: Work[T | None] = partial(_do, work)
        doing: dict[Future[T | None], Job] = {pool.submit(do, job, self.order, self.rounds): job for job in jobs}
        left, glances = set(doing), 0
        while left and glances < _PATIENCE:
            solved, left = wait(left, timeout=_GLANCE_S, return_when=FIRST_COMPLETED)
            if solved:
                tell(len(doing) - len(left))
            if self.stop():
                self._asked.set()
                # one whose best plan so far is wanted comes to an end by itself
                glances += not any(doing[each].cut_short for each in left)
        if left:
            self._end_all(pool)
        return [None if each in left else each.result() for each in doing]

    def _end_all(self, pool: ProcessPoolExecutor) -> None:
        """End the processes: nothing more can be solved in them, nor is there time for it."""
        for process in active_children():
            if process not in self._others:
                process.kill()
        pool.shutdown()
        self._pool = None


def _begin(asked: Event) -> None:
    _Asked.event = asked
    begin()


def _stopped() -> bool:
    return _Asked.event is not None and _Asked.event.is_set()


def _do(work: Work[T], job: Job, order: Order, rounds: int) -> T | None:
    return None if _stopped() and not job.cut_short else work(job, order, rounds, _stopped)
