"""Blocks into batches: the fewest batches that hold a day's blocks, then the least cement, exactly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.cubes import Due
from blockrun.optimiser.cubes_held import hold_cubes
from blockrun.optimiser.engine import Effort, Expression, Value, run
from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.problem import Load, Problem


@dataclass(frozen=True)
class Filling:
    """A batch to make: which load, how many of each casting, and how many sets of test cubes."""

    load: int
    content: dict[int, int]
    cubes: int = 0

    @property
    def blocks(self) -> int:
        """Blocks poured from it."""
        return sum(self.content.values())


def pack(
    problem: Problem,
    wanted: dict[int, int],
    ceilings: Iterable[Ceiling],
    effort: Effort,
    *,
    thrifty: bool = False,
    cubes: Mapping[int, Due] | None = None,
) -> list[Filling] | None:
    """Batches for the blocks of one day.

    Parameters
    ----------
    wanted : how many of each casting.
    cubes : where the lots of each mix stand that give test cubes; a batch may give some and pour nothing else.
    ceilings : what the mixers manage in the day.
    thrifty : least cement first, then fewest batches.

    Returns
    -------
    Batches, biggest first; ``None`` when these blocks do not go into the batches a day can make.
    """
    ceilings = tuple(ceilings)
    for provided in _provided(problem, wanted, thrifty=thrifty):
        owed = _owed(problem, provided, cubes or {})
        if owed is None:
            return None
        for mix, (_, batches) in owed.items():
            provided[mix] += batches
        model = _Packing(problem, wanted, provided, {mix: due for mix, (due, _) in owed.items()})
        model.limit(ceilings)
        model.fewest(thrifty=thrifty)
        answer = run(model.model, effort)
        if not answer.impossible:
            return model.read(answer.value) if answer.found else None
    return None


def _provided(problem: Problem, wanted: dict[int, int], *, thrifty: bool) -> Iterator[dict[int, int]]:
    """Batches to provide for each mix: enough where the biggest mixer has time, then enough where it has not.

    Nothing where a block goes into no batch.
    """
    first_fit, one_each = {}, {}
    for mix in {problem.castings[block].mix for block, count in wanted.items() if count}:
        loads = problem.loads_of(mix)
        of_mix = {block: count for block, count in wanted.items() if problem.castings[block].mix == mix}
        filled = biggest_first(problem, of_mix, max((load.room for load in loads), default=0))
        if filled is None:
            return
        first_fit[mix], one_each[mix] = len(filled), sum(of_mix.values())
        if thrifty:
            # two batches that one could hold need not both be, so all but one are more than half of the biggest
            cement = sum(_least_cement(problem, loads, content) for content in filled)
            first_fit[mix] = max(1 + len(filled), problem.n_mixers + cement // (1 + min(_most_cement(loads)) // 2))
    yield first_fit
    if len({max(load.room for load in problem.loads if load.mixer == m) for m in range(problem.n_mixers)}) > 1:
        yield {mix: max(first_fit[mix], count) for mix, count in one_each.items()}


def _least_cement(problem: Problem, loads: list[Load], content: dict[int, int]) -> int:
    volume = sum(problem.castings[block].volume * count for block, count in content.items())
    return min(load.cement for load in loads if load.room >= volume)


def _most_cement(loads: list[Load]) -> list[int]:
    """Cement of the biggest batch of each mixer."""
    return [max(load.cement for load in loads if load.mixer == mixer) for mixer in {load.mixer for load in loads}]


def _owed(problem: Problem, provided: dict[int, int], cubes: Mapping[int, Due]) -> dict[int, tuple[Due, int]] | None:
    """Mixes that may owe sets, each with the batches to provide for them; ``None`` where no batch holds a set."""
    owed = {}
    for mix, due in cubes.items():
        loads = problem.loads_of(mix)
        sets = due.fewest((provided.get(mix, -1) + 1) * max((load.cement for load in loads), default=0))
        if mix in provided and sets and problem.cubes:
            held = max(load.room for load in loads) // problem.cubes.volume
            if not held:
                return None
            owed[mix] = due, -(-sets // held)
    return owed


def biggest_first(problem: Problem, wanted: dict[int, int], room: int) -> list[dict[int, int]] | None:
    """First fit, biggest blocks first, into equal rooms; ``None`` when a block is bigger than the room."""
    batches: list[tuple[int, dict[int, int]]] = []
    for block in sorted(wanted, key=lambda b: -problem.castings[b].volume):
        volume = problem.castings[block].volume
        for _ in range(wanted[block]):
            for index, (left, content) in enumerate(batches):
                if left >= volume:
                    content[block] = content.get(block, 0) + 1
                    batches[index] = (left - volume, content)
                    break
            else:
                if volume > room:
                    return None
                batches.append((room - volume, {block: 1}))
    return [content for _, content in batches]


class _Packing:
    """Batches that may be made, ``mixes`` naming the mix of each: the load it is, if any, and the blocks in it."""

    def __init__(
        self, problem: Problem, wanted: dict[int, int], provided: dict[int, int], cubes: Mapping[int, Due]
    ) -> None:
        self.problem, self.model, self.cubes = problem, cp_model.CpModel(), cubes
        self.gives: list[cp_model.IntVar | int] = []
        self.mixes = [mix for mix, count in sorted(provided.items()) for _ in range(count)]
        self.chosen: list[dict[int, cp_model.IntVar]] = []
        self.content: list[dict[int, cp_model.IntVar]] = []
        for batch, mix in enumerate(self.mixes):
            loads = {
                i: self.model.new_bool_var(f"{batch} {i}") for i, load in enumerate(problem.loads) if load.mix == mix
            }
            room = sum((problem.loads[i].room * chosen for i, chosen in loads.items()), start=0)
            most = max(problem.loads[i].room for i in loads)
            blocks = {
                b: self.model.new_int_var(0, min(n, most // problem.castings[b].volume), f"{batch} of {b}")
                for b, n in wanted.items()
                if problem.castings[b].mix == mix and n
            }
            self.model.add_at_most_one(loads.values())
            poured = sum((problem.castings[b].volume * n for b, n in blocks.items()), start=0)
            self.model.add(poured + self._cubes_of(mix, batch, most) <= room)
            self.chosen.append(loads)
            self.content.append(blocks)
        for block, count in wanted.items():
            if count:
                self.model.add(sum(blocks[block] for blocks in self.content if block in blocks) == count)
        for mix, due in cubes.items():
            self._cubes(mix, due)
        self._equal_batches_in_order()

    def _cubes_of(self, mix: int, batch: int, room: int) -> Expression:
        """Volume of the test cubes that a batch gives."""
        if mix not in self.cubes or self.problem.cubes is None:
            self.gives.append(0)
            return 0
        volume = self.problem.cubes.volume
        gives = self.model.new_int_var(0, room // volume, f"{batch} gives sets")
        self.gives.append(gives)
        return volume * gives

    def _cubes(self, mix: int, due: Due) -> None:
        """Each lot that the batches begin gives a set."""
        of_mix = [batch for batch, of in enumerate(self.mixes) if of == mix]
        cement = sum(self.problem.loads[i].cement * var for batch in of_mix for i, var in self.chosen[batch].items())
        most = sum(max(self.problem.loads[i].cement for i in self.chosen[batch]) for batch in of_mix)
        hold_cubes(self.model, due, cement, most, sum(self.gives[batch] for batch in of_mix))

    def _equal_batches_in_order(self) -> None:
        """Of batches of one mix, the bigger first."""
        for (mix, here), (next_mix, there) in pairwise(zip(self.mixes, self.chosen, strict=True)):
            if mix == next_mix:
                size = {i: 1 + position for position, i in enumerate(sorted(here, key=self._size))}
                self.model.add(
                    sum(size[i] * var for i, var in here.items()) >= sum(size[i] * var for i, var in there.items())
                )

    def _size(self, index: int) -> tuple[int, int]:
        load: Load = self.problem.loads[index]
        return (load.room, -load.mixer)

    def limit(self, ceilings: Iterable[Ceiling]) -> None:
        """No more than the mixers manage."""
        for ceiling in ceilings:
            used = sum(
                (ceiling.of_load.get(i, 0) * var for chosen in self.chosen for i, var in chosen.items()), start=0
            )
            self.model.add(used <= ceiling.most)

    def fewest(self, *, thrifty: bool) -> None:
        """Fewest batches, then least cement; or the other way round."""
        loads = self.problem.loads
        a_batch = 1 if thrifty else 1 + max(load.cement for load in loads) * len(self.mixes)
        a_step = 1 + len(self.mixes) if thrifty else 1
        cost = sum(
            ((a_batch + a_step * loads[i].cement) * var for chosen in self.chosen for i, var in chosen.items()), start=0
        )
        self.model.minimize(cost)

    def read(self, value: Value) -> list[Filling]:
        """The batches of an answer."""
        found = []
        for mix, chosen, blocks, gives in zip(self.mixes, self.chosen, self.content, self.gives, strict=True):
            load = next((i for i, var in chosen.items() if value(var)), None)
            content = {b: n for b, var in blocks.items() if (n := value(var))}
            sets = value(gives) if mix in self.cubes else 0
            if load is not None and (content or sets):
                found.append(Filling(load, content, sets))
        return found
