"""An old plan followed as somebody would who does not plan again, whatever has gone wrong meanwhile.

Each day has what the old plan has for it, batches in their order and all at the old minute, or as soon after it as can
be. What could not be done when it was due comes first the next day. A mould that is no more, or a block that is no
longer wanted, is left out; what is wanted besides comes at the end, by ordinary playing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from itertools import product

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.followed_day import FollowedDay, Owed
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, Manner
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.score import score
from blockrun.optimiser.state import State, Turn, in_order

_PATIENCE = 10
"""Working days without a batch after which batches that wait are no longer waited for."""


@dataclass(frozen=True)
class Followed:
    """What comes of an old plan: the yard each morning it was followed for, and the plan to its end, if it has one."""

    mornings: tuple[State, ...]
    plan: State | None


def followed(ground: Ground, old: State, days: int, stop: Callable[[], bool]) -> Followed:
    """Follow an old plan to its end.

    Parameters
    ----------
    old : batches and turns it still had, with its minutes. Turns that none of these batches fill are those that stand
        in the yard, all of them and in their order, as it was to empty them; without any they are emptied at once.
    days : mornings to keep at the most, from that of the second working day on.
    """
    last = max((batch.start // MINUTES_A_DAY for batch in old.batches), default=-1)
    cubes = ground.problem.cubes
    # promises for days after the last pour are made as if no more were poured; where that is wrong, once more; and so
    # where the batch that was to give the set of its day was not poured, and none of the others has room for it
    sets_first = (False, True) if cubes is not None and not cubes.lots else (False,)
    for first, known in product(sets_first, (last, None)):
        following = _Following(ground, old, known, first, days, stop)
        found = Followed(tuple(following.mornings), following.to_the_end())
        if found.plan is not None or stop():
            break
    return Followed(tuple(following.mornings), found.plan)


@dataclass
class _Following:
    """``last`` is the number of the day of the last pour, if it is known; ``sets_first`` as for a day."""

    ground: Ground
    old: State
    last: int | None
    sets_first: bool
    days: int
    stop: Callable[[], bool]
    mornings: list[State] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Nothing is followed yet."""
        self.yard = Yard(self.ground)
        self.yard.last_pour = self.last
        to_pour = {id(batch) for batch in self.old.batches}
        standing = [turn for turn in self.old.turns if not any(id(batch) in to_pour for _, batch in turn.fills)]
        self.as_planned: dict[int, Turn] = {}
        if len(standing) == len(self.yard.standing):
            self.as_planned = {id(turn): old for turn, old in zip(self.yard.standing, standing, strict=True)}
        self.owed = list(self._owed())

    def _owed(self) -> Iterator[Owed]:
        for batch in sorted(self.old.batches, key=lambda batch: (batch.start, batch.load.mixer)):
            fills = ((turn, [number for number, of in turn.fills if of is batch]) for turn in self.old.turns)
            yield Owed(batch, [(turn, castings) for turn, castings in fills if castings])

    def to_the_end(self) -> State | None:
        """The plan; ``None`` where there is none by its last day."""
        idle = 0
        while self.owed or (self.yard.poured and self.yard.standing):
            if self.yard.position >= len(self.ground.problem.days) or self.stop():
                return None
            poured = len(self.yard.batches)
            if not self._day():
                return None
            idle = 0 if len(self.yard.batches) > poured or not self._overdue else idle + 1
            if idle > _PATIENCE:
                self.owed.clear()
        return self._whole() if self.yard.poured and not self.yard.standing else self._played()

    def _day(self) -> bool:
        """Follow a day; whether it could be."""
        day = FollowedDay.begin(self.yard, self.as_planned, self.owed, sets_first=self.sets_first)
        if day is None:
            return False
        self.owed = day.done()
        self.yard.close()
        if day.kept and len(self.mornings) < self.days:
            self.mornings.append(_as_it_is(self.yard))
        return day.kept

    @property
    def _overdue(self) -> bool:
        today = self.ground.problem.days[self.yard.position - 1].number
        return any(owed.batch.start // MINUTES_A_DAY <= today for owed in self.owed)

    def _whole(self) -> State:
        made = in_order(self.yard.batches, len(self.ground.begun.batches))
        return State(self.yard.position, self.yard.turns, made)

    def _played(self) -> State | None:
        """What is wanted besides, by the best of the set policies."""
        morning = _as_it_is(self.yard)
        plays = (Play(self.ground, (Manner(policy),), self.stop).run(morning) for policy in OPENINGS)
        return min((plan for plan in plays if plan), key=lambda plan: score(self.ground.problem, plan), default=None)


def _as_it_is(yard: Yard) -> State:
    """A yard as a state of its own."""
    return State(yard.position, [turn if turn.done else replace(turn) for turn in yard.turns], list(yard.batches))
