"""One day by the minute: which mould each batch fills, and when everybody does what.

The day's batches are given; the model places them and the stripping, moving and cleaning of the
turns that are ripe, within the working windows, the people, the mixers, the generator, the moulds
and bases, and the rack. What does not fit stays for later, at a price.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.board import Board, Task
from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.engine import Effort, Expression, hint, run
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.pack import Filling
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, Span, State, Turn

_BLOCK_NOT_POURED = 100_000
_TURN_NOT_STRIPPED = 5_000
_MOULD_NOT_FREED = 10_000
_TURN_POURED_LATE = 10_000
_FILLED_FROM_ONE_MORE = 50

# measured on the days of the demo: no linear relaxation and no probing give far better days in the same work;
# use_dynamic_precedence_in_disjunctive would too, but ends the whole process on some days (ortools 9.15)
_SEARCH: dict[str, object] = {
    "linearization_level": 0,
    "cp_model_probing_level": 0,
    "use_overload_checker_in_cumulative": True,
    "use_timetable_edge_finding_in_cumulative": True,
}

Value = Callable[[Expression], int]


@dataclass(frozen=True)
class DayOrder:
    """What a day is asked to do.

    ``blocks`` by (mould, format), ``turns`` by mould, ``batches`` as packed, ``strips`` how many
    turns of each mould to strip if it can be (``None``: all that are ripe), ``early`` how many turns
    of a mould had better be poured by a minute: (mould, minute, turns), ``chores`` whether the chores
    are done today; ``worth`` weighs a block of each format, 1 where it is not named.
    """

    blocks: dict[tuple[int, int], int] = field(default_factory=dict)
    turns: dict[int, int] = field(default_factory=dict)
    batches: tuple[Filling, ...] = ()
    strips: dict[int, int] | None = None
    early: tuple[tuple[int, int, int], ...] = ()
    chores: bool = True
    worth: dict[int, int] = field(default_factory=dict)


class DayModel:
    """Variables and rules of one day; all minutes count from its midnight."""

    def __init__(self, problem: Problem, limits: Limits, state: State, order: DayOrder) -> None:
        self.problem, self.limits, self.state, self.order = problem, limits, state, order
        self.board = Board(problem, state)
        self.model = self.board.model
        self.impossible = False
        self.price: Expression = 0
        self._batches()
        self._new_turns()
        self._open_turns()
        self.board.share(order.chores)
        self.model.minimize(self.price)

    # batches

    def _batches(self) -> None:
        """A batch runs in one go, one at a time in its mixer, one foam at a time in the yard."""
        self.poured: list[cp_model.IntVar] = []
        self.batch_start: list[cp_model.IntVar] = []
        mixers: dict[int, list[cp_model.IntervalVar]] = {}
        foams: list[cp_model.IntervalVar] = []
        for index, filling in enumerate(self.order.batches):
            load = self.problem.loads[filling.load]
            spans = [[a - self.board.midnight, b - self.board.midnight] for a, b in batch_starts(self.board.day, load)]
            done = self.model.new_bool_var(f"batch {index} done")
            domain = cp_model.Domain.from_intervals(spans or [[self.board.opening, self.board.opening]])
            start = self.model.new_int_var_from_domain(domain, f"batch {index}")
            if not spans:
                self.model.add(done == 0)
            run_ = self.model.new_optional_fixed_size_interval_var(start, load.length, done, f"batch {index} runs")
            mixers.setdefault(load.mixer, []).append(run_)
            self.board.people.append((run_, load.crew))
            foams.append(
                self.model.new_optional_fixed_size_interval_var(start + load.slurry, load.foam, done, f"foam {index}")
            )
            self.poured.append(done)
            self.batch_start.append(start)
            worth = sum(count * self.order.worth.get(block, 1) for block, count in filling.content.items())
            self.price += worth * (start + load.to_poured - self.board.opening)
        for runs in mixers.values():
            self.model.add_no_overlap(runs)
        if len(mixers) > 1:
            self.model.add_no_overlap(foams)
        self._equal_batches_in_order()

    def _equal_batches_in_order(self) -> None:
        """Batches that are alike in all start in the order they are listed."""
        fillings = self.order.batches
        for index, filling in enumerate(fillings):
            twin = next((i for i in range(index) if fillings[i] == filling), None)
            if twin is not None:
                before = max(i for i in range(index) if fillings[i] == filling)
                self.model.add(self.batch_start[before] <= self.batch_start[index])
                self.model.add_implication(self.poured[index], self.poured[before])

    def _pour_from(self, index: int) -> Expression:
        return self.batch_start[index] + self.problem.loads[self.order.batches[index].load].to_pour

    def _pour_to(self, index: int) -> Expression:
        return self.batch_start[index] + self.problem.loads[self.order.batches[index].load].to_poured

    # turns that begin today

    def _new_turns(self) -> None:
        """Every block poured has a cavity, in a mould that stands free when its batch is poured."""
        self.new: list[tuple[int, dict[int, cp_model.IntVar]]] = []
        self.new_tasks: list[tuple[Task | None, Task | None, Task | None]] = []
        self.turn_poured: dict[int, list[cp_model.IntVar]] = {k: [] for k in range(len(self.problem.moulds))}
        shares = self._shares()
        for kind, turns in sorted(self.order.turns.items()):
            per_batch = {j: share for (j, k), share in shares.items() if k == kind}
            starts = [self._new_turn(kind, turn, per_batch) for turn in range(turns)]
            for batch, share in per_batch.items():
                self.model.add(sum(fills.get(batch, 0) for k, fills in self.new if k == kind) == share)
            for before, after in pairwise(starts):
                self.model.add(before <= after)
        for kind, minute, turns in self.order.early:
            self._poured_by(kind, minute - self.board.midnight, turns)

    def _shares(self) -> dict[tuple[int, int], Expression]:
        """Blocks of each batch that go to each mould kind; none where the batch is not poured."""
        shares: dict[tuple[int, int], Expression] = {}
        self.split: dict[tuple[int, int, int], cp_model.IntVar] = {}
        for (kind, block), count in self.order.blocks.items():
            parts = []
            for index, filling in enumerate(self.order.batches):
                if filling.content.get(block):
                    most = min(count, filling.content[block])
                    part = self.model.new_int_var(0, most, f"{block} of batch {index} in {kind}")
                    self.split[index, kind, block] = part
                    parts.append(part)
                    shares[index, kind] = shares.get((index, kind), 0) + part
            self.model.add(sum(parts) <= count)
        for index, filling in enumerate(self.order.batches):
            for block, count in filling.content.items():
                of_batch = sum(part for (j, _, b), part in self.split.items() if j == index and b == block)
                self.model.add(of_batch <= count * self.poured[index])
                self.price += _BLOCK_NOT_POURED * self.order.worth.get(block, 1) * (count - of_batch)
            parts = [part for (j, _, _), part in self.split.items() if j == index]
            self.model.add(sum(parts) >= self.poured[index])
        return shares

    def _new_turn(self, kind: int, turn: int, per_batch: dict[int, Expression]) -> cp_model.IntVar:
        mould = self.problem.moulds[kind]
        name = f"turn {kind} {turn}"
        start, poured = self.board.minute(f"{name} start"), self.board.minute(f"{name} poured")
        last = self.limits.reach.last_poured(kind, self.state.day) - self.board.midnight
        fills: dict[int, cp_model.IntVar] = {}
        for index in per_batch:
            filling = self.order.batches[index]
            fill = self.model.new_int_var(0, min(mould.cavities, filling.blocks), f"{name} from {index}")
            used = self.model.new_bool_var(f"{name} uses {index}")
            self.model.add(fill >= 1).only_enforce_if(used)
            self.model.add(fill == 0).only_enforce_if(used.negated())
            self.model.add(start <= self._pour_from(index)).only_enforce_if(used)
            self.model.add(poured >= self._pour_to(index)).only_enforce_if(used)
            self.model.add(self._pour_to(index) <= last).only_enforce_if(used)
            self.price += _FILLED_FROM_ONE_MORE * used
            fills[index] = fill
        self.model.add(sum(fills.values()) <= mould.cavities)
        self.new.append((kind, fills))
        self.turn_poured[kind].append(poured)
        tasks = self._tasks_of_new(kind, poured, name)
        if self.limits.frost.comes_overnight(self.state.day, self.board.day.number):
            self._stripped_today(tasks, fills, name)
        self.new_tasks.append(tasks)
        sides, _, clean = tasks
        self.board.stands(kind, start, clean, name)
        if mould.bases:
            self.board.holds_sides(kind, start, sides, name)
        return start

    def _stripped_today(
        self, tasks: tuple[Task | None, Task | None, Task | None], fills: dict[int, cp_model.IntVar], name: str
    ) -> None:
        strip = tasks[1]
        used = self.model.new_bool_var(f"{name} used")
        self.model.add(sum(fills.values()) == 0).only_enforce_if(used.negated())
        self.model.add(used == 0) if strip is None else self.model.add_implication(used, strip.done)

    def _poured_by(self, kind: int, minute: int, turns: int) -> None:
        """Falling short of the turns poured by a minute has its price."""
        in_time = []
        for number, poured in enumerate(self.turn_poured[kind]):
            early = self.model.new_bool_var(f"turn {kind} {number} by {minute}")
            self.model.add(poured <= minute).only_enforce_if(early)
            in_time.append(early)
        short = self.model.new_int_var(0, turns, f"turns {kind} short by {minute}")
        self.model.add(short >= turns - sum(in_time))
        self.price += _TURN_POURED_LATE * short

    def _tasks_of_new(
        self, kind: int, poured: cp_model.IntVar, name: str
    ) -> tuple[Task | None, Task | None, Task | None]:
        """Sides, strip and clean of a turn begun today, where warm air ripens it the same day."""
        mould, problem = self.problem.moulds[kind], self.problem
        sides = strip = clean = None
        table = problem.ripe_sides[kind]
        if mould.bases and table is not None:
            sides = self.board.once_ripe(table, poured, mould.sides, f"{name} sides")
        strip_length = mould.strip + problem.move[mould.cavities]
        if not mould.bases or sides is not None:
            strip = self.board.once_ripe(problem.ripe_strip, poured, strip_length, f"{name} strip")
        if strip is not None:
            clean = self.board.task(f"{name} clean", mould.clean)
            self.board.after_strip(sides, strip, clean, mould.strip, mould.cavities, f"{name}")
        return sides, strip, clean

    # turns that stand already

    def _open_turns(self) -> None:
        """Ripe turns lose their sides, are stripped, moved and cleaned, in this order, if there is time."""
        self.old: list[tuple[Turn, Task | None, Task | None, Task | None]] = []
        frost = self.limits.frost
        for index, turn in enumerate(sorted(self.state.open_turns, key=lambda turn: (turn.mould, turn.poured))):
            mould, name = self.problem.moulds[turn.mould], f"old {index}"
            sides = strip = clean = None
            on_sides = bool(mould.bases) and turn.sides is None and turn.strip is None
            if on_sides:
                table = self.problem.ripe_sides[turn.mould]
                assert table is not None
                sides = self.board.task(f"{name} sides", mould.sides, self._ripe(int(table[turn.poured])))
                self.board.holds_sides(turn.mould, self.board.opening, sides, name)
            if turn.strip is None and (not on_sides or sides is not None):
                ripe = self._ripe(int(self.problem.ripe_strip[turn.poured]))
                strip = self.board.task(f"{name} strip", mould.strip + self.problem.move[turn.blocks], ripe)
            if turn.strip is not None or strip is not None:
                clean = self.board.task(f"{name} clean", mould.clean)
            must = turn.strip is None and frost.comes_overnight(self.state.day, turn.start // MINUTES_A_DAY)
            if strip is not None:
                self.board.after_strip(sides, strip, clean, mould.strip, turn.blocks, name)
                if must:
                    self.model.add(strip.done == 1)
                elif frost.is_near(self.state.day, turn.start // MINUTES_A_DAY):
                    self.price += 20 * _TURN_NOT_STRIPPED * (1 - strip.done)
            elif must:
                self.model.add_bool_or([])
            self.board.stands(turn.mould, self.board.opening, clean, name)
            self.old.append((turn, sides, strip, clean))
            self.price += sum(_MOULD_NOT_FREED * (1 - task.done) for task in (sides, clean) if task is not None)
            self.price += sum(task.start for task in (sides, strip, clean) if task is not None)
        self._equal_turns_in_order()
        self._strips_asked()

    def _ripe(self, minute: int) -> int:
        return MINUTES_A_DAY * 2 if minute < 0 else max(0, minute - self.board.midnight)

    def _equal_turns_in_order(self) -> None:
        """Of turns of one mould with as many blocks, the one poured first is stripped first."""
        for (turn, _, strip, _), (later, _, later_strip, _) in pairwise(self.old):
            alike = turn.mould == later.mould and turn.blocks == later.blocks
            if alike and strip is not None and later_strip is not None:
                self.model.add_implication(later_strip.done, strip.done)
                self.model.add(strip.start <= later_strip.start).only_enforce_if(later_strip.done)

    def _strips_asked(self) -> None:
        """Falling short of the turns to strip has its price."""
        for kind in range(len(self.problem.moulds)):
            strips = [strip.done for turn, _, strip, _ in self.old if turn.mould == kind and strip is not None]
            asked = len(strips) if self.order.strips is None else min(len(strips), self.order.strips.get(kind, 0))
            if asked:
                short = self.model.new_int_var(0, asked, f"strips short {kind}")
                self.model.add(short >= asked - sum(strips))
                self.price += _TURN_NOT_STRIPPED * self._worth_of(kind) * short

    def _worth_of(self, kind: int) -> int:
        """Weight of the most wanted block a kind of mould casts."""
        left = self.state.left_to_pour(self.problem)
        return max((self.order.worth.get(b, 1) for b in self.problem.moulds[kind].casts if left[b]), default=1)

    # the answer

    def solve(self, effort: Effort) -> State | None:
        """The state at the end of the day; ``None`` when none was found: see ``impossible``."""
        answer = run(self.model, effort, **_SEARCH)
        self.impossible = answer.impossible
        if not answer.found:
            return None
        hint(self.model, answer)
        return self._state(answer.value)

    def _state(self, value: Value) -> State:
        after = State(self.state.day + 1, list(self.state.turns), list(self.state.batches))
        batches = [self._batch(index, value) if value(done) else None for index, done in enumerate(self.poured)]
        after.batches += sorted(
            (b for b in batches if b is not None), key=lambda batch: (batch.start, batch.load.mixer)
        )
        for turn, sides, strip, clean in self.old:
            moved = Turn(turn.mould, turn.fills, turn.sides, turn.strip, turn.clean)
            self._finish(moved, sides, strip, clean, value)
            after.turns[after.turns.index(turn)] = moved
        after.turns += self._begun(batches, value)
        return after

    def _batch(self, index: int, value: Value) -> Batch:
        """A batch with what is poured from it; made up smaller where that is enough, to end at the same minute."""
        filling, start = self.order.batches[index], self.board.midnight + value(self.batch_start[index])
        content: dict[int, int] = {}
        for (j, _, block), part in self.split.items():
            if j == index and value(part):
                content[block] = content.get(block, 0) + value(part)
        load = self.problem.loads[filling.load]
        volume = sum(n * self.problem.formats[block].volume for block, n in content.items())
        smaller = next(
            of for of in self.problem.loads if (of.mixer, of.mix) == (load.mixer, load.mix) and of.room >= volume
        )
        later = start + load.to_poured - smaller.to_poured
        if later + smaller.slurry > self.board.day.last_foam:
            return Batch(load, start, content)
        return Batch(smaller, later, content)

    def _finish(self, turn: Turn, sides: Task | None, strip: Task | None, clean: Task | None, value: Value) -> None:
        mould = self.problem.moulds[turn.mould]
        if sides is not None and value(sides.done):
            turn.sides = self._span(value(sides.start), mould.sides)
        if strip is not None and value(strip.done):
            turn.strip = self._span(value(strip.start), mould.strip)
        if clean is not None and value(clean.done):
            turn.clean = self._span(value(clean.start), mould.clean)

    def _span(self, start: int, length: int) -> Span:
        return Span(self.board.midnight + start, self.board.midnight + start + length)

    def _begun(self, batches: list[Batch | None], value: Value) -> list[Turn]:
        waiting = {
            (index, kind): [
                block
                for (j, k, block), part in self.split.items()
                if (j, k) == (index, kind)
                for _ in range(value(part))
            ]
            for index, kind, _ in self.split
        }
        begun = []
        for (kind, fills), tasks in zip(self.new, self.new_tasks, strict=True):
            poured: list[tuple[int, Batch]] = []
            for index, fill in fills.items():
                batch = batches[index]
                if batch is not None:
                    poured += [(waiting[index, kind].pop(0), batch) for _ in range(value(fill))]
            if poured:
                turn = Turn(kind, sorted(poured, key=lambda fill: (fill[1].start, fill[0])))
                self._finish(turn, *tasks, value)
                begun.append(turn)
        return begun
