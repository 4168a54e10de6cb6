"""What is left of the batches of a finished plan goes into further blocks, in cavities that would stay empty.

No batch is added or grown, and no task that is there begins at another time: a block more takes a cavity, a minute or
so of somebody who has nothing else to do, and a place on the rack. So no stage gets worse. Cavities of moulds that are
filled anyway come first, then moulds that would stand empty, as far as there are people to strip and clean them.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, Span, State, Turn, given
from blockrun.optimiser.unused import Unused


def with_left_over(problem: Problem, state: State) -> State:
    """The plan with further blocks of what is left of its batches, where any are welcome.

    Of blocks that still fit, the largest is cast first, and of equals the one with the fewest further blocks for
    its demand. So many that a batch could be done without are never cast: that batch would be made for nothing.
    What was made before the plan stays as it is.
    """
    if not any(block.further for block in problem.formats) or not all(turn.done for turn in state.turns):
        return state
    return _LeftOver(problem, state).cast()


class _LeftOver:
    """A plan of its own, which gets further blocks one by one."""

    def __init__(self, problem: Problem, state: State) -> None:
        self.problem, self.unused = problem, Unused.of(problem, state)
        copies = {id(batch): replace(batch, content=dict(batch.content)) for batch in state.batches}
        self.batches = list(copies.values())
        self.state = replace(state, batches=self.batches)
        self.made: list[Turn] = []
        self.turns: dict[int, list[Turn]] = defaultdict(list)
        for turn in state.turns:
            fills = [(number, copies[id(batch)]) for number, batch in turn.fills]
            before = turn.start < problem.opens
            (self.made if before else self.turns[turn.start // MINUTES_A_DAY]).append(replace(turn, fills=fills))
        self.further = Further(problem, self.batches)
        self.empty_moulds = False

    def cast(self) -> State:
        """Batch by batch, first into moulds that are filled anyway."""
        for self.empty_moulds in (False, True):
            planned = (batch for batch in self.batches if batch.start >= self.problem.opens)
            for batch in sorted(planned, key=lambda batch: (batch.start, batch.load.mixer)):
                while self._one(batch):
                    pass
        return replace(self.state, turns=[*self.made, *(turn for turns in self.turns.values() for turn in turns)])

    def _one(self, batch: Batch) -> bool:
        """Cast one block more of a batch; whether there is a place for one."""
        for block in self.further.of(batch):
            if self._beside_others(batch, block) or (self.empty_moulds and self._alone(batch, block)):
                self.further.cast(batch, block)
                return True
        return False

    def _beside_others(self, batch: Batch, block: int) -> bool:
        """Into a cavity of a mould that is filled on the same day: one that this batch fills already, if it can be."""
        turns = self.turns[batch.start // MINUTES_A_DAY]
        for nth, turn in sorted(enumerate(turns), key=lambda of: all(filled is not batch for _, filled in of[1].fills)):
            mould = self.problem.moulds[turn.mould]
            if block in mould.casts and len(turn.fills) < mould.cavities:
                fuller = replace(turn, fills=[*turn.fills, (block, batch)], blocks=turn.blocks + 1)
                if _in_time(self.problem, fuller) and self.unused.change(turn, fuller):
                    turns[nth] = fuller
                    return True
        return False

    def _alone(self, batch: Batch, block: int) -> bool:
        """Into a mould that stands empty, and is stripped and cleaned as soon as somebody has time."""
        moulds = self.problem.moulds
        kinds = (kind for kind, mould in enumerate(moulds) if block in mould.casts and mould.cavities)
        for kind in sorted(kinds, key=lambda kind: moulds[kind].sides + moulds[kind].strip + moulds[kind].clean):
            turn = self._emptied(Turn(kind, [(block, batch)]))
            if turn is not None and _in_time(self.problem, turn) and self.unused.change(None, turn):
                self.turns[batch.start // MINUTES_A_DAY].append(turn)
                return True
        return False

    def _emptied(self, turn: Turn) -> Turn | None:
        """The turn with its tasks, each as soon as one person has time for it."""
        problem, mould = self.problem, self.problem.moulds[turn.mould]
        table = problem.ripe_sides[turn.mould]
        if table is not None:
            turn.sides = self._task(int(table[turn.poured]), mould.sides, mould.sides)
            if turn.sides is None:
                return None
        ripe = int(problem.ripe_strip[turn.mould][turn.poured])
        at = max(ripe, turn.sides.end) if turn.sides and ripe >= 0 else ripe
        turn.strip = self._task(at, mould.strip, mould.strip + problem.move[turn.blocks])
        if turn.strip is not None:
            turn.clean = self._task(turn.strip.end + problem.move[turn.blocks], mould.clean, mould.clean)
        return turn if turn.done else None

    def _task(self, at: int, length: int, busy: int) -> Span | None:
        """A task of one person, who is busy with it and what follows at once."""
        start = self.unused.first(at, max(busy, 1))
        return None if start is None else Span(start, start + length)


def _in_time(problem: Problem, turn: Turn) -> bool:
    """Whether all that a mould holds is ripe when its sides come off and when it is stripped, and no frost comes."""
    assert turn.strip is not None
    table, poured = problem.ripe_sides[turn.mould], turn.poured
    ripe = 0 <= int(problem.ripe_strip[turn.mould][poured]) <= turn.strip.start
    if table is not None and turn.sides is not None:
        ripe = ripe and 0 <= int(table[poured]) <= turn.sides.start
    first, last = turn.start // MINUTES_A_DAY, turn.strip.end // MINUTES_A_DAY
    return ripe and last <= int(problem.clear_until[first])


class Further:
    """Which further blocks batches have mix for, and how many of each there may be."""

    def __init__(self, problem: Problem, batches: list[Batch]) -> None:
        self.problem = problem
        self.given = {id(batch): Counter(given(problem, batch)) for batch in batches}
        self.room = {id(batch): _room(problem, batch) for batch in batches}
        self.extra = Counter[int]()
        for of_batch in self.given.values():
            self.extra.update(of_batch)
        self.extra.subtract({number: block.demand for number, block in enumerate(problem.formats)})
        planned = (batch for batch in batches if batch.start >= problem.opens)
        self.needed = [id(batch) for batch in planned if self._is_needed(id(batch))]

    def of(self, batch: Batch) -> Iterator[int]:
        """Blocks that what is left of a batch is enough for, in the order in which they are wanted."""
        formats = self.problem.formats
        found = (
            number
            for number, block in enumerate(formats)
            if block.further and block.mix == batch.load.mix and block.volume <= self.room[id(batch)]
        )
        for number in sorted(found, key=lambda n: (-formats[n].volume, Fraction(self.extra[n], formats[n].demand), n)):
            if self._allows(batch, number):
                yield number

    def cast(self, batch: Batch, block: int) -> None:
        """One more of them is cast."""
        self._count(batch, block, 1)
        batch.content[block] = batch.content.get(block, 0) + 1
        self.room[id(batch)] -= self.problem.formats[block].volume

    def _allows(self, batch: Batch, block: int) -> bool:
        """Whether with one more of a block every batch that is needed still is."""
        self._count(batch, block, 1)
        allowed = all(self._is_needed(each) for each in self.needed if block in self.given[each])
        self._count(batch, block, -1)
        return allowed

    def _count(self, batch: Batch, block: int, count: int) -> None:
        self.given[id(batch)][block] += count
        self.extra[block] += count

    def _is_needed(self, batch: int) -> bool:
        """Whether something would be short without a batch."""
        return any(count > self.extra[block] for block, count in self.given[batch].items())


def _room(problem: Problem, batch: Batch) -> int:
    """What is left of a batch once its blocks and its test cubes are poured."""
    return batch.load.room - problem.poured(batch.content, batch.cubes)
