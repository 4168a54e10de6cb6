"""A whole plan by the minute as one model: every rule of a problem, and nothing left to a later day."""

from __future__ import annotations

import math
from collections import Counter
from functools import cached_property, reduce

from ortools.sat.python import cp_model

from blockrun.optimiser.either_version import weighed
from blockrun.optimiser.engine import Expression, Value
from blockrun.optimiser.exact.batches import Batches
from blockrun.optimiser.exact.blocks import Blocks
from blockrun.optimiser.exact.clock import Clock
from blockrun.optimiser.exact.lateness import Lateness
from blockrun.optimiser.exact.lots import Lots
from blockrun.optimiser.exact.people import People
from blockrun.optimiser.exact.size import Size
from blockrun.optimiser.exact.stock import in_stock
from blockrun.optimiser.exact.turns import Turns
from blockrun.optimiser.problem import MINUTES_A_DAY, Load, Problem
from blockrun.optimiser.state import Batch, Span, State, Turn


class Whole:
    """A plan that pours up to the day at position ``last``, of ``size`` at the most.

    ``late`` are its block-days late, where it may have so many of them: without a number nobody looks.
    """

    def __init__(self, problem: Problem, last: int, size: Size, most_late: int | None) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        clock = Clock(problem, last)
        people = People(self.model, clock)
        self.batches = Batches(self.model, clock, people, size.batches)
        self.turns = Turns(self.model, clock, people, self.batches, size.castings)
        self.blocks = Blocks(self.model, problem, self.batches, self.turns)
        self.last = self._last_day(clock)
        people.share(self.batches.all[0].day if self.batches.all else self.last, self.last)
        self._cubes()
        self._filled()
        self._stock(clock)
        self.late: Expression = 0
        if most_late is not None:
            self.late = Lateness(self.model, problem, self.batches, self.turns, most_late).days

    def _last_day(self, clock: Clock) -> cp_model.IntVar:
        last = self.model.new_int_var_from_domain(clock.numbers, "last day")
        for batch in self.batches.all:
            self.model.add(last >= batch.day).only_enforce_if(batch.used)
        return last

    def _cubes(self) -> None:
        cubes, self.gives = self.problem.cubes, dict[int, cp_model.IntVar]()
        if cubes is not None and self.batches.all:
            self.gives = dict(enumerate(Lots(self.model, self.problem, cubes, self.batches).gives))

    def _filled(self) -> None:
        """A batch has room for all that is poured from it, all of its mix, and is made for something."""
        castings = self.problem.castings
        cubes = self.problem.cubes.volume if self.problem.cubes is not None else 0
        unit = reduce(math.gcd, (castings[c].volume for c in self.problem.in_moulds), cubes)
        for number, batch in enumerate(self.batches.all):
            content, sets = self.blocks.castings(number), self.gives.get(number, 0)
            volume = sum(castings[c].volume // unit * count for c, count in content.items())
            room = sum(self.batches.loads[n].room // unit * var for n, var in batch.load.items())
            self.model.add(volume + weighed([(cubes // unit, sets)]) <= room)
            self.model.add(sum(content.values()) + sets >= batch.used)
            for mix in self.problem.mixes:
                others = sum(count for c, count in content.items() if castings[c].mix != mix)
                is_of_mix = [var for _, var in self.batches.of_mix(batch, mix)]
                for var in is_of_mix:
                    self.model.add(others == 0).only_enforce_if(var)

    def _stock(self, clock: Clock) -> None:
        loads, batches = self.batches.loads.values(), self.batches.all
        first = clock.days[0].number
        if batches:
            cement, agent = max(load.cement for load in loads), max(load.agent for load in loads)
            in_stock(self.model, self.problem.cement, first, batches, [batch.cement for batch in batches], cement)
            in_stock(self.model, self.problem.agent, first, batches, [batch.agent for batch in batches], agent)

    # how good it is

    @property
    def stages(self) -> tuple[Expression, Expression, Expression, Expression]:
        """What a score is of, stage by stage: late, finish, batches, cement."""
        batches = self.batches.all
        return self.late, self.last, sum(batch.used for batch in batches), sum(batch.cement for batch in batches)

    @property
    def pours(self) -> Expression:
        """Minutes from the first opening at which castings are poured, added up; more where that does no harm."""
        opens = self.problem.days[0].opens
        longest = self.problem.days[-1].closes - opens
        of_each: list[cp_model.IntVar] = []
        for number, batch in enumerate(self.batches.all):
            content = sum(self.blocks.castings(number).values())
            for nth in range(1, self._most_in_a_batch + 1):
                there = self.model.new_bool_var(f"{nth} in {number}")
                self.model.add(content < nth).only_enforce_if(there.negated())
                of_each.append(self.model.new_int_var(0, longest, f"{nth} in {number} poured"))
                self.model.add(of_each[-1] >= batch.pour_to - opens).only_enforce_if(there)
        return sum(of_each)

    @cached_property
    def _most_in_a_batch(self) -> int:
        """Castings that one batch has room for."""
        room = max(load.room for load in self.batches.loads.values())
        least = min(self.problem.castings[c].volume for c in self.turns.most)
        return min(room // least, sum(self.turns.most.values()))

    @property
    def emptied(self) -> Expression:
        """Minutes at which moulds are emptied, added up."""
        return sum(task for turn in self.turns.all for task in (turn.sides, turn.strip, turn.clean) if task is not None)

    # the answer

    def read(self, value: Value) -> State:
        """The plan of an answer."""
        batches = {
            number: Batch(self._load(number, value), value(batch.start), {}, value(self.gives.get(number, 0)))
            for number, batch in enumerate(self.batches.all)
            if value(batch.used)
        }
        turns = [self._turn(at, batches, value) for at, turn in enumerate(self.turns.all) if value(turn.used)]
        for batch in batches.values():
            poured = Counter(c for turn in turns for c, of in turn.fills if of is batch)
            batch.content = dict(sorted(poured.items()))
        over = max(turn.clean.end for turn in turns if turn.clean is not None) // MINUTES_A_DAY
        day = sum(on.number <= over for on in self.problem.days)
        return State(day, turns, sorted(batches.values(), key=lambda batch: (batch.start, batch.load.mixer)))

    def _load(self, number: int, value: Value) -> Load:
        of = next(n for n, var in self.batches.all[number].load.items() if value(var))
        return self.problem.loads[of]

    def _turn(self, at: int, batches: dict[int, Batch], value: Value) -> Turn:
        turn = self.turns.all[at]
        mould = self.problem.moulds[turn.kind]
        fills = [(c, batches[n]) for (n, c), fill in turn.fills.items() for _ in range(value(fill))]
        strip, clean = value(turn.strip), value(turn.clean)
        sides = None if turn.sides is None else Span(value(turn.sides), value(turn.sides) + mould.sides)
        return Turn(
            turn.kind,
            sorted(fills, key=lambda fill: (fill[1].start, fill[0])),
            sides,
            Span(strip, strip + mould.strip),
            Span(clean, clean + mould.clean),
            value(turn.blocks),
        )
