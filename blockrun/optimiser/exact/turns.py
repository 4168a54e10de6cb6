"""The turns of a plan: what is filled from which batch, and when its mould is emptied."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.either_version import weighed
from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.batches import Batches
from blockrun.optimiser.exact.clock import Clock, midnight_after
from blockrun.optimiser.exact.people import People
from blockrun.optimiser.exact.ripe import once_ripe, runs_of
from blockrun.optimiser.problem import Minutes


@dataclass(frozen=True)
class Turn:
    """A turn that may begin.

    ``fills`` are cavities by (batch, casting), ``uses`` by batch whether it is poured from it; ``start`` is no later
    than its first pour, ``poured`` no sooner than its last ends. ``sides`` is ``None`` without bases.
    """

    kind: int
    used: cp_model.IntVar
    start: cp_model.IntVar
    poured: cp_model.IntVar
    day: cp_model.IntVar
    fills: dict[tuple[int, int], cp_model.IntVar]
    uses: dict[int, cp_model.IntVar]
    blocks: cp_model.IntVar
    sides: cp_model.IntVar | None
    strip: cp_model.IntVar
    clean: cp_model.IntVar


class Turns:
    """Up to so many turns of each kind of mould, in the order of their start; ``most`` is of each casting."""

    def __init__(
        self, model: cp_model.CpModel, clock: Clock, people: People, batches: Batches, most: dict[int, int]
    ) -> None:
        self.model, self.clock, self.people, self.batches, self.most = model, clock, people, batches, most
        self.problem = clock.problem
        self.all: list[Turn] = []
        for kind in range(len(self.problem.moulds)):
            self._of_kind(kind)
        self._rack()

    def _of_kind(self, kind: int) -> None:
        mould = self.problem.moulds[kind]
        loads = self.batches.loads.values()
        castings = [c for c in sorted(mould.casts) if self.most.get(c)]
        mixes = {self.problem.castings[c].mix for c in castings}
        pours = sorted({span for load in loads if load.mix in mixes for span in self.clock.pours(load)})
        if not pours:
            return
        turns = [
            self._turn(kind, f"turn {kind} {number}", castings, pours)
            for number in range(sum(self.most[c] for c in castings))
        ]
        for before, after in pairwise(turns):
            self.model.add_implication(after.used, before.used)
            self.model.add(before.start <= after.start)
        until_clean = [self._taken(turn, turn.clean, mould.clean, "stands") for turn in turns]
        self.model.add_cumulative(until_clean, [1] * len(turns), mould.bases or mould.count)
        if mould.bases:
            sides_on = [self._taken(turn, turn.sides, mould.sides, "sides on") for turn in turns]
            self.model.add_cumulative(sides_on, [1] * len(turns), mould.count)
        self.all += turns

    def _turn(self, kind: int, name: str, castings: list[int], pours: list[tuple[int, int]]) -> Turn:
        model, mould = self.model, self.problem.moulds[kind]
        used = model.new_bool_var(f"{name} used")
        minutes = (self.clock.pour_days[0].opens, self.clock.pour_days[-1].closes)
        start, poured = (model.new_int_var(*minutes, f"{name} {what}") for what in ("start", "poured"))
        fills, uses = self._fills(name, used, castings, mould.cavities)
        size, blocks = self._size(kind, name, used, fills)
        length = model.new_int_var(0, mould.strip + self.problem.move[-1], f"{name} strips for")
        model.add(length == weighed([(mould.strip, used), *((self.problem.move[n], var) for n, var in size.items())]))
        strip = self._task(f"{name} strip", used, length)
        for number, var in size.items():
            domain = self.clock.starts(mould.strip + self.problem.move[number])
            model.add_linear_expression_in_domain(strip, domain).only_enforce_if(var)
        clean = self._task(f"{name} clean", used, mould.clean)
        model.add_linear_expression_in_domain(clean, self.clock.starts(mould.clean)).only_enforce_if(used)
        model.add(clean >= strip + mould.strip)
        sides = self._sides(kind, name, used, poured, strip, pours)
        shortest = mould.strip + self.problem.move[1]
        self._ripe(self.problem.ripe_strip[kind], pours, shortest, poured, strip, used)
        turn = Turn(kind, used, start, poured, self._day(name, used), fills, uses, blocks, sides, strip, clean)
        self._poured_from(turn)
        self._before_frost(turn)
        return turn

    def _task(self, name: str, used: cp_model.IntVar, length: cp_model.IntVar | int) -> cp_model.IntVar:
        """Start of a task of one person."""
        start = self.model.new_int_var(self.clock.opens, self.clock.closes, name)
        end = self.model.new_int_var(self.clock.opens, self.clock.closes, f"{name} ends")
        if not isinstance(length, int) or length:
            self.people.busy(self.model.new_optional_interval_var(start, length, end, used, name), 1)
        return start

    def _fills(
        self, name: str, used: cp_model.IntVar, castings: list[int], cavities: int
    ) -> tuple[dict[tuple[int, int], cp_model.IntVar], dict[int, cp_model.IntVar]]:
        model = self.model
        fills: dict[tuple[int, int], cp_model.IntVar] = {}
        uses: dict[int, cp_model.IntVar] = {}
        for number in range(len(self.batches.all)):
            of_batch = {c: model.new_int_var(0, min(cavities, self.most[c]), f"{name} {number} {c}") for c in castings}
            uses[number] = model.new_bool_var(f"{name} uses {number}")
            model.add(sum(of_batch.values()) >= 1).only_enforce_if(uses[number])
            model.add(sum(of_batch.values()) == 0).only_enforce_if(uses[number].negated())
            model.add_implication(uses[number], used)
            fills |= {(number, c): var for c, var in of_batch.items()}
        model.add(sum(fills.values()) <= cavities)
        model.add(sum(fills.values()) >= used)
        return fills, uses

    def _size(
        self, kind: int, name: str, used: cp_model.IntVar, fills: dict[tuple[int, int], cp_model.IntVar]
    ) -> tuple[dict[int, cp_model.IntVar], cp_model.IntVar]:
        most = self.problem.most_blocks(kind)
        size = {n: self.model.new_bool_var(f"{name} of {n}") for n in range(1, most + 1)}
        blocks = self.model.new_int_var(0, most, f"{name} blocks")
        self.model.add(sum(size.values()) == used)
        self.model.add(blocks == sum(n * var for n, var in size.items()))
        self.model.add(blocks == sum(self.problem.castings[c].blocks * var for (_, c), var in fills.items()))
        return size, blocks

    def _day(self, name: str, used: cp_model.IntVar) -> cp_model.IntVar:
        """Number of the day it is poured on: not one of frost."""
        day = self.model.new_int_var_from_domain(self.clock.numbers, f"{name} day")
        if self.problem.cubes is not None:
            clear = [on.number for on in self.clock.pour_days if self.problem.clear_until[on.number] >= on.number]
            self.model.add_linear_expression_in_domain(day, cp_model.Domain.from_values(clear)).only_enforce_if(used)
        return day

    def _poured_from(self, turn: Turn) -> None:
        """All its batches are of its day, pour no sooner than it starts, and no later than it is poured."""
        for number, uses in turn.uses.items():
            batch = self.batches.all[number]
            self.model.add(turn.start <= batch.pour_from).only_enforce_if(uses)
            self.model.add(turn.poured >= batch.pour_to).only_enforce_if(uses)
            self.model.add(turn.day == batch.day).only_enforce_if(uses)

    # emptying it

    def _sides(
        self,
        kind: int,
        name: str,
        used: cp_model.IntVar,
        poured: cp_model.IntVar,
        strip: cp_model.IntVar,
        pours: list[tuple[int, int]],
    ) -> cp_model.IntVar | None:
        table, mould = self.problem.ripe_sides[kind], self.problem.moulds[kind]
        if table is None:
            return None
        sides = self._task(f"{name} sides", used, mould.sides)
        self.model.add_linear_expression_in_domain(sides, self.clock.starts(mould.sides)).only_enforce_if(used)
        self._ripe(table, pours, mould.sides, poured, sides, used)
        self.model.add(strip >= sides + mould.sides)
        return sides

    def _ripe(
        self,
        table: Minutes,
        pours: list[tuple[int, int]],
        length: int,
        poured: cp_model.IntVar,
        start: cp_model.IntVar,
        used: cp_model.IntVar,
    ) -> None:
        once_ripe(self.model, runs_of(self.problem, table, pours, length), poured, start, used)

    def _stripped(self, turn: Turn) -> Expression:
        return turn.strip + self.problem.moulds[turn.kind].strip

    def _before_frost(self, turn: Turn) -> None:
        """What is poured before a frost is stripped before it."""
        clear_until = [int(self.problem.clear_until[day.number]) for day in self.clock.pour_days]
        for day, clear, after in zip(self.clock.pour_days, clear_until, [*clear_until[1:], None], strict=True):
            if day.number <= clear < self.problem.horizon - 1 and clear != after:
                early = self.model.new_bool_var("before the frost")
                self.model.add(turn.day > day.number).only_enforce_if(early.negated())
                self.model.add(self._stripped(turn) < midnight_after(clear)).only_enforce_if(early)

    # what turns share

    def _taken(self, turn: Turn, last: cp_model.IntVar | None, length: int, name: str) -> cp_model.IntervalVar:
        """From its start until the end of a task."""
        assert last is not None
        size = self.model.new_int_var(0, self.clock.closes - self.clock.opens, f"{name} for")
        return self.model.new_optional_interval_var(turn.start, size, last + length, turn.used, name)

    def _rack(self) -> None:
        """Blocks keep their places from the strip until they leave."""
        if sum(self.most[c] * self.problem.castings[c].blocks for c in self.most) <= self.problem.places:
            return
        domain = self.clock.leaves_rack()
        stays = []
        for turn in self.all:
            leaves = self.model.new_int_var_from_domain(domain, "leaves")
            stay = self.model.new_int_var(self.problem.rack_for, 1 << 21, "stays")
            stays.append(
                self.model.new_optional_interval_var(self._stripped(turn), stay, leaves, turn.used, "on the rack")
            )
        self.model.add_cumulative(stays, [turn.blocks for turn in self.all], self.problem.places)
