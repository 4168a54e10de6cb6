"""Blocks into batches: the fewest batches that hold a day's blocks, then the least cement, exactly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Effort, Expression, Value, run
from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.problem import Load, Problem


@dataclass(frozen=True)
class Filling:
    """A batch to make: which load, how many of each casting, and the volume of its test cubes."""

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
    cubes: Mapping[int, int] | None = None,
) -> list[Filling] | None:
    """Batches for the blocks of one day.

    Parameters
    ----------
    wanted : how many of each casting.
    cubes : volume of the test cubes that one batch gives beside, by mix.
    ceilings : what the mixers manage in the day.
    thrifty : least cement first, then fewest batches.

    Returns
    -------
    Batches, biggest first; ``None`` when these blocks do not go into the batches a day can make.
    """
    due = {mix: volume for mix, volume in (cubes or {}).items() if _pours(problem, wanted, mix)}
    provided = _provided(problem, wanted, more=1 if thrifty or due else 0)
    if provided is None:
        return None
    model = _Packing(problem, wanted, provided, due)
    model.limit(ceilings)
    model.fewest(thrifty=thrifty)
    answer = run(model.model, effort)
    return model.read(answer.value) if answer.found else None


def _pours(problem: Problem, wanted: dict[int, int], mix: int) -> bool:
    return any(count and problem.castings[number].mix == mix for number, count in wanted.items())


def _provided(problem: Problem, wanted: dict[int, int], *, more: int) -> dict[int, int] | None:
    """Batches to provide for each mix: what filling biggest first takes, and some more."""
    provided = {}
    for mix in {problem.castings[block].mix for block, count in wanted.items() if count}:
        room = max((load.room for load in problem.loads if load.mix == mix), default=0)
        of_mix = {block: count for block, count in wanted.items() if problem.castings[block].mix == mix}
        first_fit = biggest_first(problem, of_mix, room)
        if first_fit is None:
            return None
        provided[mix] = len(first_fit) + more
    return provided


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
        self, problem: Problem, wanted: dict[int, int], provided: dict[int, int], cubes: Mapping[int, int]
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
            self.model.add(poured + self._cubes_of(mix, batch, blocks) <= room)
            self.chosen.append(loads)
            self.content.append(blocks)
        for block, count in wanted.items():
            if count:
                self.model.add(sum(blocks[block] for blocks in self.content if block in blocks) == count)
        for mix in cubes:
            self.model.add(sum(gives for of, gives in zip(self.mixes, self.gives, strict=True) if of == mix) == 1)
        self._equal_batches_in_order()

    def _cubes_of(self, mix: int, batch: int, blocks: dict[int, cp_model.IntVar]) -> Expression:
        """Volume of the test cubes that a batch gives, if it is the one; it pours a block at the least."""
        if mix not in self.cubes:
            self.gives.append(0)
            return 0
        gives = self.model.new_bool_var(f"{batch} gives cubes")
        self.model.add(sum(blocks.values()) >= gives)
        self.gives.append(gives)
        return self.cubes[mix] * gives

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
            if load is not None and content:
                found.append(Filling(load, content, self.cubes.get(mix, 0) * value(gives)))
        return found
