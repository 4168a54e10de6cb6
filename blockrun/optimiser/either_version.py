"""What ortools 9.14 and 9.15 do differently: asked here, so that either will do."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ortools.math_opt import model_pb2
from ortools.math_opt.python import mathopt

from blockrun.optimiser.engine import Expression


def row_is(row: Any, kind: str) -> bool:
    """Whether a row of a CP-SAT model is of a kind: in 9.14 it is a protocol buffer, and no longer in 9.15."""
    asked = getattr(row, f"has_{kind}", None)
    return bool(asked() if asked else row.HasField(kind))


def weighed(of: Iterable[tuple[int, Expression]]) -> Expression:
    """Sum of products, without those that are nought: 9.14 cannot add them."""
    return sum((count * each for count, each in of if count), start=0)


def linear_model(proto: model_pb2.ModelProto) -> mathopt.Model:
    """A model with rows and limits as they are told, ids from nought; 9.14 takes them one by one."""
    if hasattr(mathopt.Model, "from_model_proto"):
        return mathopt.Model.from_model_proto(proto)
    model, entries = mathopt.Model(), proto.linear_constraint_matrix
    limits = zip(proto.variables.lower_bounds, proto.variables.upper_bounds, strict=True)
    variables = [model.add_variable(lb=lower, ub=upper) for lower, upper in limits]
    limits = zip(proto.linear_constraints.lower_bounds, proto.linear_constraints.upper_bounds, strict=True)
    rows = [model.add_linear_constraint(lb=lower, ub=upper) for lower, upper in limits]
    for row, column, factor in zip(entries.row_ids, entries.column_ids, entries.coefficients, strict=True):
        rows[row].set_coefficient(variables[column], factor)
    return model
