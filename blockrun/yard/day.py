"""One working day of a run: strips and pours in the order of the plan's clock, each as soon as it can be."""

from __future__ import annotations

import heapq
import itertools
from typing import TYPE_CHECKING, Final

from blockrun.units import MINUTES_A_DAY
from blockrun.yard.board import Board
from blockrun.yard.pouring import Pouring
from blockrun.yard.state import Turn

if TYPE_CHECKING:
    from blockrun.yard.ground import Coming
    from blockrun.yard.run import Run, ToPour
    from blockrun.yard.setting import Day

_JOB: Final = 0
_BATCH: Final = 1


class WorkDay:
    """A day's work. Minutes are those of the day inside, and count from the first midnight outside.

    Parameters
    ----------
    run : the yard as it is in the morning; as it is in the evening afterwards.
    day : a working day that is not lost.
    """

    def __init__(self, run: Run, day: Day) -> None:
        self.run = run
        self.day = day
        self.midnight = day.number * MINUTES_A_DAY
        people = day.people - run.luck.away_on(day.number, of=day.people)
        opens = max(0, run.setting.before.opens - self.midnight)
        windows = [(max(start, opens), max(end, opens)) for start, end in run.setting.windows]
        self.board = Board(windows, people, len(run.setting.loads[0]))
        self._heap: list[tuple[int, int, int, Turn | ToPour]] = []
        self._count = itertools.count()
        self.pouring = Pouring(self)

    def work(self) -> None:
        """Do all that can be done today."""
        if self.run.to_pour or self.run.pool.waiting:
            self._chores()
        for turn in self.run.state.standing:
            if not turn.job:  # it was filled before the run
                self.settle(turn)
            self._push_job(turn)
        if self.run.pool.waiting:
            self.pouring.make_way()
        for batch in self.pouring.today:
            self.push_batch(batch, self.pouring.pours_from(batch))
        self._go_on()
        for batch in self.pouring.put_off():
            self.pouring.pour_what_can_be(batch)
            self._go_on()
        while self.run.pool.waiting and self.pouring.pour_again():
            self._go_on()
        self.pouring.leave()

    def go_on_with(self, turn: Turn) -> None:
        """Settle what is to be done next with a turn, and do it today if it may be by then."""
        self.settle(turn)
        self._push_job(turn)

    def settle(self, turn: Turn) -> None:
        """Settle what is to be done next with a turn."""
        turn.job, turn.at = self._next_job(turn)

    def _push_job(self, turn: Turn) -> None:
        if turn.at < self.midnight + MINUTES_A_DAY:
            heapq.heappush(self._heap, (max(turn.at - self.midnight, 0), _JOB, next(self._count), turn))

    def push_batch(self, batch: ToPour, at: int) -> None:
        """Have a batch poured, once all that begins before this minute is settled."""
        heapq.heappush(self._heap, (at, _BATCH, next(self._count), batch))

    def _chores(self) -> None:
        for start, length, people in self.day.chores:
            if self.board.chore(start, length, people):
                self.run.tell(self.midnight + start, length, "chore", people)

    def _go_on(self) -> None:
        while self._heap:
            at, _, _, thing = heapq.heappop(self._heap)
            if isinstance(thing, Turn):
                self._do_job(thing, at)
            else:
                self.pouring.pour(thing)

    def _next_job(self, turn: Turn) -> tuple[str, int]:
        """What is to be done next with a turn, and from when: as planned, or as soon as it may be if that is later."""
        ripe, kind, planned = self.run.ripe, self.run.setting.kinds[turn.kind], turn.planned
        if not turn.fills and turn.stripped < 0:
            return "clean", turn.last_pour
        if kind.bases and turn.bared < 0:
            return "sides", max(ripe.when(turn.kind, turn.last_pour, kind.sides_h), planned.sides if planned else 0)
        if turn.stripped < 0:
            at = max(ripe.strip(turn.kind, turn.last_pour), turn.bared)
            return "strip", max(at, planned.strip) if planned else at
        return "clean", max(turn.stripped, planned.clean) if planned else turn.stripped

    def _do_job(self, turn: Turn, at: int) -> None:
        {"sides": self._take_sides_off, "strip": self._strip, "clean": self._clean}[turn.job](turn, at)

    def _take_sides_off(self, turn: Turn, at: int) -> None:
        length = self.run.setting.kinds[turn.kind].sides
        start = self.board.find(length, at)
        if start is None:
            return
        self.board.take(start, length)
        self.run.tell(self.midnight + start, length, "sides", 1, turn)
        turn.bared = self.midnight + start + length
        self.run.state.moulds[turn.kind].give_back(turn.unit, turn.bared)
        self.pouring.wake(turn.kind, start + length)
        self.go_on_with(turn)

    def _strip(self, turn: Turn, at: int) -> None:
        """Strip and move on, which is one piece of work, once the rack and the stack have room for what comes of it."""
        kind, rack = self.run.setting.kinds[turn.kind], self.run.state.rack
        move, blocks = kind.moves[turn.n_blocks], turn.n_blocks
        start = self.board.find(kind.strip + move, at)
        while start is not None:
            free = rack.room_at(blocks, self.midnight + start + kind.strip) - kind.strip - self.midnight
            if free <= start:
                break
            start = self.board.find(kind.strip + move, free) if free < MINUTES_A_DAY else None
        if start is None or not self._has_ground(turn, self.midnight + start + kind.strip):
            return
        self.board.take(start, kind.strip + move)
        turn.stripped = self.midnight + start + kind.strip
        self.run.tell(self.midnight + start, kind.strip, "strip", 1, turn)
        self.run.tell(turn.stripped, move, "move", 1, turn)
        self._sort(turn)
        self.go_on_with(turn)

    def _has_ground(self, turn: Turn, stripped: int) -> bool:
        """Whether the stack has room for the blocks of a turn stripped at a minute; if not, another day it may."""
        ground, leaves = self.run.state.ground, self.run.leaves_rack(stripped)
        if ground is None:
            return True
        coming = [(mark, self._ready(leaves, poured)) for fill, poured in turn.fills for mark in fill.marks]
        return ground.has_room(coming, leaves // MINUTES_A_DAY)

    def _ready(self, leaves: int, poured: int) -> int:
        """The day from which a block may be laid."""
        return max(leaves, self.run.ripe.lay(poured)) // MINUTES_A_DAY

    def _sort(self, turn: Turn) -> None:
        """Tell good blocks of a turn from broken ones."""
        run, leaves, good = self.run, self.run.leaves_rack(turn.stripped), 0
        coming = []
        for fill, poured in turn.fills:
            ready = self._ready(leaves, poured)
            for mark, block in fill.each():
                if run.luck.broken(block):
                    run.pool.lose(mark, block, fill.due, self.day.number)
                    continue
                good += 1
                if run.pool.counts(block):
                    run.ready[mark].append(ready)
                    coming.append((mark, ready))
        run.state.rack.put(good, leaves)
        run.tell(turn.stripped, leaves - turn.stripped, "rack", 0, turn, good)
        self._stand(coming, leaves)

    def _stand(self, coming: Coming, leaves: int) -> None:
        """Have blocks come to the stack once they leave the rack."""
        ground = self.run.state.ground
        if ground is not None:
            ground.put(coming, leaves // MINUTES_A_DAY)
            for mark, ready in coming:
                self.run.tell(leaves, max(0, ready * MINUTES_A_DAY - leaves), "stack", 0, amount=mark)

    def _clean(self, turn: Turn, at: int) -> None:
        kind = self.run.setting.kinds[turn.kind]
        start = self.board.find(kind.clean, at)
        if start is None:
            return
        self.board.take(start, kind.clean)
        self.run.tell(self.midnight + start, kind.clean, "clean", 1, turn)
        self.run.state.clean(turn, kind, self.midnight + start + kind.clean)
        self.pouring.wake(turn.kind, start + kind.clean)
