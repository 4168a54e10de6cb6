"""A day of an old plan that is followed: its tasks and batches by the clock, as far as they can still be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count
from random import Random

from blockrun.optimiser.cubes import sets_by, sets_held
from blockrun.optimiser.problem import MINUTES_A_DAY, Load
from blockrun.optimiser.quick.emptying import Emptying
from blockrun.optimiser.quick.policy import ENDLESS, OPENINGS
from blockrun.optimiser.quick.promise import deadline, promise, take_back
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Batch, Span, Turn

_TASK, _BATCH = range(2)
Event = tuple[int, int, int, int, "Turn | Owed"]
"""Minute, tasks before batches, the minute of the old plan, in their order, and what is to be done."""


@dataclass(frozen=True, eq=False)
class Owed:
    """A batch that an old plan still has, and which castings of it go into which of its turns."""

    batch: Batch
    fills: list[tuple[Turn, list[int]]]


@dataclass
class Fill:
    """What goes into one mould: that of a turn of the old plan, which another batch may have begun by now."""

    old: Turn
    kind: int
    into: Turn | None
    castings: list[int] = field(default_factory=list)


class FollowedDay:
    """The day a yard stands at; ``as_planned`` has for turns by their id what the old plan has for them.

    ``sets_first`` has the first batch of a lot give its set of test cubes, whichever the old plan has give it.
    """

    @classmethod
    def begin(
        cls, yard: Yard, as_planned: dict[int, Turn], owed: list[Owed], *, sets_first: bool = False
    ) -> FollowedDay | None:
        """The day, if there are people for its chores and all that a frost asks for can be promised."""
        shift = yard.open()
        if not shift.possible:
            return None
        day = cls(yard, shift, as_planned, owed, sets_first=sets_first)
        return day if all(day._promised(turn) for turn in yard.standing) else None

    def __init__(
        self, yard: Yard, shift: Shift, as_planned: dict[int, Turn], owed: list[Owed], *, sets_first: bool
    ) -> None:
        self.yard, self.shift, self.as_planned, self.owed = yard, shift, as_planned, owed
        self.sets_first = sets_first
        self.ground, self.problem = yard.ground, yard.problem
        self.opens = shift.day.opens
        self.ends = (shift.day.number + 1) * MINUTES_A_DAY
        self.emptying = Emptying(yard, shift, OPENINGS[0], Random(0))
        self.kept = True
        self.poured: list[Batch] = []
        self._filling: dict[int, Turn] = {}
        self._events: list[Event] = []
        self._numbers = count()

    def done(self) -> list[Owed]:
        """Do the day; what of its batches is owed after it."""
        for turn in self.yard.standing:
            self._not_before(turn)
        self.emptying.promises()
        for turn in self.yard.standing:
            self._push(turn)
        today = [owed for owed in self.owed if owed.batch.start < self.ends]
        for owed in today:
            self._push_batch(owed)
        waiting: list[Owed] = []
        while self._events:
            *_, what = heappop(self._events)
            if isinstance(what, Owed):
                waiting += [] if self._pour(what) else [what]
            elif self._empty(what):
                waiting = [owed for owed in waiting if not self._pour(owed)]
        self.kept = self._even_sets() and not self._in_frost()
        return [*waiting, *(owed for owed in self.owed if owed not in today)]

    # what is due when

    def _push_batch(self, owed: Owed) -> None:
        """Moulds need not be free before it is poured; what was due before today comes first."""
        batch = owed.batch
        at = batch.pour_from if batch.start >= self.opens else self.opens
        heappush(self._events, (at, _BATCH, batch.start, next(self._numbers), owed))

    def _push(self, turn: Turn) -> None:
        """The next task of a turn, if it has one today that is not promised already."""
        if turn.done or (turn.strip is None and id(turn) in self.yard.promised):
            return
        minute = self._old(turn, self._next(turn))
        if minute < self.ends:
            heappush(self._events, (max(minute, self.opens), _TASK, minute, next(self._numbers), turn))

    def _next(self, turn: Turn) -> str:
        if turn.strip is not None:
            return "clean"
        return "sides" if self.problem.moulds[turn.mould].bases and turn.sides is None else "strip"

    def _old(self, turn: Turn, name: str) -> int:
        """Minute at which the old plan has a task; long ago, where it says nothing."""
        old = self.as_planned.get(id(turn))
        span: Span | None = getattr(old, name, None)
        return -1 if span is None else span.start

    def _not_before(self, turn: Turn) -> None:
        for name in ("sides", "strip", "clean"):
            self.emptying.not_before[id(turn), name] = self._old(turn, name)

    # emptying

    def _empty(self, turn: Turn) -> bool:
        """Do the next task of a turn; whether it sets something free."""
        name = self._next(turn)
        {"sides": self.emptying.sides, "strip": self.emptying.strip, "clean": self.emptying.clean}[name](turn)
        done = getattr(turn, name) is not None
        if done:
            self._push(turn)
        return done

    def _promised(self, turn: Turn) -> bool:
        """Whether a turn can be stripped before the frost, if one comes: at the old minutes, or else before them."""
        by = deadline(self.yard, turn, self.shift.day.number, ENDLESS)
        if by is None or id(turn) in self.yard.promised:
            return True
        for not_before in ((self._old(turn, "sides"), self._old(turn, "strip")), (0, 0)):
            memory = self.yard.as_is()
            if promise(self.yard, turn, by, not_before):
                return True
            self.yard.back_to(memory)
        return False

    def _in_frost(self) -> bool:
        """Whether something stands that should have been stripped by tonight."""
        after = self.yard.position + 1
        morning = self.problem.days[after].number if after < len(self.problem.days) else 1 << 30
        deadlines = (deadline(self.yard, turn, self.shift.day.number, ENDLESS) for turn in self.yard.standing)
        return any(by is not None and by < morning for by in deadlines)

    # pouring

    def _pour(self, owed: Owed) -> bool:
        """Pour a batch, if it can be today, or find that it is not wanted any more; whether either."""
        fills, sets = self._fills(owed), self._sets(owed)
        content = _counted(fills)
        if not fills and not (sets and not owed.batch.content):
            return True
        load = self._load(owed, content, sets)
        start = None if load is None else self._start(owed, fills, load)
        if load is None or start is None:
            return False
        batch = Batch(load, start, dict(content), sets)
        if any(batch.pour_to > self.ground.last_poured(fill.kind, self.yard.position) for fill in fills):
            return False
        return self._poured(owed, fills, batch)

    def _fills(self, owed: Owed) -> list[Fill]:
        """What is poured into which moulds: what is still wanted, as far as there are such moulds at all."""
        left, moulds = list(self.yard.left), Counter[int]()
        found = []
        for old, castings in owed.fills:
            fill = Fill(old, old.mould, self._begun(old, len(castings)))
            moulds[old.mould] += int(fill.into is None)
            if fill.into is None and moulds[old.mould] > self._there_are(old.mould):
                continue
            fill.castings += self._wanted(old.mould, castings, left)
            if fill.castings:
                found.append(fill)
        return found

    def _begun(self, old: Turn, more: int) -> Turn | None:
        """The turn that another batch of today has begun, if it can still be filled."""
        turn = self._filling.get(id(old))
        full = turn is not None and len(turn.fills) + more > self.problem.moulds[turn.mould].cavities
        return None if turn is None or turn.strip is not None or turn.sides is not None or full else turn

    def _there_are(self, kind: int) -> int:
        mould = self.problem.moulds[kind]
        return min(mould.count, mould.bases) if mould.bases else mould.count

    def _wanted(self, kind: int, castings: list[int], left: list[int]) -> Iterator[int]:
        """Castings that are of use, with what is left after them."""
        for number in castings[: self.problem.fillable[kind]]:
            gives = self.problem.castings[number].gives
            of_use = any(left[block] > 0 or self.problem.formats[block].further for block, _ in gives)
            if of_use and number in self.problem.moulds[kind].casts:
                for block, each in gives:
                    left[block] -= each
                yield number

    def _sets(self, owed: Owed) -> int:
        """Sets of test cubes: as the old plan has them where its lots still begin there, else as they are due."""
        batch = owed.batch
        lots = self.yard.lots().get(batch.load.mix)
        if lots is None:
            return 0
        due = lots.fewest(batch.load.cement)
        others = [
            other.batch
            for other in self.owed
            if other is not owed and other.batch.load.mix == batch.load.mix and other.batch.start < self.ends
        ]
        # any batch of the day may give them: it is looked at in the evening whether those did that were to
        by_tonight = lots.fewest(batch.load.cement + sum(other.load.cement for other in others))
        given_later = any(other.cubes for other in others)
        as_planned = batch.cubes <= by_tonight and (batch.cubes >= due or given_later)
        return batch.cubes if as_planned and not self.sets_first else due

    def _even_sets(self) -> bool:
        """In the evening there are as many sets as the lots have by then, given by what was poured today.

        Whether there are, of lots that begin by date: a batch that was to give one may not have been poured.
        """
        cubes, even = self.problem.cubes, True
        if cubes is None:
            return even
        for mix, lots in self.yard.lots().items():
            if not cubes.lots:
                least = most = max(lots.given, int(any(batch.load.mix == mix for batch in self.poured)))
            else:
                least, most = sets_by(cubes.lots[mix], lots.made)
            given = max(most if self.yard.poured else least, min(most, lots.given))
            for batch in reversed(self.poured):
                if batch.load.mix == mix and given != lots.given:
                    sets = max(0, min(batch.cubes + given - lots.given, sets_held(self.problem, batch)))
                    lots = lots.after(0, sets - batch.cubes)
                    batch.cubes = sets
            even = even and (bool(cubes.lots) or lots.given == given)
        return even

    def _load(self, owed: Owed, content: Counter[int], sets: int) -> Load | None:
        """The size of batch: the old one, or where less goes into it a smaller one; ``None`` without cement for it."""
        volume = self.problem.poured(content, sets)
        load = owed.batch.load
        if content != Counter(owed.batch.content) or volume > load.room:
            loads = self.ground.loads[load.mixer, load.mix]
            load = next((of for of in loads if of.room >= volume), loads[-1])
        cement, agent = self.yard.in_stock()
        return load if load.room >= volume and load.cement <= cement and load.agent <= agent else None

    def _start(self, owed: Owed, fills: list[Fill], load: Load) -> int | None:
        """The old minute, or the first after it at which moulds, mixer and people are there."""
        at = owed.batch.start if owed.batch.start >= self.opens else self.opens
        at = max([at, *(fill.into.start - load.to_pour for fill in fills if fill.into is not None)])
        for kind, moulds in Counter(fill.kind for fill in fills if fill.into is None).items():
            free = self.yard.units.free(kind)
            if len(free) < moulds or free[moulds - 1] >= self.shift.day.closes:
                return None
            at = max(at, free[moulds - 1] - load.to_pour)
        return self.shift.first_batch(load, at)

    def _poured(self, owed: Owed, fills: list[Fill], batch: Batch) -> bool:
        """Pour it, unless something of it could not be stripped before a frost."""
        memory = self.yard.as_is()
        before = [(fill.into, fill.into.fills, fill.into.blocks) for fill in fills if fill.into is not None]
        for turn, _, _ in before:
            take_back(self.yard, turn)
        turns = [self._filled(fill, batch) for fill in fills]
        self.shift.take_batch(batch.load, batch.start)
        if not all(self._promised(turn) for turn in turns):
            self.yard.back_to(memory)
            for turn, of_turn, blocks in before:
                turn.fill(of_turn, blocks)
            return False
        for fill, turn in zip(fills, turns, strict=True):
            self._stands(fill, turn)
        self.yard.pour(batch)
        self.poured.append(batch)
        return True

    def _filled(self, fill: Fill, batch: Batch) -> Turn:
        turn = fill.into or Turn(fill.kind, [])
        self.as_planned[id(turn)] = fill.old
        fills = [*turn.fills, *((number, batch) for number in fill.castings)]
        blocks = sum(self.problem.castings[number].blocks for number, _ in fills)
        turn.fill(sorted(fills, key=lambda of: (of[1].start, of[0])), blocks)
        return turn

    def _stands(self, fill: Fill, turn: Turn) -> None:
        if fill.into is None:
            self.yard.units.take(fill.kind, turn.start)
        self.yard.stand(turn, fill.castings)
        self._filling[id(fill.old)] = turn
        self._not_before(turn)
        self._push(turn)


def _counted(fills: list[Fill]) -> Counter[int]:
    return Counter(number for fill in fills for number in fill.castings)
