"""How many of each thing in each slot: the plan without its minutes.

Every rule here relaxes a rule of the minutes, so the best counts bound the best plan: a turn is
stripped no sooner than the earliest pour of its slot allows, people are hours of work, batches hold
what any weighing of blocks allows. The counts then guide the plan, day by day.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import partial

from ortools.sat.python import cp_model

from blockrun.optimiser.batch_counts import hold_batches
from blockrun.optimiser.crew import person_minutes
from blockrun.optimiser.engine import Expression
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.mould_counts import hold_moulds
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.running import Running
from blockrun.optimiser.slots import NEVER
from blockrun.optimiser.stack_counts import hold_stack
from blockrun.optimiser.standing import Standing, ready_days
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When


@dataclass
class Counts:
    """The model of the days from ``state.day`` to ``last``, with pours on these alone.

    Bounds take ``when`` from the limits; a guide may take another, with a delay and slots of its own.
    With ``overflow``, blocks may also be left to the days after ``last``, so that a bound on
    lateness holds however long the plan is. ``lean`` counts state few ways of weighing, for bounds that need no more.
    """

    problem: Problem
    limits: Limits
    when: When
    state: State
    last: int
    overflow: bool = False
    lean: bool = False
    model: cp_model.CpModel = field(default_factory=cp_model.CpModel)

    def __post_init__(self) -> None:
        """State all variables and rules."""
        slots = self.when.slots
        self.first = self.state.day
        self.days = range(self.first, min(self.limits.frost.tail(self.last), len(self.problem.days) - 1) + 1)
        self.pour_days = range(self.first, self.last + 1)
        self.slots = range(slots.of_day[self.first][0], slots.of_day[self.days[-1]][-1] + 1)
        self.pour_slots = range(slots.of_day[self.first][0], slots.of_day[self.last][-1] + 1)
        self.kinds = range(len(self.problem.moulds))
        self.left = self.state.left_to_pour(self.problem)
        self.useful = self.problem.useful(self.left)
        self.arrived = ready_days(self.limits.reach, self.state, self.problem.days[self.first].opens)
        self.standing = {kind: Standing.of(self.when, kind, self.state) for kind in self.kinds}
        self._pours()
        self._batches()
        self._strips()
        self._ordered_blocks()
        for kind in self.kinds:
            hold_moulds(self, kind)
        self._frost()
        self._rack()
        hold_stack(self)
        self._people()
        hold_batches(self)

    # what is decided

    def _pours(self) -> None:
        problem, model = self.problem, self.model
        self.turns = {kind: self._running(partial(self._most_turns, kind), f"turns {kind}") for kind in self.kinds}
        self.filled: dict[int, dict[tuple[int, int], cp_model.IntVar]] = {
            slot: {
                (kind, casting): model.new_int_var(
                    0, min(self.useful[casting], self._most_filled(kind, slot)), f"filled {slot} {kind} {casting}"
                )
                for kind in self.kinds
                for casting in sorted(problem.moulds[kind].casts)
                if self.useful[casting] and slot in self.turns[kind].of
            }
            for slot in self.slots
        }
        self.later = {
            block: model.new_int_var(0, self.left[block] if self.overflow else 0, f"later {block}")
            for block in range(len(problem.formats))
        }
        self.cavities = {kind: self._summed(kind, "cavities", lambda _: 1) for kind in self.kinds}
        # a block a cavity, but for slabs
        self.cast = {
            kind: self._summed(kind, "cast", lambda number: problem.castings[number].blocks)
            if problem.moulds[kind].casts - {*range(len(problem.formats))}
            else self.cavities[kind]
            for kind in self.kinds
        }

    def _summed(self, kind: int, name: str, each: Callable[[int], int]) -> Running:
        """What is poured in a kind of mould in each slot, a casting counted as so many."""
        most = max(map(each, self.problem.moulds[kind].casts), default=1)
        summed = self._running(lambda slot: most * self._most_filled(kind, slot), f"{name} {kind}")
        for slot, number in summed.of.items():
            filled = self.filled[slot].items()
            self.model.add(number == sum(each(casting) * n for (k, casting), n in filled if k == kind))
        return summed

    def _most_turns(self, kind: int, slot: int) -> int:
        """Turns that may be poured in a slot."""
        if slot not in self.pour_slots or self.when.first_poured(kind, slot) is None:
            return 0
        return self.limits.chains.turns_on(kind, self.when.slots.all[slot].day)

    def _most_filled(self, kind: int, slot: int) -> int:
        return self._most_turns(kind, slot) * self.problem.moulds[kind].cavities

    def _most_done(self, kind: int, slot: int) -> int:
        """Turns that may be stripped, or moulds cleaned, in a slot: what stood at opening and what is poured since."""
        mould, at = self.problem.moulds[kind], self.standing[kind]
        return max(mould.bases or mould.count, at.to_strip + at.to_clean) + self.limits.chains.turns_on(
            kind, self.when.slots.all[slot].day
        )

    def _most_racked(self, kind: int, slot: int) -> int:
        return self._most_done(kind, slot) * self.problem.most_blocks(kind)

    def _batches(self) -> None:
        """For each mixer and mix how many batches, and how much cement in all."""
        limits, model = self.limits, self.model
        self.batches: dict[int, dict[int, cp_model.IntVar]] = {}
        self.cement_in: dict[int, dict[int, cp_model.IntVar]] = {}
        for slot in self.pour_slots:
            self.batches[slot], self.cement_in[slot] = {}, {}
            for index, maker in enumerate(limits.mixing.makers):
                most = limits.mixing.batches_in(self.when.slots.all[slot], maker)
                if most and any(self.useful[casting] for casting in limits.weighing.castings_of(maker.mix)):
                    number = model.new_int_var(0, most, f"batches {slot} {index}")
                    cement = model.new_int_var(0, most * maker.most_cement, f"cement {slot} {index}")
                    model.add(cement <= maker.most_cement * number)
                    model.add(cement >= maker.least_cement * number)
                    self.batches[slot][index], self.cement_in[slot][index] = number, cement

    def _strips(self) -> None:
        with_bases = [kind for kind in self.kinds if self.problem.moulds[kind].bases]
        self.stripped = {k: self._running(partial(self._most_done, k), f"stripped {k}") for k in self.kinds}
        self.cleaned = {k: self._running(partial(self._most_done, k), f"cleaned {k}") for k in self.kinds}
        self.racked = {k: self._running(partial(self._most_racked, k), f"racked {k}") for k in self.kinds}
        self.bare = {k: self._running(partial(self._most_done, k), f"bare {k}") for k in with_bases}

    def _running(self, most: Callable[[int], int], name: str) -> Running:
        return Running(self.model, self.slots, most, name)

    def poured(self, slot: int, casting: int) -> Expression:
        """How many of a casting are poured in a slot."""
        return sum((number for (_, c), number in self.filled[slot].items() if c == casting), start=0)

    def slots_of(self, day: int) -> range:
        """The slots of the day at this position."""
        return self.when.slots.of_day[day]

    def latest(self, slot_of: Callable[[int], int]) -> dict[int, int]:
        """For each slot, the last one whose turns may have come so far by its end; later turns never come sooner."""
        found: dict[int, int] = {}
        latest, next_ = self.slots[0] - 1, self.slots[0]
        for slot in self.slots:
            while next_ <= slot:
                reached = slot_of(next_)
                if slot < reached != NEVER:
                    break
                latest, next_ = next_ if reached <= slot else latest, next_ + 1
            found[slot] = latest
        return found

    # the rules

    def _ordered_blocks(self) -> None:
        """Every block still to pour is poured once; of those that slabs give, there may be more."""
        given: dict[int, list[Expression]] = {block: [] for block in range(len(self.left))}
        for casting, of in enumerate(self.problem.castings):
            if self.useful[casting]:
                poured = sum((self.poured(slot, casting) for slot in self.pour_slots), start=0)
                for block, count in of.gives:
                    given[block].append(count * poured)
        for block, left in enumerate(self.left):
            cast = sum(given[block], start=self.later[block])
            self.model.add(cast >= left if block in self.problem.sawn else cast == left)

    def _frost(self) -> None:
        """Before a frost every mould is stripped, but for those that cannot be."""
        for day in self.limits.frost.last_days(self.days):
            last = self.slots_of(day)[-1]
            for kind in self.kinds:
                at = self.standing[kind]
                must = self.turns[kind].by(last) + at.to_strip - at.caught
                self.model.add(self.stripped[kind].by(last) >= must)

    def _rack(self) -> None:
        """At the end of no slot are more blocks on the rack than it has places."""
        gone = self.latest(self.when.leave_slot)
        on_rack = sorted(self.state.on_rack(self.problem))
        still = sum(places for _, places in on_rack)
        for slot in self.slots:
            while on_rack and on_rack[0][0] <= self.when.slots.all[slot].last:
                still -= on_rack.pop(0)[1]
            there = sum((self.racked[kind].between(gone[slot] + 1, slot) for kind in self.kinds), start=0)
            self.model.add(there <= self.problem.places - still)

    def _people(self) -> None:
        """The work that ends in a stretch of a day is no more than its people have time for."""
        for day in self.days:
            of_day = self.slots_of(day)
            for first in of_day:
                for last in range(first, of_day[-1] + 1):
                    minutes = person_minutes(self.problem, self.when.slots.stretch(first, last))
                    self.model.add(
                        self._work(first, last, whole_day=first == of_day[0] and last == of_day[-1]) <= 60 * minutes
                    )

    def _work(self, first: int, last: int, *, whole_day: bool) -> Expression:
        """Person-seconds of what ends in these slots; the wash and the move may end later, but not tomorrow."""
        work: Expression = 0
        for kind, mould in enumerate(self.problem.moulds):
            work += 60 * mould.strip * self.stripped[kind].between(first, last)
            work += 60 * mould.clean * self.cleaned[kind].between(first, last)
            if kind in self.bare:
                work += 60 * mould.sides * self.bare[kind].between(first, last)
            if whole_day:
                work += self.problem.move_seconds * self.racked[kind].between(first, last)
        for index, maker in enumerate(self.limits.mixing.makers):
            length = maker.shortest.length if whole_day else maker.shortest.to_poured
            numbers = [self.batches[s][index] for s in range(first, last + 1) if index in self.batches.get(s, {})]
            work += 60 * maker.crew * length * sum(numbers)
        return work

    # what is wanted

    def n_batches(self) -> Expression:
        """Batches of the whole plan, those poured already included."""
        return len(self.state.batches) + sum(n for slot in self.pour_slots for n in self.batches[slot].values())

    def cement(self) -> Expression:
        """Cement of the whole plan."""
        return self.state.cement() + sum(n for slot in self.pour_slots for n in self.cement_in[slot].values())

    def early(self) -> Expression:
        """Small when blocks are poured and moulds stripped early, pours first."""

        def summed(numbers: Iterable[tuple[int, cp_model.IntVar]]) -> Expression:
            return sum(((self.when.slots.all[slot].day - self.first) * n for slot, n in numbers), start=0)

        poured = summed((slot, n) for kind in self.kinds for slot, n in self.cast[kind].of.items())
        stripped = summed((slot, n) for kind in self.kinds for slot, n in self.stripped[kind].of.items())
        return 4 * poured + stripped
