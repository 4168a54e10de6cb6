"""What the textbook model decides: batches and fills, with the rules that each keeps by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from ortools.sat.python import cp_model

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from tests.bench.rivals.slots import BatchSlot, TurnSlot

STEP: Final = 15
"""Minutes to which pours are rounded up before their ripeness is looked up."""

Var = Any
Spans = list[tuple[int, int]]


@dataclass(eq=False)
class BatchVars:
    """A batch: when, whether, how big."""

    slot: BatchSlot
    present: Var
    start: Var
    day: Var
    loads: dict[int, Var]
    pour_from: Var
    pour_to: Var
    end: Var
    ripe: dict[bytes, Var]


@dataclass(eq=False)
class TurnVars:
    """A fill: when it begins, and when it is emptied."""

    slot: TurnSlot
    present: Var
    start: Var
    day: Var
    poured: Var
    strip: Var
    clean: Var
    sides: Var | None
    blocks: Var
    move: Var
    leaves: Var
    ready: Var


class Variables:
    """Makes them."""

    def __init__(self, problem: Problem, last_ready: int) -> None:
        self.problem, self.model, self.last_ready = problem, cp_model.CpModel(), last_ready
        self.end = problem.horizon * MINUTES_A_DAY

    def within(self, spans: Spans) -> Var:
        return self.model.new_int_var_from_domain(cp_model.Domain.from_intervals([list(span) for span in spans]), "")

    def up_to(self, most: int) -> Var:
        return self.model.new_int_var(0, most, "")

    def batch(self, slot: BatchSlot) -> BatchVars:
        problem, model = self.problem, self.model
        loads = {n: load for n, load in enumerate(problem.loads) if (load.mixer, load.mix) == (slot.mixer, slot.mix)}
        present, chosen = model.new_bool_var(""), {n: model.new_bool_var("") for n in loads}
        model.add(sum(chosen.values()) == present)
        shortest = min(load.length for load in loads.values())
        first = next(iter(loads.values()))
        starts = [
            (opens, min(closes - shortest, problem.days[day].last_foam - first.slurry))
            for day in slot.days
            for opens, closes in problem.days[day].windows
        ]
        batch = BatchVars(
            slot,
            present,
            self.within([span for span in starts if span[0] <= span[1]]),
            model.new_int_var(slot.days.start, slot.days.stop - 1, ""),
            chosen,
            self.up_to(self.end),
            self.up_to(self.end),
            self.within([(opens + 1, closes) for day in slot.days for opens, closes in problem.days[day].windows]),
            {},
        )
        foam = sum(loads[n].foam * c for n, c in chosen.items()) + min(x.foam for x in loads.values()) * (1 - present)
        model.add(batch.pour_from == batch.start + first.slurry + foam)
        model.add(batch.pour_to == batch.pour_from + first.pour)
        model.add(batch.end == batch.pour_to + first.wash)
        number = self.up_to(problem.days[-1].number)
        model.add_element(batch.day, [day.number for day in problem.days], number)
        model.add(batch.start >= MINUTES_A_DAY * number)
        model.add(batch.start < MINUTES_A_DAY * (number + 1))
        open_days = [problem.days[day] for day in slot.days]
        tick = self.within([(day.opens // STEP, -(-day.closes // STEP)) for day in open_days])
        model.add(STEP * tick >= batch.pour_to)
        model.add(STEP * tick < batch.pour_to + STEP)
        for table in (*problem.ripe_strip, *problem.ripe_sides):
            if table is not None and table.tobytes() not in batch.ripe:
                ripe = batch.ripe[table.tobytes()] = self.up_to(2 * self.end)
                every = [int(minute) if minute >= 0 else 2 * self.end for minute in table[::STEP]]
                model.add_element(tick, every, ripe)
        return batch

    def turn(self, slot: TurnSlot) -> TurnVars:
        problem, model, mould = self.problem, self.model, self.problem.moulds[slot.kind]
        most = problem.most_blocks(slot.kind)
        turn = TurnVars(
            slot,
            model.new_bool_var(""),
            self.up_to(self.end),
            model.new_int_var(slot.days.start, slot.days.stop - 1, ""),
            self.up_to(self.end),
            self.within(self._starts(mould.strip + problem.move[1])),
            self.within(self._starts(mould.clean)),
            self.within(self._starts(mould.sides)) if mould.bases else None,
            self.up_to(most),
            self.up_to(problem.move[most]),
            self.within([*problem.windows, *problem.later, (2 * self.end, 2 * self.end)]),
            self.up_to(self.last_ready),
        )
        model.add_element(turn.blocks, list(problem.move[: most + 1]), turn.move)
        model.add(turn.clean >= turn.strip + mould.strip)
        model.add(turn.leaves >= turn.strip + mould.strip + problem.rack_for)
        model.add(MINUTES_A_DAY * turn.ready + MINUTES_A_DAY - 1 >= turn.leaves).only_enforce_if(turn.present)
        model.add(MINUTES_A_DAY * turn.ready + MINUTES_A_DAY - 1 >= turn.poured + problem.lay_at).only_enforce_if(
            turn.present
        )
        if turn.sides is not None:
            model.add(turn.strip >= turn.sides + mould.sides)
        return turn

    def _starts(self, length: int) -> Spans:
        return [(opens, closes - length) for opens, closes in self.problem.windows if opens + length <= closes]
