from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.score import Score, late, score
from blockrun.optimiser.state import Span, State, Turn
from tests.optimiser.small import BLOCK, YARD, a_turn, at


def stripped_on(day: int) -> Turn:
    """One block poured the day before; it leaves the rack a day after and is old enough by then."""
    turn = a_turn(at(day - 1, 480), blocks=1)
    turn.strip = Span(at(day, 490), at(day, 500))
    return turn


@given(st.lists(st.integers(1, 8), min_size=1, max_size=5), st.lists(st.integers(0, 9), max_size=5))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_late_is_the_least_of_all_ways_to_give_blocks_to_needs(strips: list[int], needs: list[int]) -> None:
    needs = sorted(needs)[: len(strips)]
    problem = replace(YARD, formats=(replace(BLOCK, needs=tuple((day, 1) for day in needs), demand=len(strips)),))
    state = State(9, [stripped_on(day) for day in strips])
    ready = [10 if day == 9 else day + 1 for day in strips]
    least = min(
        sum(max(0, day - need) for day, need in zip(order, needs, strict=False)) for order in permutations(ready)
    )
    assert late(problem, state) == least


def test_a_turn_never_stripped_has_no_lateness() -> None:
    with pytest.raises(ValueError, match="never stripped"):
        late(YARD, State(1, [a_turn(480)]))


def test_a_plan_is_scored_by_its_stages_then_by_how_early_it_pours() -> None:
    turns = [stripped_on(1), stripped_on(3)]
    state = State(4, turns, [batch for turn in turns for _, batch in turn.fills])
    assert score(YARD, state) == Score(0, finish=2, batches=2, cement=4, pours=at(0, 500) + at(2, 500), turns=2)


def test_an_earlier_stage_outweighs_all_later_ones() -> None:
    assert Score(0, 9, 9, 9, 9, 9) < Score(1, 0, 0, 0, 0, 0)
    assert Score(0, 1, 9, 9, 9, 9) < Score(0, 2, 0, 0, 0, 0)
