"""What a finished plan leaves unused, by the minute: people, places on the rack and the stack, moulds and bases."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.problem import MINUTES_A_DAY, Minutes, Problem
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import Span, State, Turn

_SOON = 7 * MINUTES_A_DAY
"""A mould that nobody can strip for so long is not filled (our choice)."""

Use = tuple[Minutes, int, int, int]
"""What is used, from a minute up to another, and how much of it."""


@dataclass(frozen=True)
class Unused:
    """Arrays by the minute; ``moulds`` (their sides, where there are bases) and ``bases`` by their kind; the stack."""

    problem: Problem
    people: Minutes
    places: Minutes
    moulds: tuple[Minutes, ...]
    bases: tuple[Minutes, ...]
    stacked: Stacked | None

    @classmethod
    def of(cls, problem: Problem, state: State) -> Unused:
        """What is there, less what a plan uses of it."""
        n = _minutes(problem, state)
        unused = cls(
            problem,
            _people(problem, state, n),
            np.full(n, problem.places, dtype=np.int32),
            tuple(np.full(n, mould.count, dtype=np.int32) for mould in problem.moulds),
            tuple(np.full(n if mould.bases else 0, mould.bases, dtype=np.int32) for mould in problem.moulds),
            None if problem.stack is None else Stacked(problem, problem.stack),
        )
        for turn in state.turns:
            unused._use(turn)
        return unused

    def change(self, turn: Turn | None, into: Turn) -> bool:
        """Have one turn in place of another, or of none, where there is enough of everything; whether there is."""
        if turn is not None:
            self._use(turn, -1)
        self._use(into)
        enough = all(there[start:end].min(initial=0) >= 0 for there, start, end, _ in self._uses(into))
        enough = enough and (self.stacked is None or self.stacked.fits())
        if not enough:
            self._use(into, -1)
            if turn is not None:
                self._use(turn)
        return enough

    def first(self, at: int, length: int) -> int | None:
        """First minute at or after ``at`` from which one person has so many minutes with nothing else to do."""
        if at < 0:
            return None
        there = np.concatenate(([0], np.cumsum(self.people[at : at + _SOON] > 0)))
        starts = np.flatnonzero(there[length:] - there[:-length] == length)
        return at + int(starts[0]) if starts.size else None

    def _use(self, turn: Turn, times: int = 1) -> None:
        for there, start, end, amount in self._uses(turn):
            there[start:end] -= amount * times
        if self.stacked is not None:
            self.stacked.add(turn, _done(turn.strip).end, times)

    def _uses(self, turn: Turn) -> Iterator[Use]:
        """All that a turn which is stripped and cleaned takes."""
        problem, kind = self.problem, turn.mould
        strip, clean = _done(turn.strip), _done(turn.clean)
        yield self.people, strip.start, strip.end + problem.move[turn.blocks], 1
        yield self.people, clean.start, clean.end, 1
        if problem.rack_for:
            yield self.places, strip.end, problem.leaves_rack(strip.end), turn.places
        yield self.moulds[kind], turn.start, turn.sides.end if turn.sides else clean.end, 1
        if turn.sides is not None:
            yield self.people, turn.sides.start, turn.sides.end, 1
            yield self.bases[kind], turn.start, clean.end, 1


def _minutes(problem: Problem, state: State) -> int:
    """Minutes up to the one by which all that a plan pours has left the rack, and a few days more."""
    ends = [max(problem.leaves_rack(_done(turn.strip).end), _done(turn.clean).end) for turn in state.turns]
    return max(ends, default=0) + problem.rack_for + 3 * _SOON


def _people(problem: Problem, state: State, n: int) -> npt.NDArray[np.int32]:
    """People with nothing to do: none while nobody works; chores are done from the first batch's day to the last's."""
    people = np.zeros(n, dtype=np.int32)
    pours = [batch.start // MINUTES_A_DAY for batch in state.batches]
    for day in problem.days:
        for start, end in day.windows:
            people[start:end] = day.people
        for chore in day.chores if min(pours) <= day.number <= max(pours) else ():
            people[chore.start : chore.end] -= chore.people
    for batch in state.batches:
        people[batch.start : batch.end] -= batch.load.crew
    return people


def _done(span: Span | None) -> Span:
    if span is None:
        raise ValueError("a turn that is never stripped or cleaned")
    return span
