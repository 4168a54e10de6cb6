"""Bounds by prices on rows: right by hand, never above what whole numbers reach, and none made up."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from blockrun.optimiser import linear
from blockrun.optimiser.engine import run
from blockrun.optimiser.linear import Linear, whole
from tests.optimiser.small import EFFORT

Row = tuple[list[int], int]


def test_parts_of_things_are_enough() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 9, "number")
    model.add(2 * number >= 5)
    rows = Linear(model, {"thrice": 3 * number + 1})
    bound = rows.least("thrice")
    assert bound == pytest.approx(8.5)
    assert whole(bound) == 9


def test_what_is_held_and_what_is_closed_count_for_one_solve_alone() -> None:
    model = cp_model.CpModel()
    one, other = model.new_int_var(0, 9, "one"), model.new_int_var(0, 9, "other")
    model.add(one + other >= 6)
    rows = Linear(model, {"sum": one + 3 * other, "one": one + 0})
    assert rows.least("sum") == pytest.approx(6)
    assert rows.least("sum", {"one": 4}) == pytest.approx(4 + 3 * 2)
    assert rows.least("sum", closed=[one]) == pytest.approx(18)
    assert rows.least("sum") == pytest.approx(6)


def test_what_no_answer_can_be_is_no_less_than_any_number() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(2, 9, "number")
    assert Linear(model, {"it": number + 0}).least("it", closed=[number]) == math.inf


def test_a_clause_counts_as_a_row_and_what_is_no_row_is_refused() -> None:
    model = cp_model.CpModel()
    one, other = model.new_bool_var("one"), model.new_bool_var("other")
    model.add_bool_or([one, other])
    assert Linear(model, {"both": one + other}).least("both") == pytest.approx(1)
    model.add_bool_xor([one, other])
    with pytest.raises(ValueError, match="not linear"):
        Linear(model, {"both": one + other})


def test_a_false_row_leaves_no_answer() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 9, "number")
    model.add_bool_or([])
    bound = Linear(model, {"it": number + 0}).least("it")
    assert bound is None or bound > 9


@pytest.mark.parametrize("price", [math.nan, math.inf])
def test_prices_that_are_no_numbers_bound_nothing(monkeypatch: pytest.MonkeyPatch, price: float) -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 9, "number")
    model.add(number >= 4)
    monkeypatch.setattr(linear, "_duals", lambda of: {next(iter(of.linear_constraints())): price})
    assert Linear(model, {"it": number + 0}).least("it") is None


def test_a_rounded_bound_is_forgiven_its_rounding() -> None:
    assert [whole(bound) for bound in (3.0, 3.0 + 1e-9, 3.1, 2.9999999)] == [3, 3, 4, 3]


@given(
    st.lists(st.tuples(st.lists(st.integers(-4, 6), min_size=4, max_size=4), st.integers(0, 30)), max_size=4),
    st.lists(st.integers(-5, 9), min_size=4, max_size=4),
)
@settings(max_examples=120, deadline=None, derandomize=True)
def test_no_answer_in_whole_numbers_is_below_the_bound(rows: list[Row], costs: list[int]) -> None:
    model = cp_model.CpModel()
    numbers = [model.new_int_var(0, 7, f"{n}") for n in range(4)]

    def total(factors: list[int]) -> cp_model.LinearExpr:
        return cp_model.LinearExpr.weighted_sum(numbers, factors)

    for factors, least in rows:
        if any(factors):
            model.add(total(factors) >= least)
    bound = Linear(model, {"cost": total(costs)}).least("cost")
    model.minimize(total(costs))
    answer = run(model, EFFORT)
    if answer.found:
        assert bound is not None
        assert whole(bound) <= answer.objective
    elif bound is not None:
        # prices may prove that there is none by a bound no answer reaches, or say nothing
        assert math.isfinite(bound)
