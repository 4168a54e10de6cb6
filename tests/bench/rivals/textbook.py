"""The textbook model: one interval a fill and a batch, cumulative resources, all minutes at once, in CP-SAT.

Tuned so: two workers; stages one after the other, each with a share of the time, the ones before held and the last
answer as a hint; the foreman's best plan as the first, whole hint; no more days than it takes, so many batches and
fills as it has and a tenth more; equal fills and equal batches in the order of their starts, unused ones last; fills
and batches stay within some days of where the foreman has them where there would be too many pairs else (all days for
a week, fewer for a house, none to spare for a season). What it takes easy: what is poured counts as poured at the next
quarter of an hour, so that ripeness is a short table; chores are done on every day up to the foreman's last pour; each
batch keeps room for a set of test cubes. Its bounds are of this model, not of the yard.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ortools.sat.python import cp_model

from blockrun.optimiser.score import score
from blockrun.optimiser.state import State
from blockrun.planner.write import write_tables
from tests.bench.answer import Answer
from tests.bench.rivals.asked import Asked, ask
from tests.bench.rivals.day_counts import told
from tests.bench.rivals.judged import findings
from tests.bench.rivals.slots import Slots
from tests.bench.rivals.textbook_model import Textbook
from tests.bench.rivals.textbook_plan import Values, first_values, state_from
from tests.bench.rivals.textbook_variables import STEP
from tests.bench.rule import late_of, ready_by_size

_SHARES = (0.25, 0.45, 0.6, 1.0)


def answer(site_file: Path, order_file: Path, seconds: float) -> Answer:
    """Solve a yard."""
    asked = ask(site_file, order_file, seconds, age_step_min=STEP, cubes_in_all=True)
    last_ready = max(day for days in ready_by_size(asked.worked).values() for day in days)
    slots = Slots(asked.brief, asked.worked)
    book = Textbook(asked.brief.problem, slots, late_of(asked.worked), last_ready)
    values = first_values(book, asked.left_s / 2)
    if values is None:
        return Answer(note="the model was not even filled with the foreman's plan in the time given")
    solved = _Stages(asked, book, values, seconds)
    solved.run()
    return solved.answer(
        f"fills within {slots.span} days of the foreman's" if slots.span < len(book.problem.days) else ""
    )


class _Stages:
    """Stages one after the other."""

    def __init__(self, asked: Asked, book: Textbook, values: Values, seconds: float) -> None:
        self.asked, self.book, self.values, self.seconds = asked, book, values, seconds
        self.bounds: list[float | None] = []
        self.best_after_s: float | None = None

    def run(self) -> None:
        for stage, (aim, share) in enumerate(zip(self.book.aims, _SHARES, strict=True)):
            self.bounds.append(self._least(aim, self.asked.left_s * share))
            self.book.model.add(aim <= self._reached()[1][stage])

    def _least(self, aim: Any, seconds: float) -> float | None:
        if isinstance(aim, int):
            return float(aim)
        model = self.book.model
        model.minimize(aim)
        model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in enumerate(self.values):
            model.add_hint(model.get_int_var_from_proto_index(index), value)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 2
        # more of it takes longer than a week yard is worth, and the hint is not looked at before it is done
        solver.parameters.max_presolve_iterations = 1
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.max_time_in_seconds = max(1.0, seconds)
        status = solver.solve(model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        before, self.values = self._reached()[1], list(solver.response_proto.solution)
        if self._reached()[1] < before:
            self.best_after_s = round(self.seconds - self.asked.left_s, 2)
        return float(solver.best_objective_bound)

    def _reached(self) -> tuple[State, tuple[int, ...]]:
        """The plan so far and its stages, the last pour as a position among the working days."""
        problem = self.asked.brief.problem
        state = state_from(self.book, self.values)
        found = score(problem, state)
        return state, (found.late, problem.day_index[found.finish], found.batches, found.cement)

    def answer(self, note: str) -> Answer:
        """What was reached, as a plan that the audit has read."""
        state, numbers = self._reached()
        values = tuple(told(self.asked, stage, number) for stage, number in enumerate(numbers))
        return Answer(
            values=values,
            bounds=tuple(told(self.asked, stage, bound, bound=True) for stage, bound in enumerate(self.bounds)),
            findings=findings(self.asked.site, self.asked.order, write_tables(self.asked.brief, state), values),
            note=note,
            best_after_s=self.best_after_s,
        )
