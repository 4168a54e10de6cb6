"""The batches of a plan: when each starts, in which mixer, of which mix and size."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.either_version import weighed
from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.clock import Clock
from blockrun.optimiser.exact.people import People
from blockrun.optimiser.problem import MINUTES_A_DAY, Load


@dataclass(frozen=True)
class Batch:
    """A batch that may be made; ``load`` has for each load by its number whether it is of that."""

    used: cp_model.IntVar
    start: cp_model.IntVar
    day: cp_model.IntVar
    load: dict[int, cp_model.IntVar]
    pour_from: Expression
    pour_to: Expression
    cement: Expression
    agent: Expression


class Batches:
    """Up to so many batches, in the order of their start; one at a time in a mixer, one foam at a time in the yard."""

    def __init__(self, model: cp_model.CpModel, clock: Clock, people: People, most: int) -> None:
        self.model, self.clock, self.people = model, clock, people
        self.loads = {
            number: load
            for number, load in enumerate(clock.problem.loads)
            if load.mix in clock.problem.mixes and not clock.batch_starts(shape(load)).is_empty()
        }
        self._runs: dict[int, list[cp_model.IntervalVar]] = {}
        self._foams: list[cp_model.IntervalVar] = []
        self.all = [self._batch(number) for number in range(most)] if self.loads else []
        for runs in self._runs.values():
            model.add_no_overlap(runs)
        if len(self._runs) > 1:
            model.add_no_overlap(self._foams)
        self._in_order()

    def _batch(self, number: int) -> Batch:
        name, model, loads = f"batch {number}", self.model, self.loads
        load = {n: model.new_bool_var(f"{name} of {n}") for n in loads}
        used, start, day = self._start(name)
        model.add(sum(load.values()) == used)
        self._run(name, start, load)
        return Batch(
            used,
            start,
            day,
            load,
            pour_from=start + weighed((loads[n].to_pour, var) for n, var in load.items()),
            pour_to=start + weighed((loads[n].to_poured, var) for n, var in load.items()),
            cement=weighed((loads[n].cement, var) for n, var in load.items()),
            agent=weighed((loads[n].agent, var) for n, var in load.items()),
        )

    def _start(self, name: str) -> tuple[cp_model.IntVar, cp_model.IntVar, cp_model.IntVar]:
        """Whether it is made, its start, and the number of its day."""
        used = self.model.new_bool_var(f"{name} used")
        days = self.clock.pour_days
        start = self.model.new_int_var(days[0].opens, days[-1].closes, f"{name} start")
        day = self.model.new_int_var_from_domain(self.clock.numbers, f"{name} day")
        self.model.add_linear_constraint(start - MINUTES_A_DAY * day, 0, MINUTES_A_DAY - 1)
        return used, start, day

    def _run(self, name: str, start: cp_model.IntVar, load: dict[int, cp_model.IntVar]) -> None:
        """Mixer, foam and crew are taken; loads that take them alike are one."""
        alike: dict[Load, list[cp_model.IntVar]] = {}
        for number, var in load.items():
            alike.setdefault(shape(self.loads[number]), []).append(var)
        for of, chosen in alike.items():
            made = self.model.new_bool_var(f"{name} in {of.mixer}")
            self.model.add(sum(chosen) == made)
            self.model.add_linear_expression_in_domain(start, self.clock.batch_starts(of)).only_enforce_if(made)
            run = self.model.new_optional_fixed_size_interval_var(start, of.length, made, f"{name} runs")
            self._runs.setdefault(of.mixer, []).append(run)
            self.people.busy(run, of.crew)
            foam = self.model.new_optional_fixed_size_interval_var(start + of.slurry, of.foam, made, f"{name} foam")
            self._foams.append(foam)

    def _in_order(self) -> None:
        for before, after in pairwise(self.all):
            self.model.add_implication(after.used, before.used)
            self.model.add(before.start <= after.start)
            self.model.add(before.start == after.start).only_enforce_if(after.used.negated())

    def of_mix(self, batch: Batch, mix: int) -> list[tuple[Load, cp_model.IntVar]]:
        """Loads of a mix, and whether the batch is of them."""
        return [(self.loads[n], var) for n, var in batch.load.items() if self.loads[n].mix == mix]


def shape(load: Load) -> Load:
    """What a load takes of mixer, foam, crew and time: two of one shape differ in what is in them alone."""
    return replace(load, mix=0, cement=0, agent=0, room=0)
