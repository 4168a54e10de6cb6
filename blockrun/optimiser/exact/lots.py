"""Sets of test cubes: by the end of each day as many as the lots take that are made by then."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

from ortools.sat.python import cp_model

from blockrun.optimiser.cubes import sets_by
from blockrun.optimiser.either_version import weighed
from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.batches import Batches
from blockrun.optimiser.problem import Cubes, Problem


class Lots:
    """Sets that each batch gives, by its number, of whichever mix it is; ``batches`` has one at the least."""

    def __init__(self, model: cp_model.CpModel, problem: Problem, cubes: Cubes, batches: Batches) -> None:
        self.model, self.problem, self.cubes, self.batches = model, problem, cubes, batches
        self.days = [day.number for day in batches.clock.pour_days]
        self._most_cement = max(load.cement for load in batches.loads.values())
        self._most_sets = max(load.room for load in batches.loads.values()) // cubes.volume
        self.gives = [model.new_int_var(0, self._most_sets, f"sets of {n}") for n in range(len(batches.all))]
        self._on = [self._days_of(number) for number in range(len(batches.all))]
        for mix in problem.mixes:
            if cubes.lots:
                self._by_volume(mix)
            else:
                self._by_date(mix)

    def _days_of(self, number: int) -> list[cp_model.IntVar]:
        """Whether a batch is made on each day."""
        batch = self.batches.all[number]
        on = [self.model.new_bool_var(f"{number} on {day}") for day in self.days]
        self.model.add(sum(on) == batch.used)
        for day, var in zip(self.days, on, strict=True):
            self.model.add(batch.day == day).only_enforce_if(var)
        return on

    def _by_day(self, mix: int, most: int, amount: Callable[[int], Expression]) -> list[Expression]:
        """What the batches of a mix have of something on each day."""
        of_day: list[Expression] = [0] * len(self.days)
        for number, batch in enumerate(self.batches.all):
            of_mix = sum(var for _, var in self.batches.of_mix(batch, mix))
            parts = [self.model.new_int_var(0, most, f"{number} of {mix}") for _ in self.days]
            whole = self.model.new_int_var(0, most, f"{number} of {mix} in all")
            self.model.add(sum(parts) == whole)
            is_of_mix = self.model.new_bool_var(f"{number} is of {mix}")
            self.model.add(is_of_mix == of_mix)
            self.model.add(whole == amount(number)).only_enforce_if(is_of_mix)
            self.model.add(whole == 0).only_enforce_if(is_of_mix.negated())
            for at, (part, on) in enumerate(zip(parts, self._on[number], strict=True)):
                self.model.add(part <= most * on)
                of_day[at] += part
        return of_day

    def _cement(self, mix: int, number: int) -> Expression:
        return weighed((load.cement, var) for load, var in self.batches.of_mix(self.batches.all[number], mix))

    def _by_volume(self, mix: int) -> None:
        """Of lots ended by a day each has given its set, of lots not begun none has; in the end all begun have."""
        cement = self._by_day(mix, self._most_cement, lambda number: self._cement(mix, number))
        sets = self._by_day(mix, self._most_sets, lambda number: self.gives[number])
        most = self._most_cement * len(self.batches.all)
        due = [sets_by(self.cubes.lots[mix], amount) for amount in range(most + 1)]
        for at in range(len(self.days)):
            self._between(sum(cement[: at + 1]), sum(sets[: at + 1]), due)
        self._between(sum(cement), sum(sets), [(begun, begun) for _, begun in due])

    def _between(self, cement: Expression, sets: Expression, due: list[tuple[int, int]]) -> None:
        """With so much cement at the least and at the most so many sets: ``due`` is by cement."""
        self.model.add(sets <= due[-1][1])
        for count in range(1, due[-1][1] + 1):
            needed = next((amount for amount, (least, _) in enumerate(due) if least >= count), None)
            allowed = next(amount for amount, (_, most) in enumerate(due) if most >= count)
            there = self.model.new_bool_var(f"{count} sets")
            self.model.add(sets >= count).only_enforce_if(there)
            self.model.add(sets < count).only_enforce_if(there.negated())
            self.model.add(cement >= allowed).only_enforce_if(there)
            if needed is not None:
                self.model.add(cement < needed).only_enforce_if(there.negated())

    def _by_date(self, mix: int) -> None:
        """Each lot gives one set on the first day on which some of it is made."""
        sets = self._by_day(mix, self._most_sets, lambda number: self.gives[number])
        made = self._by_day(mix, 1, lambda number: self.batches.all[number].used)
        for _, lot in groupby(range(len(self.days)), key=self._lot):
            of_lot = list(lot)
            for end in range(1, len(of_lot) + 1):
                poured = self.model.new_bool_var("poured by then")
                so_far = sum(made[at] for at in of_lot[:end])
                self.model.add(so_far >= 1).only_enforce_if(poured)
                self.model.add(so_far == 0).only_enforce_if(poured.negated())
                self.model.add(sum(sets[at] for at in of_lot[:end]) == poured)

    def _lot(self, at: int) -> int:
        return sum(begins <= self.days[at] for begins in self.cubes.days)
