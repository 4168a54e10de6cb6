"""Tiny yards of up to eight blocks, too many to hear of every plan: the best is found by trying what may be better.

Blocks of one kind are one and the same here, and so are turns that hold the same of the same batches; a plan that is
no better than the best so far, however well it ends, is tried no further.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations, product
from random import Random

import numpy as np

from blockrun.optimiser.problem import MINUTES_A_DAY, Format, Load, Mould, Problem, Supply
from tests.optimiser.tiny import Key, OneBatch, OneTurn, Trial, Tuple4
from tests.optimiser.tiny_yards import HORIZON, days_of, peopled, ripe

NO_PLAN = (1 << 30,) * 4
Label = tuple[int, ...]


def crowded(seed: int) -> Problem:
    """Four to eight blocks of one or two formats, big batches, two moulds of some cavities."""
    rng = Random(seed + 50_000)
    blocks, volumes = rng.randint(4, 8), rng.choice(((400,), (600,), (400, 600)))
    shares = [blocks] if len(volumes) == 1 else [blocks // 2, blocks - blocks // 2]
    formats = tuple(
        Format(0, volume * 1000, share, _needs(rng, share)) for volume, share in zip(volumes, shares, strict=True)
    )
    bases = rng.choice((0, 0, 0, 3))
    of_any = frozenset(range(len(formats)))
    mould = Mould("m", rng.choice((1, 2)), rng.choice((3, 4)), of_any, 5, rng.choice((0, 8)), bases, 4 if bases else 0)
    people = rng.choice((1, 2, 2))
    loads = tuple(Load(0, 0, c, c, 500_000 * c, 8, 2, 10, rng.choice((0, 3)), people) for c in (4, 6))
    return Problem(
        days=peopled(Random(seed + 60_000), days_of(rng, people), people),
        horizon=HORIZON,
        formats=formats,
        moulds=(mould,),
        loads=loads,
        places=rng.choice((mould.cavities, 6, 9)),
        move=(0, 1, 1, 2, 2),
        move_seconds=30,
        rack_for=rng.choice((0, 40, MINUTES_A_DAY)),
        lay_at=rng.choice((0, MINUTES_A_DAY)),
        ripe_strip=(ripe(rng.choice((20, 1300, 1440))),),
        ripe_sides=(ripe(10) if bases else None,),
        clear_until=np.full(HORIZON, HORIZON - 1, dtype=np.int32),
        cement=Supply(rng.choice((((0, 99),), ((0, 6), (1, 99)), ((0, 16),)))),
        agent=Supply(((0, 10_000),)),
    )


def _needs(rng: Random, blocks: int) -> tuple[tuple[int, int], ...]:
    due = Counter(rng.randrange(4) for _ in range(rng.randint(0, blocks)))
    return tuple(sorted(due.items()))


def least(problem: Problem) -> Tuple4:
    """(late, finish, batches, cement) of the best plan; :data:`NO_PLAN` where there is none."""
    blocks = [number for number, block in enumerate(problem.formats) for _ in range(block.demand)]
    best = [NO_PLAN]
    days = range(3) if any(day.chores for day in problem.days) else (2,)
    for batches in sorted(_batches(problem, blocks), key=lambda of: (len(of), sum(load.cement for load, _ in of))):
        if (0, 0, len(batches), sum(load.cement for load, _ in batches)) >= best[0]:
            continue
        for turns in _turns(problem, blocks, batches):
            for last in days:
                trial = _Better(
                    problem,
                    blocks,
                    tuple(OneBatch(load, part) for load, part in batches),
                    tuple(OneTurn(kind, part) for kind, part in turns),
                    last,
                    best=best,
                )
                trial.all()
    return best[0]


Poured = list[tuple[Load, tuple[int, ...]]]


def _batches(problem: Problem, blocks: list[int]) -> Iterator[Poured]:
    """Ways to pour them in batches; each way has the places of the blocks of each."""
    stock = max(amount for _, amount in problem.cement.steps)
    for parts in parted(tuple((number,) for number in blocks), len(blocks)):
        volumes = [sum(problem.castings[number].volume for (number,) in part) for part in parts]
        fits = [[load for load in problem.loads if load.room >= volume] for volume in volumes]
        placed = _placed([(number,) for number in blocks], parts)
        for loads in product(*fits):
            if sum(load.cement for load in loads) <= stock:
                yield list(zip(loads, placed, strict=True))


def _turns(problem: Problem, blocks: list[int], batches: Poured) -> Iterator[list[tuple[int, tuple[int, ...]]]]:
    of_batch = {block: batch for batch, (_, part) in enumerate(batches) for block in part}
    labels = [(blocks[place], of_batch[place]) for place in range(len(blocks))]
    for parts in parted(tuple(sorted(labels)), problem.moulds[0].cavities):
        yield [(0, part) for part in _placed(labels, parts)]


def parted(items: tuple[Label, ...], most: int) -> Iterator[list[tuple[Label, ...]]]:
    """Ways to part things, sorted, into parts of so many at the most; things of one label are the same."""
    yield from _parted(items, most, ())


def _parted(items: tuple[Label, ...], most: int, before: tuple[Label, ...]) -> Iterator[list[tuple[Label, ...]]]:
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    others = {of for size in range(min(most, len(items))) for of in combinations(rest, size)}
    for chosen in sorted(others):
        part = (first, *chosen)
        if before[:1] != part[:1] or part >= before:
            left = tuple(sorted((Counter(rest) - Counter(chosen)).elements()))
            yield from ([part, *more] for more in _parted(left, most, part))


def _placed(labels: list[Label], parts: list[tuple[Label, ...]]) -> list[tuple[int, ...]]:
    """Places in a list of the things of each part."""
    waiting: dict[Label, list[int]] = {}
    for place, label in enumerate(labels):
        waiting.setdefault(label, []).append(place)
    return [tuple(waiting[label].pop() for label in part) for part in parts]


@dataclass
class _Better(Trial):
    """Only what may be better than the best so far."""

    best: list[Tuple4] = field(default_factory=list)

    def _go(self, starts: dict[Key, int]) -> None:
        if self._may_be_better(starts):
            super()._go(starts)
            if self.found:
                self.best[0] = min(self.best[0], *self.found)

    def _may_be_better(self, starts: dict[Key, int]) -> bool:
        days = [start // MINUTES_A_DAY for (name, _), start in starts.items() if name == "batch"]
        cement = sum(batch.load.cement for batch in self.batches)
        return (self._late_so_far(starts), max(days, default=0), len(self.batches), cement) < self.best[0]

    def _late_so_far(self, starts: dict[Key, int]) -> int:
        """Block-days late where all goes on as soon as it can."""
        of_batch = {block: b for b, batch in enumerate(self.batches) for block in batch.blocks}
        ready: dict[int, list[int]] = {}
        for t, turn in enumerate(self.turns):
            pours = [self._pour_to(starts, of_batch[block]) for block in turn.blocks]
            leaves = self._leaves(t, starts.get(("strip", t), self._soonest_strip(turn.kind, max(pours))))
            for block, poured in zip(turn.blocks, pours, strict=True):
                day = max(leaves, poured + self.problem.lay_at) // MINUTES_A_DAY
                ready.setdefault(self.blocks[block], []).append(day)
        total = 0
        for block, days in ready.items():
            due = [day for day, count in self.problem.formats[block].needs for _ in range(count)]
            total += sum(max(0, day - need) for day, need in zip(sorted(days), due, strict=False))
        return total

    def _pour_to(self, starts: dict[Key, int], b: int) -> int:
        return starts.get(("batch", b), self.problem.days[0].opens) + self.batches[b].load.to_poured

    def _soonest_strip(self, kind: int, poured: int) -> int:
        start = self.problem.fit(int(self.problem.ripe_strip[kind][poured]), self.problem.moulds[kind].strip)
        assert start is not None
        return start

    def _tasks(self, starts: dict[Key, int], t: int) -> None:
        """Of turns that hold the same of the same batches the first is always ahead."""
        done = [sum((name, n) in starts for name in ("sides", "strip", "clean")) for n in range(len(self.turns))]
        alike = [n for n in range(t) if self._held(n) == self._held(t)]
        if not any(done[n] <= done[t] < 3 and done[n] < self._tasks_of(n) for n in alike):
            super()._tasks(starts, t)

    def _tasks_of(self, n: int) -> int:
        return 3 if self.problem.moulds[self.turns[n].kind].bases else 2

    def _held(self, n: int) -> list[tuple[int, int]]:
        batch = {block: b for b, of in enumerate(self.batches) for block in of.blocks}
        return sorted((self.blocks[block], batch[block]) for block in self.turns[n].blocks)
