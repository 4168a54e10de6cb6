"""The textbook model of days: how many turns, blocks and batches each day, in whole numbers; HiGHS or SCIP solves it.

It knows no minutes: moulds, rack, mixers, people, cement, frost and needs are kept as sums over days, with the lags of
``lags.py``. So what it reaches are counts, not a plan by the minute, and may promise more than any plan keeps. Each
rule relaxes one of the minutes: a bound holds for every plan that reaches the stages before it and is no longer than
the foreman's and a week. Left out: chores, test cubes, that there is one generator.

Tuned so: stages one after the other, each with a share of the time and the ones before held; the last pour by halving
the days, from the foreman's last on; where nothing is found in the time of a stage and the ones before are his, his
counts stand; batches by size of load, volumes beside counts of the blocks that are so big that only so many go in;
running totals as variables, so that rows stay short; gaps of nought; for SCIP each stage begins at the answer of the
last. HiGHS takes no hints here, nor a number of threads.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from ortools.math_opt.python import mathopt

from tests.bench.answer import Answer, Number
from tests.bench.rivals.asked import Asked, ask
from tests.bench.rivals.day_model import DayCounts
from tests.bench.rule.played import reached

Values = dict[Any, float]
_CUT = 1e-6


class _Staged:
    """Stages one after the other; where an engine finds nothing in its time, the foreman's counts stand."""

    def __init__(self, asked: Asked, engine: mathopt.SolverType) -> None:
        self.asked, self.engine, self.counts = asked, engine, DayCounts(asked.brief.problem)
        self.his = _counts_of(asked)
        self.best: Values | None = None
        self.values: list[float] = []
        self.bounds: list[float | None] = []

    def run(self) -> None:
        """All four, or as many as something is known of."""
        counts = self.counts
        self._least(counts.late, 0.25)
        if self.values:
            self._finish()
            self._least(counts.n_batches, 0.5)
        if len(self.values) == 3:
            self._least(counts.cement, 1.0)

    def _as_his(self) -> bool:
        """Whether all stages so far are the foreman's, so that his counts are one answer for the next."""
        return tuple(self.values) == self.his[: len(self.values)]

    def _finish(self) -> None:
        """Halve the days as long as there is time: impossible raises the bound, an answer lowers the value."""
        first, last, bound = 0, self.his[1] if self._as_his() else len(self.counts.days) - 1, 0
        if self.best is not None:
            last = min(last, self._last_poured(self.best))
        while first < last and self.asked.left_s > 1:
            middle = (first + last) // 2
            was = self.counts.pour_until(middle)
            result = self._solve(0 * self.counts.n_batches, self.asked.left_s * 0.15)
            if result.has_primal_feasible_solution():
                self.best = dict(result.variable_values())
                last = self._last_poured(self.best)
                continue
            for number, most in was:
                number.upper_bound = most
            first = middle + 1
            if result.termination.reason == mathopt.TerminationReason.INFEASIBLE:
                bound = middle + 1
        self.counts.pour_until(last)
        self.values.append(last)
        self.bounds.append(bound)

    def _last_poured(self, values: Values) -> int:
        return max(day for turns in self.counts.turns for day, n in enumerate(turns) if round(values[n]))

    def _least(self, aim: Any, share: float) -> None:
        """One stage, then held."""
        result = self._solve(aim, self.asked.left_s * share)
        # the foreman has a plan and the stages before were reached: such counts there are
        assert result.termination.reason != mathopt.TerminationReason.INFEASIBLE, "the days forbid what can be done"
        found = [self.his[len(self.values)]] if self._as_his() else []
        if result.has_primal_feasible_solution():
            self.best = dict(result.variable_values())
            found.append(round(result.objective_value()))
        bound = result.best_objective_bound()
        self.bounds.append(bound if math.isfinite(bound) else None)
        if found:
            self.values.append(min(found))
            self.counts.model.add_linear_constraint(aim <= self.values[-1] + _CUT)

    def _solve(self, aim: Any, seconds: float) -> mathopt.SolveResult:
        self.counts.model.minimize(aim)
        params = mathopt.SolveParameters(time_limit=timedelta(seconds=max(0.5, seconds)), relative_gap_tolerance=0.0)
        hints = []
        if self.engine == mathopt.SolverType.GSCIP and self.best is not None:
            hints = [mathopt.SolutionHint(variable_values=self.best)]
        return mathopt.solve(
            self.counts.model,
            self.engine,
            params=params,
            model_params=mathopt.ModelSolveParameters(solution_hints=hints),
        )


def answer(engine: mathopt.SolverType, site_file: Path, order_file: Path, seconds: float) -> Answer:
    """Count a yard."""
    asked = ask(site_file, order_file, seconds)
    staged = _Staged(asked, engine)
    staged.run()
    nothing: list[None] = [None] * 4
    return Answer(
        values=tuple(told(asked, stage, value) for stage, value in enumerate((staged.values + nothing)[:4])),
        bounds=tuple(
            told(asked, stage, value, bound=True) for stage, value in enumerate((staged.bounds + nothing)[:4])
        ),
        is_plan=False,
        note="counts by the day, no plan by the minute",
    )


def _counts_of(asked: Asked) -> tuple[int, int, int, int]:
    """Stages of the foreman's plan: block-days, position of the last day, batches, steps of cement."""
    late, finish, batches, _ = reached(asked.worked)
    bags = sum(batch.size.bags for batch in asked.worked.batches)
    return late, asked.brief.problem.day_index[finish], batches, int(bags * asked.brief.steps_a_bag)


def told(asked: Asked, stage: int, number: float | None, *, bound: bool = False) -> Number:
    """A number of the model as it goes into a table; bounds rounded up to what can be."""
    if number is None:
        return None
    whole = int(-(-(number - 1e-6) // 1)) if bound else round(number)
    if stage == 1:
        return f"{asked.brief.moment(asked.brief.problem.days[whole].number * 1440):%Y-%m-%d}"
    if stage == 3:
        return float(whole / asked.brief.steps_a_bag) * asked.site.stock.cement.bag_kg
    return whole


ENGINES: dict[str, Callable[[Path, Path, float], Answer]] = {
    "days-highs": partial(answer, mathopt.SolverType.HIGHS),
    "days-scip": partial(answer, mathopt.SolverType.GSCIP),
}
