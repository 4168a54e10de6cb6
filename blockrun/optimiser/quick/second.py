"""A second player: plays in a process of its own, on another core, for orders that are worth its start."""

from __future__ import annotations

import gc
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
_HERE = "here"
"""What the player says when it has come."""


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

    It takes a while to come. A task that it has not begun when its answer is wanted is done here, and so is all of it
    where it never comes or is lost.
    """

    def __init__(self, problem: Problem, first: Tries) -> None:
        self._problem, self._first = problem, first
        self._turn = threading.Lock()
        """Held by whoever looks at what follows and changes it."""
        self._waiting: Task | None = None
        self._begun: Task | None = None
        self._line: Connection | None = None
        self._called, self._over = False, False

    def come(self) -> None:
        """Call it, to play in a process of its own once it is there."""
        if not self._called:
            self._called = True
            threading.Thread(target=self._fetch, daemon=True).start()

    def _fetch(self) -> None:
        with suppress(OSError, EOFError):
            here, there = _SPAWN.Pipe()
            its_own = self._problem, self._first.ground.begun, self._first.seed
            _SPAWN.Process(target=_play, args=(there, *its_own), daemon=True).start()
            there.close()
            here.recv()
            with self._turn:
                if self._over:
                    here.close()
                else:
                    self._line = here
                    self._begin()

    def _begin(self) -> None:
        """Have what is waiting begun, if there is somebody to begin it."""
        if self._line is not None and self._waiting is not None:
            with suppress(OSError):
                self._line.send(self._waiting)
            self._begun = self._waiting
            self._waiting = None

    def ask(self, task: Task) -> None:
        """Have a task begun as soon as can be."""
        with self._turn:
            self._waiting = task
            self._begin()

    def answer(self) -> list[Tried]:
        """What came of it."""
        with self._turn:
            task = self._waiting or self._begun
            begun, self._waiting, self._begun = self._begun, None, None
        assert task is not None
        if begun is not None and self._line is not None:
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
        """Let the player go, once it has come."""
        with self._turn:
            self._over = True
            if self._line is not None:
                self._line.close()


def _play(line: Connection, problem: Problem, begun: State, seed: int) -> None:
    """Do tasks until the other end is gone."""
    tasks, over = SimpleQueue[Task](), threading.Event()
    threading.Thread(target=_hear, args=(line, tasks, over), daemon=True).start()
    tries = Tries(Ground(problem, Limits(problem, begun)), seed, over.is_set)
    gc.freeze()  # what is there stays: no look for rubbish, of which plays make much, need go over it
    with suppress(OSError):
        line.send(_HERE)
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
