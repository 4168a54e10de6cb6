"""Every plan worth having of a problem that is tiny, tried.

A task moved earlier where nothing forbids it makes no plan worse. So it is enough to try every order of the tasks
and every day for each batch, each task as early as it can be after those before it. Chores are done up to the day of
the last batch, so where there are any that day is tried as well.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property
from itertools import permutations, product

from blockrun.optimiser.problem import MINUTES_A_DAY, Cubes, Day, Load, Problem
from tests.optimiser.tiny_yards import KINDS, POUR_DAYS

Tuple4 = tuple[int, int, int, int]


@cache
def tried(seed: int, kind: str = "plain") -> frozenset[Tuple4]:
    """What comes of every plan of a seed's yard."""
    return frozenset(outcomes(KINDS[kind](seed)))


def outcomes(problem: Problem) -> set[Tuple4]:
    """(late, finish, batches, cement) of every plan tried, those poured within the first days."""
    found: set[Tuple4] = set()
    for castings in _castings(problem, [block.demand for block in problem.formats]):
        for batches in _batches(problem, castings):
            if not _all_needed(problem, castings, batches):
                continue
            for turns in _turns(problem, castings):
                for last in _last_days(problem):
                    found |= Trial(problem, castings, batches, turns, last).all()
    return found


def _castings(problem: Problem, left: list[int], first: int = 0) -> Iterator[list[int]]:
    """Castings that give all blocks that are left; none of them is without use when it is chosen."""
    if not any(count > 0 for count in left):
        yield []
        return
    for number in range(first, len(problem.castings)):
        gives = dict(problem.castings[number].gives)
        if any(left[block] > 0 for block in gives):
            after = [count - gives.get(block, 0) for block, count in enumerate(left)]
            yield from ([number, *rest] for rest in _castings(problem, after, number))


def _last_days(problem: Problem) -> list[int]:
    """Days that the last batch may be poured on, by position: they differ only where there are chores."""
    return list(range(POUR_DAYS)) if any(day.chores for day in problem.days) else [POUR_DAYS - 1]


@dataclass(frozen=True)
class OneBatch:
    load: Load
    blocks: tuple[int, ...]


@dataclass(frozen=True)
class OneTurn:
    kind: int
    blocks: tuple[int, ...]


def _partitions(items: tuple[int, ...]) -> Iterator[list[tuple[int, ...]]]:
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for parts in _partitions(rest):
        yield [(first,), *parts]
        for nth, part in enumerate(parts):
            yield [*parts[:nth], (first, *part), *parts[nth + 1 :]]


def _batches(problem: Problem, blocks: list[int]) -> Iterator[tuple[OneBatch, ...]]:
    for parts in _partitions(tuple(range(len(blocks)))):
        choices = []
        for part in parts:
            mixes = {problem.castings[blocks[b]].mix for b in part}
            volume = sum(problem.castings[blocks[b]].volume for b in part)
            fit = [load for load in problem.loads if {load.mix} == mixes and load.room >= volume]
            if problem.cubes is None:  # the smallest that fits is no worse than a bigger one of the same mixer
                fit = [load for load in fit if not any(_smaller(other, load) for other in fit)]
            choices.append([OneBatch(load, part) for load in fit])
        for batches in product(*choices):
            yield from (batches + alone for alone in _for_cubes_alone(problem))


def _for_cubes_alone(problem: Problem) -> list[tuple[OneBatch, ...]]:
    """Up to one batch beside those of blocks, where there are test cubes."""
    return [(), *((OneBatch(load, ()),) for load in problem.loads if problem.cubes is not None)]


def _all_needed(problem: Problem, castings: list[int], batches: tuple[OneBatch, ...]) -> bool:
    """Whether without any one batch that pours something there would be too little; those for cubes are needed."""
    return all(
        _short_of_something(problem, [castings[b] for other in batches if other is not batch for b in other.blocks])
        for batch in batches
        if batch.blocks
    )


def _short_of_something(problem: Problem, castings: list[int]) -> bool:
    return any(
        sum(problem.castings[number].of(block) for number in castings) < of_format.demand
        for block, of_format in enumerate(problem.formats)
    )


