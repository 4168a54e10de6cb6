"""Many plays: by set policies, and from the middle of good plans on with something done differently."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from random import Random

from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, WITH_SLABS, Policy, drawn, near
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State, morning

_POOL = 8
_ANEW = 0.2
_OVERHEAD_BLOCKS = 20
"""What a play takes beside its blocks, in blocks: about 45 microseconds each."""
_A_HOUSE = 1_500
_BLOCKS_A_DAY = 2_200
"""What is worth while for a day of a house."""
_MANY_DAYS = 80
_BUSY_BLOCKS = 10
"""Blocks of a day that are worth a thought of its own."""
_LONG_BLOCKS = 20_000
"""Blocks of a round that take about a second."""


@dataclass(frozen=True, eq=False)
class Tried:
    """A plan, how good it is, and the policy of its last days."""

    state: State
    score: Score
    policy: Policy = OPENINGS[0]


class Pool:
    """Plans of which each is better in some stage than every other, in the order of their scores."""

    def __init__(self, plans: Iterable[Tried]) -> None:
        self.plans: list[Tried] = []
        for tried in plans:
            self.keep(tried)

    @property
    def best(self) -> Tried:
        """The first by its score."""
        return self.plans[0]

    def keep(self, tried: Tried) -> None:
        """Keep a plan, and no other that is nowhere better."""
        if not any(_no_worse(other.score, tried.score) for other in self.plans):
            rest = [other for other in self.plans if not _no_worse(tried.score, other.score)]
            self.plans = sorted([*rest, tried], key=lambda each: each.score)[:_POOL]


def _no_worse(one: Score, other: Score) -> bool:
    if one.stages == other.stages:
        return one <= other
    return all(here <= there for here, there in zip(one.stages, other.stages, strict=True))


class Tries:
    """Plays of one problem; the same seed, the same plays. How many depends on the problem alone, not on the clock."""

    def __init__(self, ground: Ground, seed: int, stop: Callable[[], bool]) -> None:
        self.ground, self.seed, self.stop = ground, seed, stop
        self._blocks = sum(block.demand for block in ground.problem.formats)

    def worth_while(self, days: int) -> int:
        """How many plays of so many days a round should have: ten times the blocks are twice the work in all."""
        problem = self.ground.problem
        dearer = 1 + (problem.n_mixers - 1 + bool(problem.slabs)) / 4
        blocks = (self._blocks + _OVERHEAD_BLOCKS) * dearer
        busy = min(days, _MANY_DAYS, 1 + self._blocks // _BUSY_BLOCKS)
        in_all = _BLOCKS_A_DAY * busy * math.pow(blocks / _A_HOUSE, 0.3)
        return max(4, round(in_all / blocks))

    def long(self, days: int) -> bool:
        """Whether rounds of plays of so many days take so long that a second player is worth its start."""
        return self.worth_while(days) * self._blocks >= _LONG_BLOCKS

    def openings(self, state: State | None = None) -> Iterator[Tried]:
        """Plays by set policies, from a morning on or from the first."""
        for number, policy in enumerate(WITH_SLABS if self.ground.problem.slabs else OPENINGS):
            yield from self._play(policy, Random(f"{self.seed} {number}"), state)

    def improved(
        self, known: Iterable[Tried], plays: int, name: str, told: Callable[[Tried], None] = lambda _: None
    ) -> list[Tried]:
        """Plays that begin like plans that are known and go on differently from some day.

        Returns
        -------
        Those that are better in something than all the rest, the known ones included; ``told`` hears of each play.
        """
        dice, pool = Random(f"{self.seed} {name}"), Pool(known)
        before = list(pool.plans)
        for _ in range(plays):
            if self.stop():
                break
            for tried in self._next(pool, dice):
                pool.keep(tried)
                told(tried)
        return [tried for tried in pool.plans if tried not in before]

    def _next(self, pool: Pool, dice: Random) -> Iterator[Tried]:
        """A play that begins like a plan of the pool; from the first day by any policy, while there is none."""
        if not pool.plans:
            return self._play(drawn(dice), dice)
        begun = pool.best if dice.random() < 0.5 else dice.choice(pool.plans)
        return self._changed(begun, dice.choice(pool.plans).policy, dice)

    def _changed(self, begun: Tried, policy: Policy, dice: Random) -> Iterator[Tried]:
        """A plan played on from some morning by a policy, by one near to it, or by any."""
        chance = dice.random()
        if chance < 0.6:
            policy = near(policy, dice)
        elif chance < 0.8:
            policy = drawn(dice)
        if not policy.fog and dice.random() < 0.5:
            policy = replace(policy, fog=dice.choice((0.1, 0.2, 0.6)))
        last = self.ground.problem.day_index[begun.score.finish]
        day = 0 if dice.random() < _ANEW else dice.randint(0, last)
        number = self.ground.problem.days[day].number
        return self._play(policy, dice, morning(begun.state, number, day))

    def _play(self, policy: Policy, dice: Random, state: State | None = None) -> Iterator[Tried]:
        played = None if self.stop() else Play(self.ground, policy, dice, self.stop).run(state)
        if played is not None:
            yield Tried(played, score(self.ground.problem, played), policy)
