"""The rules of the textbook model that batches and fills share, a method each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Any

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from tests.bench.rivals.slots import Slots
from tests.bench.rivals.textbook_variables import BatchVars, TurnVars, Var, Variables


class Textbook(Variables):
    """One interval a fill, a batch and a task of the crew; cumulative resources."""

    def __init__(self, problem: Problem, slots: Slots, late: int, last_ready: int) -> None:
        super().__init__(problem, last_ready)
        self.slots, self.late_known = slots, late
        self.ready_by = cache(self._ready)
        self.batches = [self.batch(slot) for slot in slots.batches]
        self.turns = [self.turn(slot) for slot in slots.turns]
        self._poured()
        self._moulds()
        self._crew()
        self._mixers()
        self._rack()
        self._frost()
        self._stock()
        self._equal_things_in_order()
        finish = self.model.new_int_var(0, len(problem.days) - 1, "")
        for batch in self.batches:
            self.model.add(finish >= batch.day).only_enforce_if(batch.present)
        cement = [problem.loads[n].cement * chosen for batch in self.batches for n, chosen in batch.loads.items()]
        self.aims = (self._late(), finish, sum(batch.present for batch in self.batches), sum(cement))

    # what is poured

    def _poured(self) -> None:
        """Each casting of a fill is poured from one batch of its day; batches hold it; all that is ordered is cast."""
        problem, model = self.problem, self.model
        self.filled: dict[tuple[int, int, int], Var] = {}
        self.uses: dict[tuple[int, int], Var] = {}
        for t, casting, b in self.slots.pairs:
            self.filled[t, casting, b] = self.up_to(problem.moulds[self.turns[t].slot.kind].cavities)
            if (t, b) not in self.uses:
                self.uses[t, b] = model.new_bool_var("")
        of_pair, of_turn, of_batch = defaultdict(list), defaultdict(list), defaultdict(list)
        self.of_format: dict[int, dict[int, list[Var]]] = defaultdict(lambda: defaultdict(list))
        for (t, casting, b), number in self.filled.items():
            of_pair[t, b].append(number)
            of_turn[t].append((casting, number))
            of_batch[b].append(problem.castings[casting].volume * number)
            for block, each in problem.castings[casting].gives:
                self.of_format[block][t].append(each * number)
        for t, turn in enumerate(self.turns):
            cavities = problem.moulds[turn.slot.kind].cavities
            model.add(sum(n for _, n in of_turn[t]) <= cavities * turn.present)
            model.add(sum(n for _, n in of_turn[t]) >= turn.present)
            model.add(turn.blocks == sum(problem.castings[c].blocks * n for c, n in of_turn[t]))
        for (t, b), used in self.uses.items():
            self._poured_from(self.turns[t], self.batches[b], used)
            model.add(sum(of_pair[t, b]) <= problem.moulds[self.turns[t].slot.kind].cavities * used)
            model.add(sum(of_pair[t, b]) >= used)
        kept = problem.cubes.volume if problem.cubes else 0
        for b, batch in enumerate(self.batches):
            room = sum(problem.loads[n].room * chosen for n, chosen in batch.loads.items())
            model.add(sum(of_batch[b]) + kept * batch.present <= room)
        for block, of in enumerate(problem.formats):
            cast = sum(n for numbers in self.of_format[block].values() for n in numbers)
            model.add(cast >= of.demand if block in problem.sawn else cast == of.demand)

    def _poured_from(self, turn: TurnVars, batch: BatchVars, used: Var) -> None:
        """A fill begins before its batches pour, and is ripe after the last of them."""
        model, kind = self.model, turn.slot.kind
        model.add_implication(used, batch.present)
        model.add(turn.start <= batch.pour_from).only_enforce_if(used)
        model.add(turn.poured >= batch.pour_to).only_enforce_if(used)
        model.add(turn.day == batch.day).only_enforce_if(used)
        model.add(turn.strip >= batch.ripe[self.problem.ripe_strip[kind].tobytes()]).only_enforce_if(used)
        table = self.problem.ripe_sides[kind]
        if turn.sides is not None and table is not None:
            model.add(turn.sides >= batch.ripe[table.tobytes()]).only_enforce_if(used)

    # what is shared

    def _lasting(self, start: Any, end: Any, present: Var) -> Var:
        size = self.up_to(2 * self.end)
        return self.model.new_optional_interval_var(start, size, end, present, "")

    def _moulds(self) -> None:
        """No more fills stand in moulds, in sides and on bases than there are."""
        held: dict[tuple[int, bool], list[Var]] = defaultdict(list)
        for turn in self.turns:
            mould = self.problem.moulds[turn.slot.kind]
            held[turn.slot.kind, True].append(self._lasting(turn.start, turn.clean + mould.clean, turn.present))
            if turn.sides is not None:
                held[turn.slot.kind, False].append(self._lasting(turn.start, turn.sides + mould.sides, turn.present))
        for (kind, whole), intervals in held.items():
            mould = self.problem.moulds[kind]
            units = mould.bases if whole and mould.bases else mould.count
            self.model.add_cumulative(intervals, [1] * len(intervals), units)

    def _crew(self) -> None:
        """No more people are busy than there are; nothing runs on into a break."""
        model, most = self.model, max(day.people for day in self.problem.days)
        intervals, people = [], []
        for batch in self.batches:
            crew = next(self.problem.loads[n].crew for n in batch.loads)
            intervals.append(self._lasting(batch.start, batch.end, batch.present))
            people.append(crew)
        for turn in self.turns:
            mould = self.problem.moulds[turn.slot.kind]
            moved = self.within([(opens + 1, closes) for opens, closes in self.problem.windows])
            model.add(moved == turn.strip + mould.strip + turn.move)
            intervals.append(self._lasting(turn.strip, moved, turn.present))
            for start, length in ((turn.clean, mould.clean), (turn.sides, mould.sides)):
                if start is not None and length:
                    intervals.append(model.new_optional_fixed_size_interval_var(start, length, turn.present, ""))
        people += [1] * (len(intervals) - len(people))
        for start, end, away in self._away(most):
            intervals.append(model.new_fixed_size_interval_var(start, end - start, ""))
            people.append(away)
        model.add_cumulative(intervals, people, most)

    def _away(self, most: int) -> Iterator[tuple[int, int, int]]:
        for number, day in enumerate(self.problem.days):
            if day.people < most:
                yield day.opens, day.closes, most - day.people
            for chore in day.chores if number <= self.slots.last else ():
                yield chore.start, chore.end, chore.people
            for (_, ends), (begins, _) in pairwise(day.windows):
                yield ends, begins, day.people

    def _mixers(self) -> None:
        """One batch at a time in a mixer, one foam at a time."""
        for mixer in range(self.problem.n_mixers):
            runs = [self._lasting(b.start, b.end, b.present) for b in self.batches if b.slot.mixer == mixer]
            self.model.add_no_overlap(runs)
        if self.problem.n_mixers > 1:
            slurry = {load.mixer: load.slurry for load in self.problem.loads}
            foams = [self._lasting(b.start + slurry[b.slot.mixer], b.pour_from, b.present) for b in self.batches]
            self.model.add_no_overlap(foams)

    def _rack(self) -> None:
        """Blocks find places from the strip until they leave."""
        stays = [
            self._lasting(turn.strip + self.problem.moulds[turn.slot.kind].strip, turn.leaves, turn.present)
            for turn in self.turns
        ]
        self.model.add_cumulative(stays, [turn.blocks for turn in self.turns], self.problem.places)

    def _frost(self) -> None:
        """A fill is stripped before a frost or poured after it; on days of frost nothing is poured."""
        clear = self.problem.clear_until
        frozen = [day for day in range(self.problem.horizon) if clear[day] < 0]
        for turn in self.turns:
            mould = self.problem.moulds[turn.slot.kind]
            for day in frozen:
                before = self.model.new_bool_var("")
                self.model.add(turn.strip + mould.strip <= MINUTES_A_DAY * day).only_enforce_if(before, turn.present)
                self.model.add(turn.start >= MINUTES_A_DAY * (day + 1)).only_enforce_if(~before, turn.present)

    def _stock(self) -> None:
        """Cement and agent are there: before each delivery no more is used than has come."""
        problem = self.problem
        for supply, unit, each in (
            (problem.cement, 1, [load.cement for load in problem.loads]),
            (problem.agent, 1000, [-(-load.agent // 1000) for load in problem.loads]),
        ):
            until = [day for day, _ in supply.steps[1:]] + [problem.horizon]
            for day in sorted(set(until)):
                first = next((n for n, on in enumerate(problem.days) if on.number >= day), len(problem.days))
                used = []
                for batch in self.batches:
                    if batch.slot.days.stop <= first:
                        used += [each[n] * chosen for n, chosen in batch.loads.items()]
                    elif batch.slot.days.start < first:
                        used += [each[n] * self._before(batch, first, chosen) for n, chosen in batch.loads.items()]
                self.model.add(sum(used) <= supply.by(day - 1) // unit)

    def _before(self, batch: BatchVars, day: int, chosen: Var) -> Var:
        """Whether a load is made before a day; true where it may be."""
        before = self.model.new_bool_var("")
        self.model.add(batch.day >= day).only_enforce_if(~before, chosen)
        return before

    def _equal_things_in_order(self) -> None:
        """Batches of one mixer and mix, and fills of one kind, by their starts; unused ones last."""
        for here, there in pairwise(self.batches):
            if (here.slot.mixer, here.slot.mix) == (there.slot.mixer, there.slot.mix):
                self._in_order(here, there)
        for fill, following in pairwise(self.turns):
            if fill.slot.kind == following.slot.kind:
                self._in_order(fill, following)

    def _in_order(self, here: BatchVars | TurnVars, there: BatchVars | TurnVars) -> None:
        self.model.add_implication(there.present, here.present)
        self.model.add(here.start <= there.start).only_enforce_if(there.present)

    # what is wanted

    def _late(self) -> Any:
        """Blocks needed and not ready, added up over days; where a plan has none late, on the days of need alone."""
        short = []
        for block, of in enumerate(self.problem.formats):
            needs, due = dict(of.needs), 0
            days = range(min(needs), self.last_ready) if needs else range(0)
            for day in days:
                due += needs.get(day, 0)
                if due and (self.late_known or day in needs):
                    behind = self.up_to(due)
                    self.model.add(behind >= due - sum(self._ready_by(block, day)))
                    short.append(behind)
        return sum(short)

    def _ready_by(self, block: int, day: int) -> Iterator[Any]:
        for t, numbers in self.of_format[block].items():
            turn = self.turns[t]
            first = self.problem.days[turn.slot.days.start].number + self.problem.lay_at // MINUTES_A_DAY
            if day >= first:
                there, ready = self.up_to(self.problem.most_blocks(turn.slot.kind)), self.ready_by(t, day)
                self.model.add(there <= sum(numbers))
                self.model.add(there <= self.problem.most_blocks(turn.slot.kind) * ready)
                yield there

    def _ready(self, t: int, day: int) -> Var:
        """Whether a fill is ready by a day."""
        ready = self.model.new_bool_var("")
        self.model.add(self.turns[t].ready <= day).only_enforce_if(ready)
        return ready
