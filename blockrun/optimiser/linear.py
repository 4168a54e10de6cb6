"""A bound of a model by prices on its rows: linear, so that the biggest yards take seconds.

HiGHS finds the prices. Any prices give a bound (weak duality), and it is reckoned here from these and the rows alone:
no bound hangs on a tolerance or a claim of the solver, and a solve cut short at worst finds nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import Any

import numpy as np
import numpy.typing as npt
from ortools.math_opt import model_pb2
from ortools.math_opt.python import mathopt
from ortools.math_opt.solvers import highs_pb2
from ortools.sat.python import cp_model

from blockrun.optimiser.either_version import linear_model, row_is
from blockrun.optimiser.engine import Expression

Numbers = npt.NDArray[np.float64]
Indices = npt.NDArray[np.int64]

ROUNDING = 1e-6
_ENDLESS = 1e17
_FLOAT = 1e-11
"""Share of all that is added up by which a sum may be wrong: far more than doubles are."""
_ITERATIONS = 300
_NEAR = 1e-6
_PIVOTS = 20_000
_BACKSTOP_S = 600.0
"""So long that it is never what ends a solve, on a busy machine either: a bound that hangs on it would not repeat."""


class Linear:
    """The rows of a model without their whole numbers, and sums that can be minimised and held.

    Parameters
    ----------
    model : linear rows and clauses alone, all variables between limits.
    sums : by name.
    """

    def __init__(self, model: cp_model.CpModel, sums: Mapping[str, Expression]) -> None:
        variables = [list(variable.domain) for variable in model.proto.variables]
        self.lower = np.array([domain[0] for domain in variables], dtype=float)
        self.upper = np.array([domain[-1] for domain in variables], dtype=float)
        rows = _Rows()
        for row in model.proto.constraints:
            rows.add(row)
        self._names = {name: len(rows.lower) + number for number, name in enumerate(sums)}
        self._aims = {name: rows.hold(model, of) for name, of in sums.items()}
        self.row_lower, self.row_upper = _endless(rows.lower), _endless(rows.upper)
        self._entries(rows)
        self._model = linear_model(self._proto())

    def _entries(self, rows: _Rows) -> None:
        """Each pair of a row and a variable once, in order."""
        places = np.array(rows.numbers, dtype=np.int64) * len(self.lower) + np.array(rows.variables, dtype=np.int64)
        found, at = np.unique(places, return_inverse=True)
        self._row, self._column = found // len(self.lower), found % len(self.lower)
        self._factor = np.bincount(at, weights=np.array(rows.factors, dtype=float), minlength=len(found))

    def _proto(self) -> model_pb2.ModelProto:
        proto = model_pb2.ModelProto()
        proto.variables.ids.extend(range(len(self.lower)))
        proto.variables.lower_bounds.extend(self.lower.tolist())
        proto.variables.upper_bounds.extend(self.upper.tolist())
        proto.variables.integers.extend([False] * len(self.lower))
        proto.linear_constraints.ids.extend(range(len(self.row_lower)))
        proto.linear_constraints.lower_bounds.extend(self.row_lower.tolist())
        proto.linear_constraints.upper_bounds.extend(self.row_upper.tolist())
        proto.linear_constraint_matrix.row_ids.extend(self._row.tolist())
        proto.linear_constraint_matrix.column_ids.extend(self._column.tolist())
        proto.linear_constraint_matrix.coefficients.extend(self._factor.tolist())
        return proto

    def least(
        self, name: str, held: Mapping[str, int] | None = None, closed: Iterable[cp_model.IntVar] = ()
    ) -> float | None:
        """A sum is no less than this in any answer of the model; ``None`` where nothing was found.

        Parameters
        ----------
        name : of the sum.
        held : most of other sums.
        closed : variables that are to be nought.
        """
        row_upper, upper = self.row_upper.copy(), self.upper.copy()
        for of, most in (held or {}).items():
            row_upper[self._names[of]] = most - self._aims[of][1]
        for variable in closed:
            upper[variable.index] = 0
        if (upper < self.lower).any():
            return math.inf
        costs, constant = self._aims[name]
        prices = self._prices(costs, row_upper, upper)
        if prices is None or not np.isfinite(prices).all():
            return None
        return self._bound(prices, costs, row_upper, upper) + constant

    def _prices(self, costs: Numbers, row_upper: Numbers, upper: Numbers) -> Numbers | None:
        model = self._model
        wanted = np.flatnonzero(costs)
        model.minimize(mathopt.LinearSum(costs[n] * model.get_variable(int(n)) for n in wanted))
        rows, variables = np.flatnonzero(row_upper != self.row_upper), np.flatnonzero(upper != self.upper)
        self._limit(rows, row_upper, variables, upper)
        duals = _duals(model)
        self._limit(rows, self.row_upper, variables, self.upper)
        if duals is None:
            return None
        prices = np.zeros(len(self.row_lower))
        prices[[row.id for row in duals]] = list(duals.values())
        return prices

    def _limit(self, rows: Indices, row_upper: Numbers, variables: Indices, upper: Numbers) -> None:
        for row in rows:
            self._model.get_linear_constraint(int(row)).upper_bound = row_upper[row]
        for variable in variables:
            self._model.get_variable(int(variable)).upper_bound = upper[variable]

    def _bound(self, prices: Numbers, costs: Numbers, row_upper: Numbers, upper: Numbers) -> float:
        """What is left of the costs when rows are paid for, each variable where that is least."""
        least, most = np.isfinite(self.row_lower), np.isfinite(row_upper)
        prices = np.where((prices > 0) & ~least | (prices < 0) & ~most, 0.0, prices)
        paid = prices * np.where(prices > 0, np.where(least, self.row_lower, 0.0), np.where(most, row_upper, 0.0))
        left = costs - self._paid_for(self._factor * prices[self._row])
        terms = np.minimum(left * self.lower, left * upper)
        reach = np.maximum(np.abs(self.lower), np.abs(upper))
        sizes = np.abs(costs) + self._paid_for(np.abs(self._factor * prices[self._row]))
        wrong = _FLOAT * (float(np.abs(paid).sum()) + float(sizes @ reach))
        return math.fsum(paid) + math.fsum(terms) - wrong

    def _paid_for(self, entries: Numbers) -> Numbers:
        """Summed by variable."""
        return np.asarray(np.bincount(self._column, weights=entries, minlength=len(self.lower)), dtype=float)


class _Rows:
    """Rows as lists, while they are gathered."""

    def __init__(self) -> None:
        self.numbers: list[int] = []
        self.variables: list[int] = []
        self.factors: list[int] = []
        self.lower: list[float] = []
        self.upper: list[float] = []

    def add(self, row: Any) -> None:
        """A row of the model."""
        if row_is(row, "linear") and not row.enforcement_literal:
            limits = list(row.linear.domain)
            self._append(list(row.linear.vars), list(row.linear.coeffs), limits[0], limits[-1])
        elif row_is(row, "bool_or") and not row.enforcement_literal and min(row.bool_or.literals, default=0) >= 0:
            literals = list(row.bool_or.literals)
            self._append(literals, [1] * len(literals), 1, math.inf)
        else:
            raise ValueError("a row that is not linear")

    def hold(self, model: cp_model.CpModel, of: Expression) -> tuple[Numbers, int]:
        """A row for a sum, without limits yet; its factors by variable, and its constant."""
        model.minimize(of)
        variables, factors = list(model.proto.objective.vars), list(model.proto.objective.coeffs)
        constant = int(model.proto.objective.offset)
        model.clear_objective()  # type: ignore[no-untyped-call]
        self._append(variables, factors, -math.inf, math.inf)
        costs = np.zeros(len(model.proto.variables))
        np.add.at(costs, variables, factors)
        return costs, constant

    def _append(self, variables: list[int], factors: list[int], lower: float, upper: float) -> None:
        self.numbers += [len(self.lower)] * len(variables)
        self.variables += variables
        self.factors += factors
        self.lower.append(lower)
        self.upper.append(upper)


def _endless(limits: list[float]) -> Numbers:
    numbers = np.array(limits, dtype=float)
    return np.where(np.abs(numbers) > _ENDLESS, np.copysign(np.inf, numbers), numbers)


def _duals(model: mathopt.Model) -> dict[Any, float] | None:
    """By interior point, on a season ten times as fast as the simplex method (measured), or else by that."""
    for solver in ("ipm", "simplex"):
        try:
            result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=_settings(solver))
        except Exception:  # where HiGHS knows of no status, ortools 9.15 stumbles over its own error
            continue
        if result.has_dual_feasible_solution():
            return dict(result.dual_values())
    return None


def _settings(solver: str) -> mathopt.SolveParameters:
    highs = highs_pb2.HighsOptionsProto()
    highs.string_options["solver"] = solver
    highs.string_options["run_crossover"] = "off"
    highs.string_options["parallel"] = "off"
    highs.double_options["ipm_optimality_tolerance"] = _NEAR
    highs.int_options["ipm_iteration_limit"] = _ITERATIONS
    highs.int_options["simplex_iteration_limit"] = _PIVOTS
    return mathopt.SolveParameters(time_limit=timedelta(seconds=_BACKSTOP_S), highs=highs)


def whole(bound: float) -> int:
    """The least whole number that a bound allows, forgiving what rounding adds."""
    return math.ceil(bound - ROUNDING)
