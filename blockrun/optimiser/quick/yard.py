"""The yard as it stands in a play: what is left to pour, what stands in moulds, what is free and what is in stock."""

from __future__ import annotations

from dataclasses import dataclass

from blockrun.optimiser.cubes import Due
from blockrun.optimiser.cubes import due as lots_of
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.rack import Kept, Rack
from blockrun.optimiser.quick.shift import Shift, Taken
from blockrun.optimiser.quick.units import Units
from blockrun.optimiser.state import Batch, Span, State, Turn


@dataclass(frozen=True)
class Memory:
    """What was taken of days and of the rack, and what was promised."""

    taken: dict[int, Taken]
    rack: Kept
    promised: dict[int, tuple[Span | None, Span]]


class Yard:
    """A play so far. Turns that are done are shared with the state it began from; those that stand are its own."""

    def __init__(self, ground: Ground, state: State | None = None) -> None:
        self.ground, self.problem = ground, ground.problem
        state = state or ground.begun
        self.position = state.day
        self.turns = [turn if turn.done else turn.as_of() for turn in state.turns]
        self.batches = list(state.batches)
        self.standing = [turn for turn in self.turns if not turn.done]
        self.left = state.left_to_pour(self.problem)
        self.cement, self.agent = state.cement(), state.agent()
        self._last_pour = max((batch.start for batch in state.batches), default=-1) // MINUTES_A_DAY
        self.units, self.rack = Units(self.problem), Rack(self.problem)
        self.due = _dues(ground, self.turns)
        self.promised: dict[int, tuple[Span | None, Span]] = {}
        self.last_pour: int | None = None
        """Number of the day of the last pour, where it is known before it is there."""
        self._shifts: dict[int, Shift] = {}
        self._set_up()
        if self.position < len(self.problem.days):
            opens = self.problem.days[self.position].opens
            for end in state.moved_until(self.problem, opens):
                self.shift(self.position).take(opens, end)

    def _set_up(self) -> None:
        now = self.problem.days[self.position].opens if self.position < len(self.problem.days) else 1 << 40
        for turn in self.turns:
            if turn.strip is not None:
                self.rack.take(turn, turn.strip.end, now)
        for turn in self.standing:
            mould = self.problem.moulds[turn.mould]
            self.units.take(turn.mould, now)
            if mould.bases and (turn.sides is not None or turn.strip is not None):
                self.units.mould_free(turn.mould, now)

    @property
    def poured(self) -> bool:
        """Whether nothing is left to pour."""
        return not any(self.left)

    def shift(self, position: int) -> Shift:
        """The shift of a day; its chores are done while there is something to pour, and on the day of the last pour."""
        if position not in self._shifts:
            day = self.problem.days[position]
            ahead = position > self.position and self.last_pour is not None
            chores = day.number <= (self.last_pour or 0) if ahead else not self.poured
            chores = chores or day.number <= self._last_pour
            self._shifts[position] = Shift(day, self.problem.n_mixers, chores=chores)
        return self._shifts[position]

    def open(self) -> Shift:
        """Begin the day."""
        self.rack.forget(self.problem.days[self.position].opens)
        return self.shift(self.position)

    def close(self) -> None:
        """End it."""
        self._shifts.pop(self.position, None)
        self.standing = [turn for turn in self.standing if not turn.done]
        self.position += 1

    def lots(self) -> dict[int, Due]:
        """Where the lots of each mix stand that give test cubes."""
        return lots_of(self.problem, self.state()) if self.problem.cubes is not None else {}

    def in_stock(self) -> tuple[int, int]:
        """Cement and agent there today."""
        number = self.problem.days[self.position].number
        return self.problem.cement.by(number) - self.cement, self.problem.agent.by(number) - self.agent

    def as_is(self) -> Memory:
        """What is taken and promised now, to go back to."""
        taken = {position: shift.as_is() for position, shift in self._shifts.items()}
        return Memory(taken, self.rack.as_is(), dict(self.promised))

    def back_to(self, memory: Memory) -> None:
        """Take and promise no more than was then."""
        for position in list(self._shifts):
            if position in memory.taken:
                self._shifts[position].back_to(memory.taken[position])
            else:
                del self._shifts[position]
        self.rack.give_back(memory.rack)
        self.promised = memory.promised

    def pour(self, batch: Batch) -> None:
        """A batch is poured."""
        self.batches.append(batch)
        self.cement += batch.load.cement
        self.agent += batch.load.agent
        for number, count in batch.content.items():
            for block, each in self.problem.castings[number].gives:
                self.left[block] = max(0, self.left[block] - count * each)

    def stand(self, turn: Turn, castings: list[int]) -> None:
        """A mould stands filled with these, and what it held before."""
        if id(turn) not in self.due:
            self.turns.append(turn)
            self.standing.append(turn)
        formats = self.problem.formats
        blocks = {block for number in castings for block, _ in self.problem.castings[number].gives}
        due = min(self.ground.due(block, formats[block].demand - self.left[block]) for block in blocks)
        self.due[id(turn)] = min(due, self.due.get(id(turn), due))

    def state(self) -> State:
        """As a state before the day it stands at."""
        return State(self.position, self.turns, self.batches)


def _dues(ground: Ground, turns: list[Turn]) -> dict[int, int]:
    """Of each turn that stands the day its most urgent block is due, by its id."""
    poured = [0] * len(ground.problem.formats)
    found: dict[int, int] = {}
    for turn in sorted(turns, key=lambda turn: turn.poured):
        due = 1 << 20
        for number, _ in turn.fills:
            for block, count in ground.problem.castings[number].gives:
                if not turn.done:
                    due = min(due, ground.due(block, poured[block]))
                poured[block] += count
        if not turn.done:
            found[id(turn)] = due
    return found
