"""A model of counts, as it stands, handed to HiGHS: rows and bounds are read out of it, nothing is stated anew."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

_NO_END = 1 << 60
_FOUND, _IMPOSSIBLE = 0, 2


@dataclass(frozen=True)
class Row:
    """(Place of a variable, times), and the least and the most that these come to together."""

    terms: list[tuple[int, int]]
    low: int
    high: int

    def total(self, values: list[int]) -> int:
        """What they come to."""
        return sum(times * values[at] for at, times in self.terms)


def least(model: cp_model.CpModel) -> int | None:
    """The least the objective of a model can be, nought where it has none; ``None`` where it has no answer.

    What HiGHS finds is rounded to whole numbers and must then keep every row exactly.
    """
    proto = model.proto
    rows = [_row(constraint) for constraint in proto.constraints]
    rows += [_of_one(at, *variable.domain) for at, variable in enumerate(proto.variables)]
    goal = Row(_terms(proto.objective), 0, 0)
    values = _solve(goal, rows, len(proto.variables))
    if values is None:
        return None
    assert all(row.low <= row.total(values) <= row.high for row in rows)
    return goal.total(values) + round(proto.objective.offset)


def _of_one(at: int, low: int, high: int) -> Row:
    """A variable between its ends; there must be no gap between them."""
    return Row([(at, 1)], low, high)


def _row(constraint: Any) -> Row:
    """A sum between two numbers, or a choice of one at least: so a rule without variables is kept, true or false."""
    assert not list(constraint.enforcement_literal), "a row that holds only sometimes"
    if constraint.has_linear():
        low, high = constraint.linear.domain
        return Row(_terms(constraint.linear), low, high)
    assert constraint.has_bool_or(), "not a row"
    chosen = list(constraint.bool_or.literals)
    # a negative place stands for the negation of a variable
    terms = [(at, 1) if at >= 0 else (-at - 1, -1) for at in chosen]
    return Row(terms, 1 - sum(at < 0 for at in chosen), _NO_END)


def _terms(of: Any) -> list[tuple[int, int]]:
    return list(zip(of.vars, of.coeffs, strict=True))


def _solve(goal: Row, rows: list[Row], n_variables: int) -> list[int] | None:
    low, high = _ends([row.low for row in rows]), _ends([row.high for row in rows])
    n_rows = len(rows) - n_variables
    result = milp(
        _matrix([goal], n_variables).toarray()[0],
        integrality=np.ones(n_variables),
        bounds=Bounds(low[n_rows:], high[n_rows:]),
        constraints=LinearConstraint(_matrix(rows[:n_rows], n_variables), low[:n_rows], high[:n_rows]),
        options={"mip_rel_gap": 0.0},
    )
    assert result.status in (_FOUND, _IMPOSSIBLE), result.message
    return [round(value) for value in result.x] if result.status == _FOUND else None


def _ends(of: list[int]) -> npt.NDArray[np.float64]:
    """Bounds as HiGHS knows them: those so far out that they mean none are none."""
    return np.array([math.copysign(math.inf, end) if abs(end) >= _NO_END else end for end in of], dtype=float)


def _matrix(rows: list[Row], n_variables: int) -> csr_array:
    times = [float(times) for row in rows for _, times in row.terms]
    places = [at for row in rows for at, _ in row.terms]
    starts = np.cumsum([0, *(len(row.terms) for row in rows)])
    return csr_array((times, places, starts), shape=(len(rows), n_variables))
