"""What is poured today: the batches, the blocks of each that go to each kind of mould, and the turns that begin."""

from __future__ import annotations

from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.board import Board, Tasks
from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.cubes import deal, due
from blockrun.optimiser.cubes_held import hold_cubes
from blockrun.optimiser.engine import Expression, Value
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.state import Batch, Turn

_BLOCK_NOT_POURED = 100_000
_TURN_POURED_LATE = 10_000
_FILLED_FROM_ONE_MORE = 50


class Fillings:
    """Batches and new turns on a day's board."""

    def __init__(self, board: Board, limits: Limits, asked: Asked) -> None:
        self.board, self.limits, self.asked = board, limits, asked
        self.model, self.problem = board.model, board.problem
        self._batches()
        self._new_turns()

    def _batches(self) -> None:
        """A batch runs in one go, one at a time in its mixer, one foam at a time in the yard."""
        self.poured: list[cp_model.IntVar] = []
        self.batch_start: list[cp_model.IntVar] = []
        mixers: dict[int, list[cp_model.IntervalVar]] = {}
        foams: list[cp_model.IntervalVar] = []
        for index, filling in enumerate(self.asked.batches):
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
            worth = sum(count * self.asked.worth.get(block, 1) for block, count in filling.content.items())
            self.board.price += worth * (start + load.to_poured - self.board.opening)
        for runs in mixers.values():
            self.model.add_no_overlap(runs)
        if len(mixers) > 1:
            self.model.add_no_overlap(foams)
        self._equal_batches_in_order()
        self._cubes()

    def _cubes(self) -> None:
        """Each lot that the batches poured begin gives a set of test cubes."""
        self.due = due(self.problem, self.board.state)
        for mix, lots in self.due.items():
            loads = [self.problem.loads[filling.load] for filling in self.asked.batches]
            of_mix = [index for index, load in enumerate(loads) if load.mix == mix]
            cement = sum(loads[index].cement * self.poured[index] for index in of_mix)
            sets = sum(self.asked.batches[index].cubes * self.poured[index] for index in of_mix)
            hold_cubes(self.model, lots, cement, sum(loads[index].cement for index in of_mix), sets)

    def _equal_batches_in_order(self) -> None:
        """Batches that are alike in all start in the order they are listed."""
        fillings = self.asked.batches
        for index, filling in enumerate(fillings):
            before = max((i for i in range(index) if fillings[i] == filling), default=None)
            if before is not None:
                self.model.add(self.batch_start[before] <= self.batch_start[index])
                self.model.add_implication(self.poured[index], self.poured[before])

    def _pour_from(self, index: int) -> Expression:
        return self.batch_start[index] + self.problem.loads[self.asked.batches[index].load].to_pour

    def _pour_to(self, index: int) -> Expression:
        return self.batch_start[index] + self.problem.loads[self.asked.batches[index].load].to_poured

    def _new_turns(self) -> None:
        """Every block poured has a cavity, in a mould that stands free when its batch is poured."""
        self.new: list[tuple[int, dict[int, cp_model.IntVar], Tasks]] = []
        self.turn_poured: dict[int, list[cp_model.IntVar]] = {k: [] for k in range(len(self.problem.moulds))}
        shares = self._shares()
        for kind, turns in sorted(self.asked.turns.items()):
            per_batch = {j: share for (j, k), share in shares.items() if k == kind}
            starts = [self._new_turn(kind, turn, per_batch) for turn in range(turns)]
            for batch, share in per_batch.items():
                self.model.add(sum(fills.get(batch, 0) for k, fills, _ in self.new if k == kind) == share)
            for before, after in pairwise(starts):
                self.model.add(before <= after)
        for kind, minute, turns in self.asked.early:
            self._poured_by(kind, minute - self.board.midnight, turns)

    def _shares(self) -> dict[tuple[int, int], Expression]:
        """Blocks of each batch that go to each mould kind; none where the batch is not poured."""
        shares: dict[tuple[int, int], Expression] = {}
        self.split: dict[tuple[int, int, int], cp_model.IntVar] = {}
        for (kind, block), count in self.asked.blocks.items():
            parts = []
            for index, filling in enumerate(self.asked.batches):
                if filling.content.get(block):
                    most = min(count, filling.content[block])
                    part = self.model.new_int_var(0, most, f"{block} of batch {index} in {kind}")
                    self.split[index, kind, block] = part
                    parts.append(part)
                    shares[index, kind] = shares.get((index, kind), 0) + part
            self.model.add(sum(parts) <= count)
        for index, filling in enumerate(self.asked.batches):
            for block, count in filling.content.items():
                of_batch = sum(part for (j, _, b), part in self.split.items() if j == index and b == block)
                self.model.add(of_batch <= count * self.poured[index])
                self.board.price += _BLOCK_NOT_POURED * self.asked.worth.get(block, 1) * (count - of_batch)
            parts = [part for (j, _, _), part in self.split.items() if j == index]
            if filling.content:  # else it is for test cubes alone
                self.model.add(sum(parts) >= self.poured[index])
        return shares

    def _new_turn(self, kind: int, turn: int, per_batch: dict[int, Expression]) -> cp_model.IntVar:
        mould = self.problem.moulds[kind]
        name = f"turn {kind} {turn}"
        start, poured = self.board.minute(f"{name} start"), self.board.minute(f"{name} poured")
        last = self.limits.reach.last_poured(kind, self.board.state.day) - self.board.midnight
        fills: dict[int, cp_model.IntVar] = {}
        for index in per_batch:
            filling = self.asked.batches[index]
            fill = self.model.new_int_var(0, min(self.problem.fillable[kind], filling.blocks), f"{name} from {index}")
            used = self.model.new_bool_var(f"{name} uses {index}")
            self.model.add(fill >= 1).only_enforce_if(used)
            self.model.add(fill == 0).only_enforce_if(used.negated())
            self.model.add(start <= self._pour_from(index)).only_enforce_if(used)
            self.model.add(poured >= self._pour_to(index)).only_enforce_if(used)
            self.model.add(self._pour_to(index) <= last).only_enforce_if(used)
            self.board.price += _FILLED_FROM_ONE_MORE * used
            fills[index] = fill
        self.model.add(sum(fills.values()) <= self.problem.fillable[kind])
        self.turn_poured[kind].append(poured)
        tasks = self._tasks_of_new(kind, poured, name)
        if self.limits.frost.comes_overnight(self.board.state.day, self.board.day.number):
            self._stripped_today(tasks, fills, name)
        self.new.append((kind, fills, tasks))
        self.board.stands(kind, start, tasks.clean, name)
        if mould.bases:
            self.board.holds_sides(kind, start, tasks.sides, name)
        return start

    def _stripped_today(self, tasks: Tasks, fills: dict[int, cp_model.IntVar], name: str) -> None:
        """A turn that is used at all is stripped before the night."""
        strip = tasks.strip
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
        self.board.price += _TURN_POURED_LATE * short

    def _tasks_of_new(self, kind: int, poured: cp_model.IntVar, name: str) -> Tasks:
        """Sides, strip and clean of a turn begun today, where warm air ripens it the same day.

        Where the stack is small it is stripped tomorrow at the soonest: what it holds is known only then.
        """
        mould, problem = self.problem.moulds[kind], self.problem
        sides = strip = clean = None
        table = problem.ripe_sides[kind]
        if mould.bases and table is not None:
            sides = self.board.once_ripe(table, poured, mould.sides, f"{name} sides")
        blocks = problem.most_blocks(kind)
        strip_length = mould.strip + problem.move[blocks]
        if problem.stack is None and (not mould.bases or sides is not None):
            strip = self.board.once_ripe(problem.ripe_strip[kind], poured, strip_length, f"{name} strip")
        if strip is not None:
            clean = self.board.task(f"{name} clean", mould.clean)
            self.board.after_strip(sides, strip, clean, mould.strip, blocks, f"{name}")
        return Tasks(sides, strip, clean)

    # the answer

    def read(self, value: Value) -> list[Batch | None]:
        """Batches of an answer, in the order they were asked for; ``None`` where one is not made."""
        sets = [filling.cubes for filling in self.asked.batches]
        read = [
            self._batch(index, sets[index], value) if value(done) else None for index, done in enumerate(self.poured)
        ]
        while self.due and (over := self._over(read)) is not None:
            sets[over] -= 1
            read[over] = self._batch(over, sets[over], value)
        deal(self.problem, self.due, [batch for batch in read if batch is not None])
        return read

    def _over(self, batches: list[Batch | None]) -> int | None:
        """The last batch that gives a set of its mix beyond those due, for less was poured than was asked for."""
        made = [(index, batch) for index, batch in enumerate(batches) if batch is not None]
        for mix, lots in self.due.items():
            of_mix = [(index, batch) for index, batch in made if batch.load.mix == mix]
            due_now = lots.fewest(sum(batch.load.cement for _, batch in of_mix))
            if sum(batch.cubes for _, batch in of_mix) > due_now:
                return max((batch.start, index) for index, batch in of_mix if batch.cubes)[1]
        return None

    def _batch(self, index: int, sets: int, value: Value) -> Batch | None:
        """A batch with what is poured from it; made up smaller where that is enough, to end at the same minute."""
        filling, start = self.asked.batches[index], self.board.midnight + value(self.batch_start[index])
        content: dict[int, int] = {}
        for (j, _, block), part in self.split.items():
            if j == index and value(part):
                content[block] = content.get(block, 0) + value(part)
        load = self.problem.loads[filling.load]
        if not content and not sets:
            return None
        volume = sum(n * self.problem.castings[number].volume for number, n in content.items())
        if self.problem.cubes is not None:
            volume += sets * self.problem.cubes.volume
        smaller = next(
            of for of in self.problem.loads if (of.mixer, of.mix) == (load.mixer, load.mix) and of.room >= volume
        )
        later, day = start + load.to_poured - smaller.to_poured, self.board.day
        too_hot = any(hot <= later < cool for hot, cool in day.too_hot(smaller))
        if too_hot or later + smaller.slurry > day.last_foam:
            return Batch(load, start, content, sets)
        return Batch(smaller, later, content, sets)

    def begun(self, batches: list[Batch | None], value: Value) -> list[Turn]:
        """Turns of an answer that begin today."""
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
        for kind, fills, tasks in self.new:
            poured: list[tuple[int, Batch]] = []
            for index, fill in fills.items():
                batch = batches[index]
                if batch is not None:
                    poured += [(waiting[index, kind].pop(0), batch) for _ in range(value(fill))]
            if poured:
                blocks = sum(self.problem.castings[number].blocks for number, _ in poured)
                turn = Turn(kind, sorted(poured, key=lambda fill: (fill[1].start, fill[0])), blocks=blocks)
                self.board.finish(turn, tasks, value)
                begun.append(turn)
        return begun
