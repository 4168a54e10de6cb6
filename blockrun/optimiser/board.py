"""What a day's tasks share: its minutes, people, moulds, bases, rack places and stack."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Expression, Value
from blockrun.optimiser.problem import MINUTES_A_DAY, Minutes, Problem
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import Span, State, Turn

_STEPS = 1000


@dataclass
class Task:
    """A task that may be done today."""

    done: cp_model.IntVar
    start: cp_model.IntVar
    length: int

    @property
    def end(self) -> Expression:
        """Minute it is done."""
        return self.start + self.length


@dataclass(frozen=True)
class Tasks:
    """What is to be done with a turn: ``None`` for what is done already, or cannot be today."""

    sides: Task | None
    strip: Task | None
    clean: Task | None


class Board:
    """The day a state stands before, as a model; all minutes count from its midnight.

    ``standing`` and ``sides_on`` collect, for each kind of mould, when moulds (or bases) and sides
    are taken; ``price`` what is not done, or done late.
    """

    def __init__(self, problem: Problem, state: State) -> None:
        self.problem, self.state = problem, state
        self.day = problem.days[state.day]
        self.midnight = self.day.number * MINUTES_A_DAY
        self.windows = [(start - self.midnight, end - self.midnight) for start, end in self.day.windows]
        self.opening, self.closing = self.windows[0][0], self.windows[-1][1]
        self.model = cp_model.CpModel()
        self.people: list[tuple[cp_model.IntervalVar, int]] = []
        self.standing: dict[int, list[cp_model.IntervalVar]] = {k: [] for k in range(len(problem.moulds))}
        self.sides_on: dict[int, list[cp_model.IntervalVar]] = {k: [] for k in range(len(problem.moulds))}
        self.price: Expression = 0
        self._racked: list[tuple[cp_model.IntervalVar, int]] = []
        self._to_stack: list[Expression] = [0] * len(problem.formats)

    def _starts(self, length: int, ripe: int = 0) -> cp_model.Domain:
        """Minutes at or after ``ripe`` from which a task of this length lies in one window."""
        spans = [[max(start, ripe), end - length] for start, end in self.windows if max(start, ripe) + length <= end]
        return cp_model.Domain.from_intervals(spans)

    def task(self, name: str, length: int, ripe: int = 0, people: int = 1) -> Task | None:
        """A task that need not be done; ``None`` when there is no minute for it."""
        domain = self._starts(length, ripe)
        if domain.is_empty():
            return None
        done = self.model.new_bool_var(f"{name} done")
        start = self.model.new_int_var_from_domain(domain, f"{name} start")
        interval = self.model.new_optional_fixed_size_interval_var(start, length, done, name)
        if length:
            self.people.append((interval, people))
        return Task(done, start, length)

    def minute(self, name: str) -> cp_model.IntVar:
        """A minute of the day, or its end."""
        return self.model.new_int_var(self.opening, MINUTES_A_DAY, name)

    def _busy(self, start: Expression, end: cp_model.IntVar, name: str) -> cp_model.IntervalVar:
        """The time something is taken."""
        size = self.model.new_int_var(0, MINUTES_A_DAY, f"{name} length")
        return self.model.new_interval_var(start, size, end, name)

    def stands(self, kind: int, start: Expression, clean: Task | None, name: str) -> None:
        """A mould, or a base, is taken from a minute until it is clean."""
        self.standing[kind].append(self._busy(start, self._freed(clean, name), f"{name} stands"))

    def holds_sides(self, kind: int, start: Expression, sides: Task | None, name: str) -> None:
        """Sides are taken from a minute until they are off."""
        freed = self._freed(sides, f"{name} sides")
        self.sides_on[kind].append(self._busy(start, freed, f"{name} sides on"))

    def _freed(self, task: Task | None, name: str) -> cp_model.IntVar:
        """The minute a task sets something free: its end, or after the day."""
        freed = self.minute(f"{name} freed")
        if task is None:
            self.model.add(freed == MINUTES_A_DAY)
        else:
            self.model.add(freed == task.end).only_enforce_if(task.done)
            self.model.add(freed == MINUTES_A_DAY).only_enforce_if(task.done.negated())
        return freed

    def once_ripe(self, table: Minutes, poured: cp_model.IntVar, length: int, name: str) -> Task | None:
        """A task once a turn poured today is ripe; the curve of ripe minutes is replaced by a line above it."""
        first, last = self.opening, self.closing
        ripe = table[self.midnight + first : self.midnight + last + 1].astype(int) - self.midnight
        if ripe[0] < 0 or ripe[0] + length > self.closing:
            return None
        task = self.task(name, length, int(ripe[0]))
        if task is not None:
            known = ripe[ripe >= 0]
            slope = _STEPS * int(known[-1] - known[0]) // max(1, len(known) - 1)
            minutes = first + np.arange(len(known))
            level = int((_STEPS * known - slope * minutes).max())
            self.model.add(_STEPS * task.start >= slope * poured + level).only_enforce_if(task.done)
            if len(known) < len(ripe):
                self.model.add(poured < first + len(known)).only_enforce_if(task.done)
        return task

    def after_strip(
        self, sides: Task | None, strip: Task, clean: Task | None, strip_min: int, blocks: int, name: str
    ) -> None:
        """Sides off first, the mould cleaned after; the blocks stand on the rack from then to the end of the day."""
        if sides is not None:
            self.model.add_implication(strip.done, sides.done)
            self.model.add(strip.start >= sides.end).only_enforce_if(strip.done)
        if clean is not None:
            self.model.add_implication(clean.done, strip.done)
            self.model.add(clean.start >= strip.start + strip_min).only_enforce_if(clean.done)
        if self.problem.rack_for:
            stripped = strip.start + strip_min
            size = self.model.new_int_var(0, 2 * MINUTES_A_DAY, f"{name} racked length")
            day_end = 2 * MINUTES_A_DAY
            racked = self.model.new_optional_interval_var(stripped, size, day_end, strip.done, f"{name} racked")
            self._racked.append((racked, blocks))

    def to_stack(self, turn: Turn, strip: Task) -> None:
        """Blocks of a turn go on to the stack if it is stripped."""
        for number, _ in turn.fills:
            for block, count in self.problem.castings[number].gives:
                self._to_stack[block] += count * strip.done

    def share(self, chores: bool) -> None:
        """People, moulds, bases, rack places and the stack are never more in use than there are."""
        for chore in self.day.chores if chores else ():
            fixed = self.model.new_fixed_size_interval_var(
                chore.start - self.midnight, chore.end - chore.start, "chore"
            )
            self.people.append((fixed, chore.people))
        for end in self.state.moved_until(self.problem, self.midnight + self.opening):
            length = end - self.midnight - self.opening
            self.people.append((self.model.new_fixed_size_interval_var(self.opening, length, "still moved"), 1))
        intervals = [interval for interval, _ in self.people]
        self.model.add_cumulative(intervals, [people for _, people in self.people], self.day.people)
        for kind, mould in enumerate(self.problem.moulds):
            if self.standing[kind]:
                self.model.add_cumulative(
                    self.standing[kind], [1] * len(self.standing[kind]), mould.bases or mould.count
                )
            if self.sides_on[kind]:
                self.model.add_cumulative(self.sides_on[kind], [1] * len(self.sides_on[kind]), mould.count)
        self._rack()
        self._stack()

    def _rack(self) -> None:
        racked = list(self._racked)
        for leaves, blocks in self.state.on_rack(self.problem):
            left = leaves - self.midnight
            if left > self.opening:
                size = min(left, 2 * MINUTES_A_DAY) - self.opening
                racked.append((self.model.new_fixed_size_interval_var(self.opening, size, "on the rack"), blocks))
        if self._racked:
            self.model.add_cumulative([i for i, _ in racked], [blocks for _, blocks in racked], self.problem.places)

    def _stack(self) -> None:
        """All blocks up to now have room on the day on which those stripped today leave the rack at the soonest.

        None of these is laid before, and no more come after it, so that is the day on which the most are there.
        """
        stack = self.problem.stack
        if stack is None:
            return
        leaves = self.problem.leaves_rack(self.midnight + self.opening) // MINUTES_A_DAY
        there = Stacked.of(self.problem, stack, self.state.turns).on(leaves)
        columns: list[Expression] = []
        for block, count in enumerate(there):
            columns.append(self.model.new_int_var(0, stack.places, f"columns of {block}"))
            self.model.add(stack.layers * columns[-1] >= count + self._to_stack[block])
        self.model.add(sum(columns) <= stack.places)

    def finish(self, turn: Turn, tasks: Tasks, value: Value) -> None:
        """Write into a turn what of its tasks an answer does."""
        mould = self.problem.moulds[turn.mould]
        if tasks.sides is not None and value(tasks.sides.done):
            turn.sides = self._span(value(tasks.sides.start), mould.sides)
        if tasks.strip is not None and value(tasks.strip.done):
            turn.strip = self._span(value(tasks.strip.start), mould.strip)
        if tasks.clean is not None and value(tasks.clean.done):
            turn.clean = self._span(value(tasks.clean.start), mould.clean)

    def _span(self, start: int, length: int) -> Span:
        return Span(self.midnight + start, self.midnight + start + length)
