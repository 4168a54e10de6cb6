from __future__ import annotations

import threading
from itertools import pairwise

import pytest
from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Effort, hint, run
from tests.optimiser.small import EFFORT


def endless() -> cp_model.CpModel:
    """Three dozen things into eleven boxes, each as full as the next: no proof in any time a test has."""
    model = cp_model.CpModel()
    sizes = [101 + 37 * n % 89 for n in range(36)]
    into = [[model.new_bool_var(f"{n} in {box}") for box in range(11)] for n in range(36)]
    most = model.new_int_var(0, sum(sizes), "most")
    for row in into:
        model.add_exactly_one(row)
    for box in range(11):
        model.add(sum(size * row[box] for size, row in zip(sizes, into, strict=True)) <= most)
    model.minimize(1000 * most + sum(n * row[n % 11] for n, row in enumerate(into)))
    return model


def test_the_best_is_found_and_known_to_be_so() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(3, 9, "number")
    model.minimize(2 * number)
    answer = run(model, EFFORT)
    assert (answer.found, answer.objective, answer.bound) == (True, 6, 6)
    assert answer.value(number) == 3


def test_stop_ends_a_solve() -> None:
    asked = threading.Event()

    def stop() -> bool:
        said = asked.is_set()
        asked.set()
        return said

    answer = run(endless(), Effort(1e6, stop))
    assert asked.is_set()
    assert not answer.found or answer.bound < answer.objective


def test_work_ends_a_solve_and_the_answer_repeats() -> None:
    one, other = (run(endless(), Effort(0.1, lambda: False)) for _ in range(2))
    assert one.bound < one.objective
    assert (one.objective, one.bound) == (other.objective, other.bound)


def test_an_invalid_model_raises() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 1 << 40, "number")
    model.add((1 << 40) * number <= 1 << 60)
    with pytest.raises(ValueError, match="invalid model"):
        run(model, EFFORT)


def test_nothing_can_be_read_from_an_impossible_model() -> None:
    model = cp_model.CpModel()
    number = model.new_int_var(0, 1, "number")
    model.add(number >= 2)
    answer = run(model, EFFORT)
    assert answer.impossible
    with pytest.raises(ValueError, match="no answer"):
        answer.value(number)


def test_a_hint_is_the_whole_of_an_answer() -> None:
    model = cp_model.CpModel()
    numbers = [model.new_int_var(0, 5, f"{n}") for n in range(3)]
    for one, next_ in pairwise(numbers):
        model.add(one < next_)
    model.minimize(sum(numbers))
    hint(model, run(model, EFFORT))
    assert list(model.proto.solution_hint.values) == [0, 1, 2]
