"""Many plays: by set policies, and from the middle of good plans on with something done differently."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from random import Random

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import (
    OPENINGS,
    WITH_SLABS,
    WITHOUT_SMALL,
    Manner,
    Policy,
    drawn,
    fuller,
    near,
    up_to,
)
from blockrun.optimiser.rounds import Length
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.sent import Sent
from blockrun.optimiser.state import State, left_each_evening, morning

_POOL, _NEAR_A_SOONER = 8, 6
NEVER_MIND = 1 << 30
"""A day so far off that no plan is sought that ends sooner."""
_FOR_A_SOONER_DAY = 0.7
_BEHIND, _BEHIND_OF_ALL = 3, 0.02
"""Blocks by which a play may be behind the plan nearest to a sooner day before it is given up."""
_LIKE_THE_BEST, _FULLER = 0.5, 0.4
"""How often a play is like the best plan, where no sooner day is sought, and how often then it has fuller batches."""
_DAYS_OF_FULLER = (1, 2, 3, 5, 8, 13, 40)
_THE_FIRST = 0.6
_NEAR, _ANY = 0.6, 0.1
_FOG = 0.5
_ANEW = 0.2
_FOR_GOOD, _FOR_GOOD_CHASED = 0.4, 1.0
_SOME_DAYS = (1, 1, 2, 3, 5)
"""How often another manner goes on to the end, and how often where a sooner day is chased; else for so many days."""
_OVERHEAD_BLOCKS = 20
"""What a play takes beside its blocks, in blocks: about 45 microseconds each."""
_A_HOUSE = 1_500
_BLOCKS = 6_450
"""What is worth while for a house of one busy day, were there such a thing."""
_MANY_DAYS = 80
_BUSY_BLOCKS = 10
"""Blocks of a day that are worth a thought of its own."""
_A_PLAYER_COMES = 100
_FEW = 24
"""Plays of a round that are too few for laps: a lap that is played but a few times takes longer than its share."""
_A_GLANCE, _LONG, _LONGER, _LONGEST = 8_000, 30_000, 175_000, 350_000
"""Blocks that are played in a round that takes more than a glance, one that is no short one, a long one, and one that
is so long for the days there are that each is played but a few times."""


@dataclass(frozen=True, eq=False)
class Tried(Sent):
    """A plan, how good it is, and in which manner each of its days was played."""

    state: State
    score: Score
    manners: tuple[Manner, ...] = (Manner(OPENINGS[0]),)
    to_a_sooner_day: tuple[int, int, int, int] = field(init=False)
    """How far it is from ending a day sooner: late, finish, what is poured on its last day, all pours."""

    def __post_init__(self) -> None:
        """See how far it is."""
        late, finish = self.score.late, self.score.finish
        on_last = (batch for batch in self.state.batches if batch.start // MINUTES_A_DAY == finish)
        poured = sum(sum(batch.content.values()) for batch in on_last)
        self._derive("to_a_sooner_day", (late, finish, poured, self.score.pours))

    @property
    def on_last_day(self) -> int:
        """Castings that are poured on its last day."""
        return self.to_a_sooner_day[2]


class Pool:
    """Plans of which each is better in some stage, or nearer to a sooner day, than every other; by their scores.

    Beside them the few that are ``near`` a sooner day, the nearest first: one alone soon leads nowhere.
    """

    def __init__(self, plans: Iterable[Tried]) -> None:
        self.plans: list[Tried] = []
        self.near: list[Tried] = []
        for tried in plans:
            self.keep(tried)

    @property
    def best(self) -> Tried:
        """The first by its score."""
        return self.plans[0]

    @property
    def all(self) -> tuple[Tried, ...]:
        """The plans, then those that are near a sooner day beside them."""
        return (*self.plans, *(each for each in self.near if each not in self.plans))

    def keep(self, tried: Tried) -> None:
        """Keep a plan, and no other that is nowhere better."""
        if all(other.to_a_sooner_day != tried.to_a_sooner_day for other in self.near):
            self.near = sorted([*self.near, tried], key=lambda each: each.to_a_sooner_day)[:_NEAR_A_SOONER]
        if not any(_no_worse(other, tried) for other in self.plans):
            rest = [other for other in self.plans if not _no_worse(tried, other)]
            self.plans = sorted([*rest, tried], key=lambda each: each.score)[:_POOL]


def _no_worse(one: Tried, other: Tried) -> bool:
    """Whether one is nowhere worse, and first where both are equal."""
    if one.score.stages == other.score.stages and one.to_a_sooner_day == other.to_a_sooner_day:
        return one.score <= other.score
    pairs = zip(one.score.stages, other.score.stages, strict=True)
    return all(here <= there for here, there in pairs) and one.to_a_sooner_day <= other.to_a_sooner_day


class Tries:
    """Plays of one problem; the same seed, the same plays. How many depends on the problem alone, not on the clock.

    All go on from one yard, ``begun``: the one that is there, if nothing else is said.
    """

    def __init__(self, ground: Ground, seed: int, stop: Callable[[], bool], begun: State | None = None) -> None:
        self.ground, self.seed, self.stop = ground, seed, stop
        self.begun = begun or ground.begun
        self._blocks = sum(ground.begun.left_to_pour(ground.problem))
        self._paced: tuple[Tried | None, tuple[int, ...]] = None, ()

    def going_on(self, begun: State | None) -> Tries:
        """The same from a later morning on."""
        return Tries(self.ground, self.seed, self.stop, begun)

    def worth_while(self, days: int) -> int:
        """How many plays of so many days a round should have: ten times the blocks are twice the work in all."""
        blocks = (self._blocks + _OVERHEAD_BLOCKS) * self._dearer
        busy = min(days, _MANY_DAYS, 1 + self._blocks // _BUSY_BLOCKS)
        in_all = _BLOCKS * math.pow(busy, 0.9) * math.pow(blocks / _A_HOUSE, 0.3)
        return max(4, round(in_all / blocks))

    @property
    def _dearer(self) -> float:
        """How much longer a block takes than where there is one mixer and nothing is sawn."""
        problem = self.ground.problem
        return 1 + (problem.n_mixers - 1 + bool(problem.slabs)) / 4

    def length(self, days: int) -> Length:
        """How long a round of plays of so many days takes."""
        blocks = self.worth_while(days) * self._blocks
        if blocks < _LONG:
            return Length.A_GLANCE if blocks < _A_GLANCE else Length.SHORT
        return Length.SOME_SECONDS if self._weight(days) < _LONGER else Length.LONG

    def for_laps(self, days: int) -> bool:
        """Whether plays of so many days had better be put together lap by lap: not too long, nor too few a round."""
        return self._weight(days) < _LONGEST and self.worth_while(days) >= _FEW

    def _weight(self, days: int) -> float:
        return self.worth_while(days) * self._blocks * self._dearer**2

    @property
    def for_two(self) -> bool:
        """Whether a second player is worth its start from the first: few blocks may well be solved before it comes."""
        return self._blocks >= _A_PLAYER_COMES

    def openings(self, state: State | None = None, numbers: Iterable[int] | None = None) -> Iterator[Tried]:
        """Plans by set policies, from a morning on or from the beginning; by some of them alone, if so said."""
        for number in range(self.n_openings) if numbers is None else numbers:
            yield from self._play((Manner(self._openings[number], f"{self.seed} {number}"),), state)

    @property
    def n_openings(self) -> int:
        """How many set policies there are."""
        return len(self._openings)

    @property
    def _openings(self) -> tuple[Policy, ...]:
        policies = WITH_SLABS if self.ground.problem.slabs else OPENINGS
        return (*policies, *WITHOUT_SMALL) if self.ground.has_small_mixers else policies

    def improved(
        self,
        known: Iterable[Tried],
        plays: int,
        name: str,
        told: Callable[[Tried], None] = lambda _: None,
        soonest: int = NEVER_MIND,
    ) -> list[Tried]:
        """Plays that begin like plans that are known and do something differently from some day on, or on some days.

        ``soonest`` is the number of a day that no plan ends before: until one ends on it, most begin like those that
        are near a sooner day.

        Returns
        -------
        Those that are better in something than all the rest, the known ones included, or near a sooner day; ``told``
        hears of each play.
        """
        dice, pool = Random(f"{self.seed} {name}"), Pool(known)
        before = pool.all
        for _ in range(plays):
            if self.stop():
                break
            for tried in self._next(pool, dice, soonest):
                pool.keep(tried)
                told(tried)
        return [tried for tried in pool.all if tried not in before]

    def _next(self, pool: Pool, dice: Random, soonest: int) -> Iterator[Tried]:
        """A play that begins like a plan of the pool; from the first day by any policy, while there is none."""
        if not pool.plans:
            return self._play((Manner(drawn(dice), f"{dice.random()}"),))
        if pool.best.score.finish <= soonest and dice.random() < _LIKE_THE_BEST:
            return self._like_the_best(pool, dice)
        chase = pool.best.score.finish > soonest and dice.random() < _FOR_A_SOONER_DAY
        like = dice.choice(pool.near) if chase else pool.best
        if dice.random() >= _THE_FIRST:
            like = dice.choice(pool.plans)
        return self._changed(
            like, dice.choice(pool.plans).manners[-1].policy, dice, self._pace(pool.near[0]) if chase else ()
        )

    def _like_the_best(self, pool: Pool, dice: Random) -> Iterator[Tried]:
        """The best plan played on from some morning, or, where nothing is late, with fuller batches on some days."""
        if pool.best.score.late == 0 and dice.random() < _FULLER:
            return self._fuller(pool.best, dice)
        return self._changed(pool.best, dice.choice(pool.plans).manners[-1].policy, dice, ())

    def _fuller(self, like: Tried, dice: Random) -> Iterator[Tried]:
        """A plan with fuller batches on some of its days, each of them else in its own manner."""
        first, last = self.begun.day, self._last_day(like)
        day, values = dice.randint(first, last), fuller(dice)
        until = day + dice.choice(_DAYS_OF_FULLER)
        manners = tuple(
            Manner(replace(manner.policy, **values), manner.seed) if day <= position < until else manner
            for position, manner in enumerate(up_to(like.manners, last + 1))
        )
        return self._play(manners, self._morning(like, day))

    def _last_day(self, like: Tried) -> int:
        """Position of the day of a plan's last pour."""
        return max(self.begun.day, self.ground.problem.position(like.score.finish))

    def _morning(self, like: Tried, day: int) -> State | None:
        """The yard on the morning of a day of a plan; ``None`` for the first."""
        if day == self.begun.day:
            return None
        return morning(like.state, self.ground.problem.days[day].number, day)

    def _pace(self, nearest: Tried) -> tuple[int, ...]:
        """Blocks left each evening in the plan nearest to a sooner day, and a few more: with yet more none gains it."""
        if nearest is not self._paced[0]:
            left = left_each_evening(self.ground.problem, nearest.state)
            self._paced = nearest, tuple(more + max(_BEHIND, round(_BEHIND_OF_ALL * self._blocks)) for more in left)
        return self._paced[1]

    def _changed(self, like: Tried, policy: Policy, dice: Random, pace: tuple[int, ...]) -> Iterator[Tried]:
        """A plan played on from some morning by a policy, by one near to it, or by any."""
        chance = dice.random()
        if chance < _NEAR:
            policy = near(policy, dice, self.ground.indifferent)
        elif chance < _NEAR + _ANY:
            policy = drawn(dice)
        if not policy.fog and dice.random() < _FOG:
            policy = replace(policy, fog=dice.choice((0.1, 0.2, 0.6)))
        first = self.begun.day
        day = first if dice.random() < _ANEW else dice.randint(first, self._last_day(like))
        manners = self._from(like.manners, day, Manner(policy, f"{dice.random()}"), dice, bool(pace))
        return self._play(manners, self._morning(like, day), pace)

    def _from(
        self, manners: tuple[Manner, ...], day: int, manner: Manner, dice: Random, chased: bool
    ) -> tuple[Manner, ...]:
        """Another manner from a day on, to the end or for some days."""
        before = up_to(manners, day)
        if dice.random() < (_FOR_GOOD_CHASED if chased else _FOR_GOOD):
            return (*before, manner)
        days = dice.choice(_SOME_DAYS)
        return (*before, *[manner] * days, *(manners[day + days :] or manners[-1:]))

    def _play(
        self, manners: tuple[Manner, ...], state: State | None = None, pace: tuple[int, ...] = ()
    ) -> Iterator[Tried]:
        played = None if self.stop() else Play(self.ground, manners, self.stop, pace).run(state or self.begun)
        if played is not None:
            yield Tried(played, score(self.ground.problem, played), manners)
