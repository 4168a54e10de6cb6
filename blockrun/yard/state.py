"""Moulds, bases, rack, stack and stock of a yard in the middle of a run."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from blockrun.yard.ground import Ground
from blockrun.yard.setting import NEVER

if TYPE_CHECKING:
    from blockrun.yard.setting import Fill, Kind, PlannedTurn, Setting

_SPECK: Final = 1e-6


@dataclass(slots=True, eq=False)
class Turn:
    """What stands in a mould.

    Attributes
    ----------
    planned : as which turn of the plan; None for one that the yard made up.
    room : cavities in which nothing is planned and nothing is.
    free : minute from which the mould, and its base, could be filled.
    fills : each with the end of its pour; none where every batch was flat.
    last_pour, bared, stripped : ends of the last pour, of taking the sides off, of the strip; -1 before it.
    job, at : what is to be done with it next, and the minute from which it may be.
    """

    kind: int
    unit: int
    base: int
    planned: PlannedTurn | None
    room: int
    free: int
    fills: list[tuple[Fill, int]] = field(default_factory=list)
    last_pour: int = -1
    bared: int = -1
    stripped: int = -1
    job: str = ""
    at: int = NEVER

    @property
    def n_blocks(self) -> int:
        """Blocks in it."""
        return sum(len(fill.marks) for fill, _ in self.fills)


class Idle:
    """Equal things that are free, each from a minute on: the moulds of a kind, or its bases; never those out of use."""

    def __init__(self, count: int, out_of_use: frozenset[int] = frozenset()) -> None:
        self._in_use = frozenset(range(1, count + 1)) - out_of_use
        self._from = dict.fromkeys(sorted(self._in_use), 0)

    def __len__(self) -> int:
        """How many are free, now or from a minute that is known."""
        return len(self._from)

    def first(self, by: int, may: Callable[[int], bool]) -> int | None:
        """The one that is free first, by a minute, of those that may be taken; None where there is none."""
        return min(((since, one) for one, since in self._from.items() if since <= by and may(one)), default=(0, None))[
            1
        ]

    def all(self) -> Iterable[int]:
        """All that are free, now or from a minute that is known."""
        return self._from.keys()

    def __contains__(self, one: int) -> bool:
        """Whether one is free, now or from a minute that is known."""
        return one in self._from

    def since(self, one: int) -> int:
        """From when one is free."""
        return self._from[one]

    def take(self, one: int) -> None:
        """Use one; what is out of use may have been filled before it was."""
        self._from.pop(one, None)

    def give_back(self, one: int, at: int) -> None:
        """It is free again."""
        if one in self._in_use:
            self._from[one] = at


class Rack:
    """Blocks on all racks together, each in its place until it leaves."""

    def __init__(self, places: int) -> None:
        self._places = places
        self._leave: list[int] = []

    def room_at(self, blocks: int, at: int) -> int:
        """First minute from one on at which so many more have their places."""
        over = len(self._leave) + blocks - self._places
        if over <= bisect_right(self._leave, at):
            return at
        return self._leave[over - 1] if over <= len(self._leave) else NEVER

    def put(self, blocks: int, leaves: int) -> None:
        """Put blocks on it until a minute."""
        at = bisect_right(self._leave, leaves)
        self._leave[at:at] = [leaves] * blocks


class Stock:
    """Bags of cement or litres of agent: what came, what was used, and what was bought when it ran out.

    Attributes
    ----------
    used : so far.
    bought : the day on which as much comes as is ever needed.
    """

    def __init__(self, supply: Sequence[tuple[int, float]], more_after: int) -> None:
        self._supply = supply
        self._more_after = more_after
        self.bought = NEVER
        self.used = 0.0

    def has(self, amount: float, day: int) -> bool:
        """Whether there is as much on a day; if not, enough for all the rest is bought that day."""
        come = self._supply[bisect_right(self._supply, (day, float(NEVER))) - 1][1]
        if self.used + amount <= come + _SPECK or day >= self.bought:
            return True
        self.bought = min(self.bought, day + self._more_after)
        return False


class State:
    """A yard in the middle of a run."""

    def __init__(self, setting: Setting) -> None:
        self.moulds = [Idle(kind.count, kind.no_moulds) for kind in setting.kinds]
        self.bases = [Idle(kind.bases, kind.no_bases) for kind in setting.kinds]
        self.standing: list[Turn] = []
        self.rack = Rack(setting.places)
        self.ground = None if setting.stack is None else Ground(setting, setting.stack)
        self.cement = Stock(setting.cement, setting.more_cement)
        self.agent = Stock(setting.agent, setting.more_agent)
        self.cement.used, self.agent.used = setting.before.cement, setting.before.agent

    def begin(self, turn: Turn, kind: Kind) -> None:
        """Fill a mould, and its base."""
        self.moulds[turn.kind].take(turn.unit)
        if kind.bases:
            self.bases[turn.kind].take(turn.base)
        self.standing.append(turn)

    def clean(self, turn: Turn, kind: Kind, at: int) -> None:
        """A turn is over; with bases, its sides may have been free for long."""
        if kind.bases:
            self.bases[turn.kind].give_back(turn.base, at)
        if not kind.bases or turn.bared < 0:
            self.moulds[turn.kind].give_back(turn.unit, at)
        self.standing.remove(turn)