def _smaller(load: Load, other: Load) -> bool:
    return load.mixer == other.mixer and load.cement < other.cement


def _turns(problem: Problem, blocks: list[int]) -> Iterator[tuple[OneTurn, ...]]:
    for parts in _partitions(tuple(range(len(blocks)))):
        yield from product(
            *(
                [
                    OneTurn(kind, part)
                    for kind, mould in enumerate(problem.moulds)
                    if len(part) <= mould.cavities and {blocks[b] for b in part} <= mould.casts
                ]
                for part in parts
            )
        )


def _due(cubes: Cubes, mix: int, made: Counter[int]) -> dict[int, tuple[int, int]]:
    """Sets given by the end of each day at the least and at the most, by the cement of a mix of each day."""
    found: dict[int, tuple[int, int]] = {}
    if cubes.lots:
        cement, last = 0, max(made, default=0)
        for day in sorted(made):
            cement += made[day]
            begun = -(-cement // cubes.lots[mix])
            found[day] = (begun if day == last else max(1, cement // round(cubes.lots[mix])), begun)
        return found
    lots: set[int] = set()
    for day in sorted(made):
        lots.add(sum(begins <= day for begins in cubes.days))
        found[day] = (len(lots), len(lots))
    return found


Key = tuple[str, int]


@dataclass
class Trial:
    """Every order of the tasks of given batches and turns; batches and chores up to the day at position ``last``.

    ``waits`` are minutes before which the sides and the strip of the first turns do not begin, however old.
    """

    problem: Problem
    blocks: list[int]
    batches: tuple[OneBatch, ...]
    turns: tuple[OneTurn, ...]
    last: int
    waits: tuple[tuple[int, int], ...] = ()
    seen: set[frozenset[tuple[Key, int]]] = field(default_factory=set)
    found: set[Tuple4] = field(default_factory=set)

    def all(self) -> set[Tuple4]:
        self._go({})
        return self.found

    def _go(self, starts: dict[Key, int]) -> None:
        state = frozenset(starts.items())
        if state in self.seen:
            return
        self.seen.add(state)
        if all(("batch", b) in starts for b in range(len(self.batches))) and all(
            ("strip", t) in starts for t in range(len(self.turns))
        ):
            if self._sets_have_room(starts):
                self.found.add(self._outcome(starts))
            return
        for b in range(len(self.batches)):
            if ("batch", b) not in starts:
                for start in self._batch_starts(starts, b):
                    self._go({**starts, ("batch", b): start})
        for t, turn in enumerate(self.turns):
            if self._poured(starts, turn) is not None:
                self._tasks(starts, t)

    # batches

    def _batch_starts(self, starts: dict[Key, int], b: int) -> Iterator[int]:
        """As early as can be, on each of the first days."""
        batch = self.batches[b]
        free = self._moulds_free(starts, b)
        if free is None:
            return
        for day in self.problem.days[: self.last + 1]:
            at = max(day.windows[0][0], free - batch.load.to_pour)
            start = self._earliest(starts, at, batch.load.length, batch.load.crew, ("batch", b))
            if start is not None and start < day.windows[-1][1]:
                yield start

    def _moulds_free(self, starts: dict[Key, int], b: int) -> int | None:
        """Minute from which all moulds this batch fills are free, the soonest free of each kind taken."""
        begun = {t for t, turn in enumerate(self.turns) if self._first_pour(starts, turn) is not None}
        free = self._frees(starts, begun)
        if free is None:
            return None
        mine = [t for t, turn in enumerate(self.turns) if set(turn.blocks) & set(self.batches[b].blocks)]
        new = [t for t in mine if t not in begun]
        again = self._frees(starts, begun, new)
        return None if again is None else max([0, *again.values(), *(free.get(t, 0) for t in mine)])

    def _frees(self, starts: dict[Key, int], begun: set[int], new: list[int] | None = None) -> dict[int, int] | None:
        """For turns in order of their start, then the new ones, the minute their mould (and base) came free."""
        order = sorted(begun, key=lambda t: self._first_pour(starts, self.turns[t]) or 0)
        free: dict[int, int] = {}
        for part in ("sides", "clean"):
            pools: dict[int, list[int | None]] = {}
            for kind, mould in enumerate(self.problem.moulds):
                if mould.bases or part == "clean":
                    pools[kind] = [0] * (mould.bases if mould.bases and part == "clean" else mould.count)
            for t in [*order, *(new or [])]:
                pool = pools.get(self.turns[t].kind)
                if pool is None:
                    continue
                soonest = min((minute for minute in pool if minute is not None), default=None)
                if soonest is None:
                    return None
                pool.remove(soonest)
                free[t] = max(free.get(t, 0), soonest)
                pool.append(self._freed(starts, t, part))
        return free if new is None else {t: free.get(t, 0) for t in new}

    def _freed(self, starts: dict[Key, int], t: int, part: str) -> int | None:
        mould = self.problem.moulds[self.turns[t].kind]
        start = starts.get((part, t))
        return None if start is None else start + (mould.sides if part == "sides" else mould.clean)

    def _first_pour(self, starts: dict[Key, int], turn: OneTurn) -> int | None:
        pours = [starts[key] + batch.load.to_pour for key, batch in self._of(turn) if key in starts]
        return min(pours, default=None)

    def _poured(self, starts: dict[Key, int], turn: OneTurn) -> int | None:
        of = self._of(turn)
        if any(key not in starts for key, _ in of):
            return None
        return max(starts[key] + batch.load.to_poured for key, batch in of)

    def _of(self, turn: OneTurn) -> list[tuple[Key, OneBatch]]:
        return self._batches_of[turn]

    @cached_property
    def _batches_of(self) -> dict[OneTurn, list[tuple[Key, OneBatch]]]:
        """The batches that fill each turn."""
        return {
            turn: [(("batch", b), batch) for b, batch in enumerate(self.batches) if {*batch.blocks} & {*turn.blocks}]
            for turn in self.turns
        }

    def _n_blocks(self, turn: OneTurn) -> int:
        """Blocks that come of what is cast in a turn."""
        return sum(self.problem.castings[self.blocks[b]].blocks for b in turn.blocks)

    # sides, strip and clean

    def _tasks(self, starts: dict[Key, int], t: int) -> None:
        turn, problem = self.turns[t], self.problem
        mould = problem.moulds[turn.kind]
        poured = self._poured(starts, turn)
        assert poured is not None
        table = problem.ripe_sides[turn.kind]
        if table is not None and ("sides", t) not in starts:
            self._place(starts, ("sides", t), max(int(table[poured]), self._waits(t)[0]), mould.sides)
        elif ("strip", t) not in starts:
            ripe = max(int(problem.ripe_strip[turn.kind][poured]), self._waits(t)[1])
            at = max(ripe, self._freed(starts, t, "sides") or 0)
            self._place(starts, ("strip", t), at, mould.strip + problem.move[self._n_blocks(turn)])
        elif ("clean", t) not in starts:
            self._place(starts, ("clean", t), starts["strip", t] + mould.strip, mould.clean)

    def _waits(self, t: int) -> tuple[int, int]:
        return self.waits[t] if t < len(self.waits) else (0, 0)

    def _place(self, starts: dict[Key, int], key: Key, at: int, length: int) -> None:
        start = at if length == 0 else self._earliest(starts, at, length, 1, key)
        if start is not None and (key[0] != "strip" or self._before_frost(starts, key[1], start)):
            self._go({**starts, key: start})

    def _before_frost(self, starts: dict[Key, int], t: int, start: int) -> bool:
        turn = self.turns[t]
        first = self._first_pour(starts, turn)
        assert first is not None
        stripped = start + self.problem.moulds[turn.kind].strip
        return bool(stripped // MINUTES_A_DAY <= self.problem.clear_until[first // MINUTES_A_DAY])

    # what is shared

    @cached_property
    def _lengths(self) -> dict[Key, int]:
        found: dict[Key, int] = {("batch", b): batch.load.length for b, batch in enumerate(self.batches)}
        for t, turn in enumerate(self.turns):
            mould = self.problem.moulds[turn.kind]
            found["sides", t] = mould.sides
            found["strip", t] = mould.strip + self.problem.move[self._n_blocks(turn)]
            found["clean", t] = mould.clean
        return found

    def _earliest(self, starts: dict[Key, int], at: int, length: int, people: int, key: Key) -> int | None:
        """The first minute at which nothing forbids the task: one at which something ends, or a window opens."""
        busy = [*self._busy(starts), *self._chores]
        moments = {at, *(opens for opens, _, _ in self._windows), *(end for _, end, _ in busy)}
        if key[0] == "batch":
            moments |= {end - self.batches[key[1]].load.slurry for day in self.problem.days for _, end, _ in day.hot}
        for (name, n), start in starts.items():
            if name == "batch" and key[0] == "batch":
                load = self.batches[n].load
                moments.add(start + load.to_pour - self.batches[key[1]].load.slurry)
            if name == "strip" and key[0] == "strip":
                moments.add(self._leaves(n, start) - self.problem.moulds[self.turns[key[1]].kind].strip)
        for start in sorted(moment for moment in moments if moment >= at):
            for opens, closes, day in self._windows:
                if opens <= start and start + length <= closes:
                    if _has_people(busy, day, start, length, people) and self._allowed(starts, day, start, key):
                        return start
                    break
        return None

    @cached_property
    def _windows(self) -> list[tuple[int, int, Day]]:
        return [(opens, closes, day) for day in self.problem.days for opens, closes in day.windows]

    def _busy(self, starts: dict[Key, int]) -> Iterator[tuple[int, int, int]]:
        """(Start, end, people) of the tasks that have a start."""
        for key, start in starts.items():
            people = self.batches[key[1]].load.crew if key[0] == "batch" else 1
            yield start, start + self._lengths[key], people

    @cached_property
    def _chores(self) -> list[tuple[int, int, int]]:
        """(Start, end, people) of the chores that are done."""
        days = self.problem.days[: self.last + 1]
        return [(chore.start, chore.end, chore.people) for day in days for chore in day.chores]

    def _allowed(self, starts: dict[Key, int], day: Day, start: int, key: Key) -> bool:
        if key[0] == "strip":
            return self._has_places(starts, key[1], start) and self._has_ground({**starts, key: start})
        return key[0] != "batch" or self._may_run(starts, day, start, self.batches[key[1]].load)

    def _may_run(self, starts: dict[Key, int], day: Day, start: int, load: Load) -> bool:
        """Foam in time, poured before the heat sets it, mixer and generator free, cement there."""
        foam_at = start + load.slurry
        if foam_at > day.last_foam:
            return False
        if any(first <= foam_at < end and load.foam + load.pour > keeps for first, end, keeps in day.hot):
            return False
        drawn = [(start, load.cement)]
        for (name, n), since in starts.items():
            if name == "batch":
                other = self.batches[n].load
                drawn.append((since, other.cement))
                if other.mixer == load.mixer and since < start + load.length and start < since + other.length:
                    return False
                if since + other.slurry < start + load.to_pour and start + load.slurry < since + other.to_pour:
                    return False
        supply = self.problem.cement
        return all(
            sum(n for at, n in drawn if at // MINUTES_A_DAY <= on.number) <= supply.by(on.number)
            for on in self.problem.days
        )

    def _leaves(self, t: int, start: int) -> int:
        leaves = start + self.problem.moulds[self.turns[t].kind].strip + self.problem.rack_for
        return min((max(leaves, a) for a, b in self.problem.windows if b > leaves), default=leaves)

    def _has_places(self, starts: dict[Key, int], t: int, start: int) -> bool:
        stays = [(t, start), *((n, since) for (name, n), since in starts.items() if name == "strip")]
        spans = [
            (since + self._strip_of(n), self._leaves(n, since), self._n_blocks(self.turns[n])) for n, since in stays
        ]
        return all(sum(k for a, b, k in spans if a <= moment < b) <= self.problem.places for moment, _, _ in spans)

    def _has_ground(self, starts: dict[Key, int]) -> bool:
        """Whether all that is stripped has room on the stack from the day it leaves the rack to the day it is laid.

        What is ready first is laid where it is needed first, and what has no date when it is ready.
        """
        stack = self.problem.stack
        if stack is None:
            return True
        stays: dict[int, list[tuple[int, int]]] = {}
        for t, turn in enumerate(self.turns):
            if ("strip", t) in starts:
                leaves = self._leaves(t, starts["strip", t])
                for block in turn.blocks:
                    for given, count in self.problem.castings[self.blocks[block]].gives:
                        ready = self._ready_day(starts, block, leaves)
                        stays.setdefault(given, []).extend([(ready, leaves // MINUTES_A_DAY)] * count)
        there: dict[int, Counter[int]] = {}
        for given, of_format in stays.items():
            due = [day for day, count in self.problem.formats[given].needs for _ in range(count)]
            for n, (ready, came) in enumerate(sorted(of_format)):
                for day in range(came, max(ready, due[n] if n < len(due) else 0) + 1):
                    there.setdefault(day, Counter())[given] += 1
        return all(stack.columns(of_day.values()) <= stack.places for of_day in there.values())

    def _ready_day(self, starts: dict[Key, int], block: int, leaves: int) -> int:
        b = next(b for b, batch in enumerate(self.batches) if block in batch.blocks)
        poured = starts["batch", b] + self.batches[b].load.to_poured
        return max(leaves, poured + self.problem.lay_at) // MINUTES_A_DAY

    def _strip_of(self, t: int) -> int:
        return self.problem.moulds[self.turns[t].kind].strip

    # test cubes

    def _sets_have_room(self, starts: dict[Key, int]) -> bool:
        """Whether each lot has its set, given as soon as there is room for it."""
        if self.problem.cubes is None:
            return True
        return all(self._gives_sets(self.problem.cubes, mix, starts) for mix in self.problem.mixes)

    def _gives_sets(self, cubes: Cubes, mix: int, starts: dict[Key, int]) -> bool:
        made, room = Counter[int](), Counter[int]()
        for b, batch in enumerate(self.batches):
            if batch.load.mix == mix:
                day = starts["batch", b] // MINUTES_A_DAY
                filled = sum(self.problem.castings[self.blocks[block]].volume for block in batch.blocks)
                made[day] += batch.load.cement
                room[day] += (batch.load.room - filled) // cubes.volume
        given = 0
        for day, (least, most) in _due(cubes, mix, made).items():
            given = min(given + room[day], most)
            if given < least:
                return False
        return True

    # how good it is

    def _outcome(self, starts: dict[Key, int]) -> Tuple4:
        pours = [start for (name, _), start in starts.items() if name == "batch"]
        cement = sum(batch.load.cement for batch in self.batches)
        return (self._late(starts), max(pours) // MINUTES_A_DAY, len(self.batches), cement)

    def _late(self, starts: dict[Key, int]) -> int:
        ready: dict[int, list[int]] = {}
        for t, turn in enumerate(self.turns):
            leaves = self._leaves(t, starts["strip", t])
            for block in turn.blocks:
                day = self._ready_day(starts, block, leaves)
                for given, count in self.problem.castings[self.blocks[block]].gives:
                    ready.setdefault(given, []).extend([day] * count)
        total = 0
        for index, days in ready.items():
            due = [day for day, count in self.problem.formats[index].needs for _ in range(count)]
            total += min(
                sum(max(0, day - need) for day, need in zip(order, due, strict=False)) for order in permutations(days)
            )
        return total


def _has_people(busy: list[tuple[int, int, int]], day: Day, start: int, length: int, people: int) -> bool:
    """Whether so many are there besides those who are busy, all the time."""
    moments = {start, *(since for since, _, _ in busy if start < since < start + length)}
    return all(sum(n for a, b, n in busy if a <= m < b) + people <= day.people for m in moments)
