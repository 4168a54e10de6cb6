"""A second player: plays in a process of its own, on another core, for orders that are worth its start."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from queue import SimpleQueue

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.laps import Laps
from blockrun.optimiser.quick.tries import NEVER_MIND, Tried, Tries
from blockrun.optimiser.sent import Sent
from blockrun.optimiser.state import State

_SPAWN = get_context("spawn")


@dataclass(frozen=True)
class Task(Sent):
    """Plays to make from plans that are known; ``name`` seeds their dice, ``soonest`` is a day no plan ends before.

    With ``laps`` they are put together lap by lap, for a sooner day than that of the best. With ``openings`` it is the
    set policies of these numbers that are played, and nothing else.
    All go on from the yard that is there, or from a later one that is ``begun``.
    """

    known: tuple[Tried, ...] = ()
    plays: int = 0
    name: str = ""
    soonest: int = NEVER_MIND
    begun: State | None = None
    laps: bool = False
    openings: tuple[int, ...] = ()

    def done_by(self, tries: Tries, told: Callable[[Tried], None] = lambda _: None) -> list[Tried]:
        """What comes of it, as far as it is better in something than what is known and the rest; all is told."""
        tries = tries.going_on(self.begun)
        if not (self.laps or self.openings):
            return tries.improved(self.known, self.plays, self.name, told, self.soonest)
        plans = [*tries.openings(numbers=self.openings)] if self.openings else self._in_laps(tries)
        for tried in plans:
            told(tried)
        return plans

    def _in_laps(self, tries: Tries) -> list[Tried]:
        return Laps(tries, self.known, self.name).plans(self.plays)


class Second:
    """The second player; what it gives is what the first would have come to with the same task.

    Until it has come, or where it is lost, the task is done here.
    """

    def __init__(self, problem: Problem, first: Tries) -> None:
        self._problem, self._first = problem, first
        self._asked: Task | None = None
        self._line: Connection | None = None
        self._came = False

    def come(self) -> None:
        """Have the player there from now on, in a process of its own."""
        if not self._came:
            here, there = _SPAWN.Pipe()
            _SPAWN.Process(
                target=_play, args=(there, self._problem, self._first.ground.begun, self._first.seed), daemon=True
            ).start()
            there.close()
            self._line, self._came = here, True

    def ask(self, task: Task) -> None:
        """Have a task begun, if there is somebody to begin it."""
        self._asked = task
        if self._line is not None:
            with suppress(OSError):
                self._line.send(task)

    def answer(self) -> list[Tried]:
        """What came of it."""
        task, self._asked = self._asked, None
        assert task is not None
        if self._line is not None:
            try:
                stopping = False
                while not self._line.poll(0.05):
                    if self._first.stop() and not stopping:
                        self._line.send(None)
                        stopping = True
                return list(self._line.recv())
            except (OSError, EOFError):
                self._line = None
        return task.done_by(self._first)

    def close(self) -> None:
        """Let the player go."""
        if self._line is not None:
            self._line.close()


def _play(line: Connection, problem: Problem, begun: State, seed: int) -> None:
    """Do tasks until the other end is gone."""
    tasks, over = SimpleQueue[Task](), threading.Event()
    threading.Thread(target=_hear, args=(line, tasks, over), daemon=True).start()
    tries = Tries(Ground(problem, Limits(problem, begun)), seed, over.is_set)
    with suppress(OSError):
        while True:
            line.send(tasks.get().done_by(tries))


def _hear(line: Connection, tasks: SimpleQueue[Task], over: threading.Event) -> None:
    """Take in tasks, until there is nothing more to do, and end with the first player."""
    with suppress(OSError, EOFError):
        while (task := line.recv()) is not None:
            tasks.put(task)
        over.set()
        line.recv()
    os._exit(0)
