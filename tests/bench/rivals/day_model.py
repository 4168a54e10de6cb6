"""The rules of the model of days, a method each: every one relaxes a rule of the minutes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ortools.math_opt.python import mathopt

from blockrun.optimiser.problem import Problem
from tests.bench.rivals.lags import NEVER, Lags, latest

Variable = Any
_SUM = mathopt.fast_sum


class DayCounts:
    """The model over the days of a problem."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.model = problem, mathopt.Model(name="days")
        self.days, self.kinds = range(len(problem.days)), range(len(problem.moulds))
        self.lags = [Lags(problem, kind) for kind in self.kinds]
        self.poured: dict[tuple[int, int, int], Variable] = {}
        self.batch: dict[tuple[int, int], Variable] = {}
        # by kind, then by day
        self.turns: list[list[Variable]] = []
        self.turns_by: list[list[Variable]] = []
        self.stripped: list[list[Variable]] = []
        self.strips_by: list[list[Variable]] = []
        self.cleaned: list[list[Variable]] = []
        self.sides: list[list[Variable]] = []
        self.racked: list[list[Variable]] = []
        self.racked_by: list[list[Variable]] = []
        self._pours()
        for kind in self.kinds:
            self._moulds(kind)
            self._in_moulds(kind)
            self._frost(kind)
        self._rack()
        self._people_and_mixers()
        self._packing()
        self._stock()
        self._asked()
        self.late = self._late()
        self.n_batches = _SUM(list(self.batch.values()))
        self.cement = _SUM([problem.loads[load].cement * n for (load, _), n in self.batch.items()])

    # what is decided

    def _whole(self, most: float) -> Variable:
        return self.model.add_integer_variable(lb=0, ub=most)

    def _totals(self, of: Iterable[Any]) -> list[Variable]:
        """Running totals by the end of each day."""
        totals: list[Variable] = []
        for day, number in enumerate(of):
            totals.append(self.model.add_variable(lb=0))
            before = totals[-2] if day else 0
            self.model.add_linear_constraint(totals[-1] - before - number == 0)
        return totals

    def _each_day(self, most: float) -> list[Variable]:
        return [self._whole(most) for _ in self.days]

    def _pours(self) -> None:
        problem = self.problem
        for kind, mould in enumerate(problem.moulds):
            turns = self._each_day(max(mould.count, mould.bases))
            for day in self.days:
                for casting in sorted(mould.casts):
                    most = mould.cavities * max(mould.count, mould.bases)
                    self.poured[kind, casting, day] = self._whole(most)
                filled = _SUM([self.poured[kind, casting, day] for casting in mould.casts])
                self.model.add_linear_constraint(filled <= mould.cavities * turns[day])
                self.model.add_linear_constraint(filled >= turns[day])
            self.turns.append(turns)
            self.turns_by.append(self._totals(turns))
        for load, of in enumerate(problem.loads):
            for day in self.days:
                minutes = sum(end - start for start, end in problem.days[day].windows)
                self.batch[load, day] = self._whole(minutes // of.length)

    # the rules

    def _moulds(self, kind: int) -> None:
        """A mould is stripped, then cleaned, then free: no sooner than the lags say."""
        mould, lags = self.problem.moulds[kind], self.lags[kind]
        most = 2 * max(mould.count, mould.bases)
        stripped = self._each_day(most)
        cleaned = self._each_day(most)
        sides = self._each_day(most) if mould.bases else []
        self.stripped.append(stripped)
        self.cleaned.append(cleaned)
        self.sides.append(sides)
        turns, strips = self.turns_by[kind], self._totals(stripped)
        cleans, bare = self._totals(cleaned), self._totals(sides)
        self.strips_by.append(strips)
        units = mould.bases or mould.count
        row = self.model.add_linear_constraint
        for day in self.days:
            ripe, again = latest(lags.strip_day, day), latest(lags.base_day, day)
            row(strips[day] <= (turns[ripe] if ripe >= 0 else 0))
            row(cleans[day] <= strips[day])
            row(turns[day] - cleans[day] <= units)
            row(turns[day] - (turns[again] if again >= 0 else 0) <= units)
            if mould.bases:
                round_again = latest(lags.sides_day, day)
                row(bare[day] <= turns[day])
                row(strips[day] <= bare[day])
                row(turns[day] - bare[day] <= mould.count)
                row(turns[day] - (turns[round_again] if round_again >= 0 else 0) <= mould.count)
        again_on = zip(lags.base_day, lags.sides_day if mould.bases else lags.base_day, strict=True)
        assert all(min(again) > day for day, again in enumerate(again_on)), "two turns of a mould in one day"

    def _in_moulds(self, kind: int) -> None:
        """Blocks stay in the moulds of turns not stripped: at most so many as these give, at least one each."""
        most = self.problem.most_blocks(kind)
        racked = self._each_day(2 * most * max(self.problem.moulds[kind].count, self.problem.moulds[kind].bases))
        self.racked.append(racked)
        cast = self._totals(
            [
                _SUM(
                    [
                        self.problem.castings[c].blocks * self.poured[kind, c, day]
                        for c in self.problem.moulds[kind].casts
                    ]
                )
                for day in self.days
            ],
        )
        racked_by = self._totals(racked)
        self.racked_by.append(racked_by)
        stripped, strips_by = self.stripped[kind], self.strips_by[kind]
        row = self.model.add_linear_constraint
        for day in self.days:
            standing = self.turns_by[kind][day] - strips_by[day]
            row(cast[day] - racked_by[day] <= most * standing)
            row(cast[day] - racked_by[day] >= standing)
            row(racked[day] <= most * stripped[day])
            row(racked[day] >= stripped[day])

    def _frost(self, kind: int) -> None:
        """Nothing is poured that would freeze, and before a frost every mould is stripped."""
        clear = self.problem.clear_until
        strips_by = self.strips_by[kind]
        for day in self.days:
            if self.lags[kind].frozen[day]:
                self.turns[kind][day].upper_bound = 0
        for day, on in enumerate(self.problem.days[:-1]):
            next_on = self.problem.days[day + 1]
            if clear[on.number] >= 0 and clear[on.number] < next_on.number:
                self.model.add_linear_constraint(strips_by[day] == self.turns_by[kind][day])

    def _rack(self) -> None:
        """At the end of no day are more blocks on the rack than it has places."""
        problem = self.problem
        quickest = min(mould.strip for mould in problem.moulds)
        leaves = [
            problem.day_index.get(problem.leaves_rack(day.opens + quickest) // 1440, NEVER) for day in problem.days
        ]
        racked_by = self.racked_by
        for day in self.days:
            gone = latest(leaves, day)
            there = [of[day] - (of[gone] if gone >= 0 else 0) for of in racked_by]
            self.model.add_linear_constraint(_SUM(there) <= problem.places)

    def _people_and_mixers(self) -> None:
        """All work of a day is no more than its people have minutes for, and so in each mixer."""
        problem = self.problem
        for day, on in enumerate(problem.days):
            minutes = sum(end - start for start, end in on.windows)
            work = [load.length * load.crew * self.batch[n, day] for n, load in enumerate(problem.loads)]
            for kind, mould in enumerate(problem.moulds):
                work.append(mould.strip * self.stripped[kind][day])
                work.append(mould.clean * self.cleaned[kind][day])
                work.append(problem.move_seconds / 60 * self.racked[kind][day])
                if mould.bases:
                    work.append(mould.sides * self.sides[kind][day])
            self.model.add_linear_constraint(_SUM(work) <= on.people * minutes)
            for mixer in range(problem.n_mixers):
                runs = [load.length * self.batch[n, day] for n, load in enumerate(problem.loads) if load.mixer == mixer]
                self.model.add_linear_constraint(_SUM(runs) <= minutes)

    def _packing(self) -> None:
        """Batches hold what is poured, by volume and by how many of the big ones go in."""
        problem = self.problem
        for mix in problem.mixes:
            castings = [c for c in problem.in_moulds if problem.castings[c].mix == mix]
            loads = [(n, load) for n, load in enumerate(problem.loads) if load.mix == mix]
            volumes = {c: problem.castings[c].volume for c in castings}
            for day in self.days:
                of = {c: _SUM([n for (_, k, d), n in self._on(day) if k == c]) for c in castings}
                litres = [volumes[c] / 1e5 * of[c] for c in castings]
                room = [load.room / 1e5 * self.batch[n, day] for n, load in loads]
                self.model.add_linear_constraint(_SUM(litres) <= _SUM(room))
                for least in sorted(set(volumes.values())):
                    go_in = [load.room // least * self.batch[n, day] for n, load in loads]
                    big = [of[c] for c in castings if volumes[c] >= least]
                    self.model.add_linear_constraint(_SUM(big) <= _SUM(go_in))

    def _on(self, day: int) -> list[tuple[tuple[int, int, int], Variable]]:
        return [
            ((kind, c, day), self.poured[kind, c, day]) for kind in self.kinds for c in self.problem.moulds[kind].casts
        ]

    def _stock(self) -> None:
        """Cement and agent are there before they are used."""
        loads = self.problem.loads
        for supply, each in (
            (self.problem.cement, [load.cement for load in loads]),
            (self.problem.agent, [load.agent / 1000 for load in loads]),
        ):
            scale = 1 if supply is self.problem.cement else 1000
            used = self._totals([_SUM([each[n] * self.batch[n, d] for n in range(len(loads))]) for d in self.days])
            for day, on in enumerate(self.problem.days):
                used[day].upper_bound = supply.by(on.number) / scale

    def _asked(self) -> None:
        """Every block is cast once; of what slabs give there may be more."""
        problem = self.problem
        self.cast_by = []
        for number, block in enumerate(problem.formats):
            by_day = [
                _SUM(
                    [
                        problem.castings[c].of(number) * n
                        for (_, c, _), n in self._on(d)
                        if problem.castings[c].of(number)
                    ]
                )
                for d in self.days
            ]
            by = self._totals(by_day)
            self.cast_by.append(by)
            last = self.model.add_linear_constraint
            last(by[-1] >= block.demand if number in problem.sawn else by[-1] == block.demand)

    def _late(self) -> Any:
        """Blocks needed and not ready yet, added up over calendar days."""
        problem, short = self.problem, []
        ready = [min(self.lags[k].ready_day[d] for k in self.kinds) for d in self.days]
        for number, block in enumerate(problem.formats):
            due, needs = 0, dict(block.needs)
            for on in range(min(needs, default=0), max(max(needs, default=-1), max(ready)) + 1):
                due += needs.get(on, 0)
                have = latest(ready, on)
                if due and have < len(ready) - 1:
                    short.append(self.model.add_variable(lb=0))
                    by = self.cast_by[number][have] if have >= 0 else 0
                    self.model.add_linear_constraint(short[-1] + by >= due)
        return _SUM(short)

    def pour_until(self, last: int) -> list[tuple[Variable, float]]:
        """Allow no pours after a day; what was allowed before, to put back."""
        later = [turns[day] for turns in self.turns for day in self.days if day > last]
        later += [n for (_, day), n in self.batch.items() if day > last]
        was = [(number, number.upper_bound) for number in later]
        for number in later:
            number.upper_bound = 0
        return was
