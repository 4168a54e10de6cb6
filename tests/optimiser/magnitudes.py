"""How great the numbers of a model can get: a solver that adds them up in 64 bits is trusted only well below that."""

from __future__ import annotations

from collections.abc import Iterable

from ortools.sat.python import cp_model

TRUSTED = 2_000_000_000
"""The sum of |coefficient| x bound of a row that no open fault of the solver has been seen under (ortools 9.15)."""


def greatest(model: cp_model.CpModel) -> int:
    """Greatest sum of |coefficient| x bound of the rows and of the objective of a model."""
    proto = model.proto
    bounds = [max(abs(bound) for bound in list(variable.domain)) for variable in proto.variables]
    rows = [constraint.linear for constraint in proto.constraints if constraint.has_linear()]
    sums = [_sum(row.vars, row.coeffs, bounds) for row in [*rows, proto.objective]]
    return max(sums, default=0)


def _sum(variables: Iterable[int], coefficients: Iterable[int], bounds: list[int]) -> int:
    # a negative place stands for the negation of a variable
    pairs = zip(list(variables), list(coefficients), strict=True)
    return sum(abs(coefficient) * bounds[max(at, -at - 1)] for at, coefficient in pairs)
