"""Sets of test cubes: how many of a mix are due, for each lot of it one.

A plan gives them as soon as lots begin, and each from the batch in which its lot begins, or a later one of the day,
where there is room. That is one of the ways that the meaning leaves open: a set may be cast on any day on which some of
its lot is made, from any batch of that day.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import accumulate

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, State

_ROUNDING = Fraction(2, 10**9)
"""Lots are longer than a volume by half this share, for rounding."""


@dataclass(frozen=True)
class Due:
    """Where the lots of a mix stand.

    ``made`` is the cement so far and ``given`` the sets, ``lot`` the cement of a lot. Where lots begin by date ``lot``
    is ``None``, and ``given`` counts those of the lot at hand.
    """

    lot: Fraction | None
    made: int = 0
    given: int = 0

    def most(self, sets: int) -> int | None:
        """Cement that can be poured with so many further sets; ``None`` where there is no end to it."""
        if self.lot is not None:
            return math.floor((self.given + sets) * self.lot) - self.made
        return None if self.given + sets else 0

    def fewest(self, cement: int) -> int:
        """Further sets that so much further cement takes."""
        if not cement:
            return 0
        # in whole numbers, for plays ask all the time
        begun = 1 if self.lot is None else -(-(self.made + cement) * self.lot.denominator // self.lot.numerator)
        return max(0, begun - self.given)

    def after(self, cement: int, sets: int) -> Due:
        """The same when so much more has been poured."""
        return Due(self.lot, self.made + cement, self.given + sets)

    def up_to(self, cement: int, sets: int) -> int:
        """Further cement, at the most so much, that can be poured with so many further sets."""
        most = self.most(sets)
        return cement if most is None else max(0, min(cement, most))


def due(problem: Problem, state: State) -> dict[int, Due]:
    """Where the lots of each mix stand in the morning of the state's day; nothing where no cubes are cast."""
    cubes = problem.cubes
    if cubes is None:
        return {}
    of_mix = {mix: [batch for batch in state.batches if batch.load.mix == mix] for mix in problem.mixes}
    if cubes.lots:
        return {mix: _sum(Due(cubes.lots[mix]), batches) for mix, batches in of_mix.items()}
    begun = bisect_right(cubes.days, problem.days[state.day].number)
    return {
        mix: _sum(Due(None), (b for b in batches if bisect_right(cubes.days, _day(b)) == begun))
        for mix, batches in of_mix.items()
    }


def _sum(start: Due, batches: Iterable[Batch]) -> Due:
    poured = list(batches)
    return start.after(sum(batch.load.cement for batch in poured), sum(batch.cubes for batch in poured))


def _day(batch: Batch) -> int:
    return batch.start // MINUTES_A_DAY


def deal(problem: Problem, due: Mapping[int, Due], batches: Iterable[Batch]) -> None:
    """Move the sets of a day to the batches in which their lots begin, or to the next ones that have room.

    Parameters
    ----------
    due : where the lots of each mix stood in the morning.
    batches : of the day. They give as many sets as before, without a drop more cement; a batch that is made for
        cubes alone keeps the sets of its mix where they are.
    """
    every = sorted(batches, key=lambda batch: (batch.start, batch.load.mixer))
    for mix, lots in due.items():
        of_mix = [batch for batch in every if batch.load.mix == mix]
        if lots.lot is not None and all(batch.content for batch in of_mix):
            _deal(problem, lots, lots.lot, of_mix)


def _deal(problem: Problem, lots: Due, lot: Fraction, batches: Sequence[Batch]) -> None:
    free = [sets_held(problem, batch) for batch in batches]
    made = [lots.made + cement for cement in accumulate(batch.load.cement for batch in batches)]
    given = [0] * len(batches)
    for number in range(lots.given, lots.given + sum(batch.cubes for batch in batches)):
        begins = next((index for index, cement in enumerate(made) if cement > number * lot), len(batches) - 1)
        room = (index for index in range(len(batches)) if given[index] < free[index])
        given[min(room, key=partial(_best, given, begins))] += 1
    for batch, sets in zip(batches, given, strict=True):
        batch.cubes = sets


def _best(given: Sequence[int], begins: int, index: int) -> tuple[bool, int, int]:
    """Not before the lot begins, from a batch that gives none yet, and soon."""
    return index < begins, given[index], abs(index - begins)


def sets_held(problem: Problem, batch: Batch) -> int:
    """Sets for which a batch has room beside its blocks."""
    assert problem.cubes is not None
    return (batch.load.room - problem.poured(batch.content)) // problem.cubes.volume


def each_lot_has_its_set(problem: Problem, batches: Iterable[Batch]) -> bool:
    """Whether all batches of a plan give the sets that its lots take, each while its lot is made.

    Where lots begin by date they do so whatever the volume of the batches that give none.
    """
    cubes = problem.cubes
    if cubes is None or not cubes.lots:
        return True
    made: dict[int, Counter[int]] = {}
    given: dict[int, Counter[int]] = {}
    for batch in batches:
        made.setdefault(batch.load.mix, Counter())[_day(batch)] += batch.load.cement
        given.setdefault(batch.load.mix, Counter())[_day(batch)] += batch.cubes
    return all(_in_time(cubes.lots[mix], by_day, given[mix]) for mix, by_day in made.items())


def _in_time(lot: Fraction, made: Counter[int], given: Counter[int]) -> bool:
    cement = sets = most = 0
    for day in sorted(made):
        cement, sets = cement + made[day], sets + given[day]
        least, most = sets_by(lot, cement)
        if not least <= sets <= most:
            return False
    return sets == most


def sets_by(lot: Fraction, cement: int) -> tuple[int, int]:
    """Sets given by the end of a day with so much cement of a mix so far: one for each lot that is ended, or begun."""
    begun = math.ceil(cement / lot)
    ended = min(begun, math.floor(cement / lot + _ROUNDING * begun))
    return max(min(1, begun), ended), begun
