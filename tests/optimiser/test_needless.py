"""Batches that a finished plan can do without."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.needless import without_needless
from blockrun.optimiser.problem import Casting, Mould, Problem
from blockrun.optimiser.score import late
from blockrun.optimiser.state import Batch, Span, State, Turn
from tests.optimiser.small import BLOCK, YARD, at

SLAB = Casting(mix=0, volume=200, gives=((0, 2),))
"""Two blocks."""


def sawing_yard(demand: int, needs: tuple[tuple[int, int], ...] = ()) -> Problem:
    yard = YARD
    slabs = Mould("slab", 4, 1, frozenset({1}), 4, 10)
    return replace(
        yard,
        formats=(replace(BLOCK, demand=demand, needs=needs),),
        slabs=(SLAB,),
        moulds=(*yard.moulds, slabs),
        ripe_strip=(*yard.ripe_strip, yard.ripe_strip[0]),
        ripe_sides=(*yard.ripe_sides, None),
    )


def poured(yard: Problem, day: int, stripped: int, cubes: int = 0) -> Turn:
    """A slab of one batch, poured one day and stripped another."""
    batch = Batch(yard.loads[0], at(day, 480), {1: 1}, cubes)
    strip, clean = Span(at(stripped, 500), at(stripped, 504)), Span(at(stripped, 510), at(stripped, 520))
    return Turn(1, [(1, batch)], strip=strip, clean=clean, blocks=2)


def state_of(*turns: Turn) -> State:
    return State(9, list(turns), [turn.fills[0][1] for turn in turns])


def test_a_batch_whose_blocks_are_all_to_spare_is_left_out_with_its_turn() -> None:
    yard = sawing_yard(demand=4)
    plan = state_of(*(poured(yard, day, day + 1) for day in range(3)))
    less = without_needless(yard, plan)
    assert [turn.start for turn in less.turns] == [turn.start for turn in plan.turns[:2]]
    assert less.batches == plan.batches[:2]


def test_a_batch_of_which_one_block_is_wanted_stays() -> None:
    yard = sawing_yard(demand=3)
    plan = state_of(*(poured(yard, day, day + 1) for day in range(2)))
    assert without_needless(yard, plan).batches == plan.batches


def test_of_two_the_one_that_is_ready_later_goes_though_it_was_poured_first() -> None:
    yard = sawing_yard(demand=2, needs=((4, 2),))
    slow, quick = poured(yard, 0, 8), poured(yard, 1, 2)
    less = without_needless(yard, state_of(slow, quick))
    assert len(less.turns) == 1
    assert late(yard, less) == min(late(yard, state_of(slow)), late(yard, state_of(quick)))


def test_a_batch_that_gives_test_cubes_stays() -> None:
    yard = sawing_yard(demand=2)
    plan = state_of(poured(yard, 0, 1), poured(yard, 1, 2, cubes=5))
    assert [batch.cubes for batch in without_needless(yard, plan).batches] == [5]


def test_without_slabs_a_plan_is_left_as_it_is() -> None:
    yard = replace(sawing_yard(demand=1), slabs=())
    plan = State()
    assert without_needless(yard, plan) is plan
