"""Room for batches and fills in the textbook model: those of the foreman's plan, in their order, and a tenth more."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from blockrun.optimiser.problem import MINUTES_A_DAY, Load
from blockrun.order.shape import Shape
from blockrun.planner.brief import Brief
from tests.bench.rule import Batch, Turn, Worked
from tests.bench.rule.things import size_as

MOST_PAIRS: Final = 60_000
_SPANS: Final = (400, 12, 6, 3, 2, 1, 0)


@dataclass(eq=False)
class BatchSlot:
    """A batch that may be made: its mixer and mix, the days it may be made on, and what the foreman does with it."""

    mixer: int
    mix: int
    days: range
    his: Batch | None
    load: Load | None = None


@dataclass(eq=False)
class TurnSlot:
    """A turn that may be poured: its kind of mould, its days, and the castings of each of the foreman's batches."""

    kind: int
    days: range
    his: Turn | None
    fills: Counter[tuple[int, int]] = field(default_factory=Counter)
    """Castings by (casting, id of the batch)."""


class Slots:
    """Slots of both, each group in the order of the foreman's starts, spare ones last."""

    def __init__(self, brief: Brief, worked: Worked) -> None:
        self.brief, problem = brief, brief.problem
        self.loads = {(mixer.name, mix, s.bags): problem.loads[n] for n, (mixer, mix, s) in enumerate(brief.loads)}
        self.last = max(self._day(batch.start) for batch in worked.batches)
        for self.span in _SPANS:
            self.batches, self.turns = list(self._batches(worked)), list(self._turns(worked))
            self.pairs = list(self._pairs())
            if len(self.pairs) <= MOST_PAIRS:
                break

    def _day(self, minute: int | None) -> int:
        return self.brief.problem.day_index[(minute or 0) // MINUTES_A_DAY]

    def _days(self, minute: int | None) -> range:
        day = self.last if minute is None else self._day(minute)
        return range(max(0, day - self.span), min(self.last, day + self.span) + 1)

    def _batches(self, worked: Worked) -> Iterable[BatchSlot]:
        groups: dict[tuple[int, int], list[Batch]] = defaultdict(list)
        for batch in sorted(worked.batches, key=lambda batch: batch.start or 0):
            load = self.loads[batch.mixer.name, batch.mix, batch.size.bags]
            groups[load.mixer, load.mix].append(batch)
        for (mixer, mix), batches in sorted(groups.items()):
            for his in batches:
                load = self.loads[his.mixer.name, his.mix, his.size.bags]
                yield BatchSlot(mixer, mix, self._days(his.start), his, load)
            for _ in range(math.ceil(len(batches) / 10)):
                yield BatchSlot(mixer, mix, self._days(None), None)

    def _turns(self, worked: Worked) -> Iterable[TurnSlot]:
        groups: dict[int, list[Turn]] = defaultdict(list)
        for turn in sorted(worked.turns, key=lambda turn: turn.begun):
            groups[self.brief.moulds.index(turn.kind)].append(turn)
        for kind, turns in sorted(groups.items()):
            for his in turns:
                yield TurnSlot(kind, self._days(his.begun), his, self._fills(his))
            for _ in range(math.ceil(len(turns) / 10)):
                yield TurnSlot(kind, self._days(None), None)

    def _fills(self, turn: Turn) -> Counter[tuple[int, int]]:
        """Castings of a turn of his, by batch; a slab is the saw plan that gives most blocks of its size."""
        formats = {size_as(key[0], Shape(*key[1:])): n for n, key in enumerate(self.brief.formats)}
        if not turn.kind.saw:
            return Counter((formats[size], id(batch)) for size, batch in turn.fills)
        size, batch = turn.fills[0]
        castings, block = self.brief.problem.castings, formats[size]
        kind = self.brief.problem.moulds[self.brief.moulds.index(turn.kind)]
        best = max(sorted(kind.casts), key=lambda c: (castings[c].of(block), -castings[c].blocks))
        assert castings[best].of(block) >= len(turn.fills)
        return Counter([(best, id(batch))])

    def _pairs(self) -> Iterable[tuple[int, int, int]]:
        """(turn, casting, batch) that may come together."""
        problem = self.brief.problem
        for t, turn in enumerate(self.turns):
            for b, batch in enumerate(self.batches):
                if turn.days.start < batch.days.stop and batch.days.start < turn.days.stop:
                    for casting in problem.moulds[turn.kind].casts:
                        if problem.castings[casting].mix == batch.mix:
                            yield t, casting, b
