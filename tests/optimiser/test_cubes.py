"""Sets of test cubes: how many are due, in packing, in a day and in a finished plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

import pytest

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.counts import Counts
from blockrun.optimiser.cubes import Due, deal, due, each_lot_has_its_set
from blockrun.optimiser.day import DayModel
from blockrun.optimiser.engine import run
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.pack import Filling, pack
from blockrun.optimiser.problem import Cubes, Problem
from blockrun.optimiser.state import Batch, State
from tests.optimiser.small import EFFORT, LOAD, YARD, at

LOT = Fraction(3)
TWO_SIZES = (LOAD, replace(LOAD, cement=3, room=300))


def giving(volume: int = 40, lot: Fraction | None = LOT, days: tuple[int, ...] = ()) -> Problem:
    """The yard whose batches of 200 or 300 hold blocks of 100 and sets of test cubes."""
    cubes = Cubes(volume, (lot,) if lot is not None else (), days)
    return replace(YARD, loads=TWO_SIZES, cubes=cubes)


def batches(*rows: tuple[int, int, int]) -> list[Batch]:
    """A batch for each day, load and number of sets."""
    return [Batch(TWO_SIZES[load], at(day, 480), {0: 1}, sets) for day, load, sets in rows]


def test_a_lot_that_is_not_full_yet_takes_no_further_set() -> None:
    lots = Due(Fraction(10), made=12, given=2)
    assert [lots.fewest(cement) for cement in (0, 1, 8, 9, 18, 19)] == [0, 0, 0, 1, 1, 2]
    assert [lots.most(sets) for sets in (0, 1, 2)] == [8, 18, 28]


def test_a_lot_by_date_takes_one_set_whatever_its_size() -> None:
    assert [Due(None).fewest(cement) for cement in (0, 1, 99)] == [0, 1, 1]
    assert [Due(None, given=1).fewest(cement) for cement in (1, 99)] == [0, 0]
    assert (Due(None).most(0), Due(None).most(1)) == (0, None)


def test_lots_go_on_from_batch_to_batch_and_by_date_from_day_to_day() -> None:
    state = State(3, [], batches((0, 0, 1), (2, 1, 1)))
    assert due(giving(), state) == {0: Due(LOT, 5, 2)}
    assert due(giving(lot=None, days=(1, 2, 3)), state) == {0: Due(None, 0, 0)}
    assert due(giving(lot=None, days=(2,)), state) == {0: Due(None, 3, 1)}
    assert due(YARD, state) == {}


def packed(problem: Problem, blocks: int, state: State | None = None) -> list[Filling]:
    found = pack(problem, {0: blocks}, (), EFFORT, cubes=due(problem, state or State()))
    assert found is not None
    return found


def test_a_set_goes_into_the_batch_that_has_room_beside_its_blocks() -> None:
    """Three blocks fill a batch of 300, two leave 100 for the sets of both lots."""
    found = packed(giving(), 5)
    assert sorted((filling.blocks, filling.cubes) for filling in found) == [(2, 2), (3, 0)]


def test_several_sets_go_into_one_batch() -> None:
    assert packed(giving(volume=30, lot=Fraction(1)), 2) == [Filling(1, {0: 2}, 3)]


def test_a_batch_is_made_for_cubes_alone_where_blocks_leave_no_room() -> None:
    """Two blocks fill a batch of 200; a set of 150 goes with neither."""
    found = packed(replace(giving(volume=150, lot=None), loads=(LOAD,)), 2)
    assert sorted((filling.blocks, filling.cubes) for filling in found) == [(0, 1), (2, 0)]


def test_a_set_bigger_than_any_batch_is_not_packed() -> None:
    problem = giving(volume=301)
    assert pack(problem, {0: 1}, (), EFFORT, cubes=due(problem, State())) is None


def test_a_day_whose_lot_gave_its_set_packs_as_if_there_were_none() -> None:
    state = State(1, [], batches((0, 0, 1)))
    assert packed(giving(lot=Fraction(100)), 3, state) == pack(replace(giving(), cubes=None), {0: 3}, (), EFFORT)


def day_of(problem: Problem, blocks: int, fillings: Iterable[Filling]) -> list[tuple[int, int, int]]:
    """Cement, blocks and sets of the batches that a day makes, of so many blocks in moulds."""
    asked = Asked({(0, 0): blocks}, {0: -(-blocks // 2)}, tuple(fillings))
    after = DayModel(problem, Limits(problem), State(), asked).solve(EFFORT)
    assert after is not None
    return sorted((batch.load.cement, sum(batch.content.values()), batch.cubes) for batch in after.batches)


def test_a_set_more_than_the_lots_begun_is_not_cast_and_its_batch_is_made_up_smaller() -> None:
    problem = giving(volume=100)
    assert day_of(problem, 2, [Filling(1, {0: 2}, 1)]) == [(3, 2, 1)]
    assert day_of(problem, 1, [Filling(1, {0: 1}, 2)]) == [(2, 1, 1)]


def test_no_batch_is_poured_without_the_sets_of_the_lots_it_begins() -> None:
    problem = giving(lot=Fraction(2))
    assert day_of(problem, 3, [Filling(0, {0: 1}, 2), Filling(0, {0: 2}, 0)]) == [(2, 1, 2), (2, 2, 0)]
    assert day_of(problem, 3, [Filling(0, {0: 1}, 1), Filling(0, {0: 2}, 0)]) == [(2, 1, 1)]


def test_a_batch_for_cubes_alone_that_no_lot_needs_is_not_made() -> None:
    problem = giving(lot=Fraction(100))
    assert day_of(problem, 2, [Filling(0, {0: 1}, 1), Filling(0, {0: 1}, 0), Filling(0, {}, 1)]) == [
        (2, 1, 0),
        (2, 1, 1),
    ]


@pytest.mark.parametrize(
    ("rows", "right"),
    [
        ([(0, 1, 1), (1, 1, 1)], True),
        ([(0, 1, 1), (1, 1, 0)], False),
        ([(0, 1, 2), (1, 1, 0)], False),
        ([(0, 1, 1), (1, 1, 0), (2, 1, 2)], False),
        ([(0, 0, 1), (1, 0, 0), (2, 0, 1)], True),
        ([(0, 0, 1), (1, 0, 1), (2, 0, 0)], True),
        ([(0, 0, 0), (1, 0, 2), (2, 0, 0)], False),
    ],
)
def test_a_plan_gives_each_set_while_its_lot_is_made(rows: list[tuple[int, int, int]], right: bool) -> None:
    assert each_lot_has_its_set(giving(), batches(*rows)) == right


def fewest_batches_counted(problem: Problem, state: State) -> int:
    limits = Limits(problem)
    counts = Counts(problem, limits, limits.when, state, 9)
    counts.model.minimize(counts.n_batches())
    return run(counts.model, EFFORT).bound


@pytest.mark.parametrize(("volume", "batches_"), [(0, 2), (99, 2), (110, 3)])
def test_counts_know_that_cubes_take_room(volume: int, batches_: int) -> None:
    """Four blocks of 100 and the sets of both lots, thousandfold as counts are coarse, in batches of 300."""
    blocks = replace(YARD.formats[0], volume=100_000)
    loads = tuple(replace(load, room=load.room * 1000) for load in TWO_SIZES)
    problem = replace(giving(volume * 1000), formats=(blocks,), loads=loads)
    assert fewest_batches_counted(problem if volume else replace(problem, cubes=None), State()) == batches_


def dealt(sets: list[int], blocks: int = 1, volume: int = 40, lot: int = 6, **due: int) -> list[int]:
    """Sets of the batches of a day, one every half hour, each 3 of cement with room for 300, after they are dealt."""
    day = [
        Batch(TWO_SIZES[1], at(0, 480 + 30 * n), {0: blocks} if blocks else {}, n_sets) for n, n_sets in enumerate(sets)
    ]
    deal(giving(volume), {0: Due(Fraction(lot), **due)}, day[::-1])
    return [batch.cubes for batch in day]


def test_each_set_comes_from_the_batch_in_which_its_lot_begins() -> None:
    assert dealt([3, 0, 0, 0, 0]) == [1, 0, 1, 0, 1]
    assert dealt([0, 0, 0, 3, 0], made=3, given=1) == [0, 1, 0, 1, 1]


def test_two_lots_that_begin_in_one_batch_are_told_by_that_one_and_the_next() -> None:
    assert dealt([4, 0, 0, 0], lot=2) == [1, 1, 1, 1]


def test_a_set_that_finds_no_room_comes_from_a_later_batch_or_else_from_the_one_before() -> None:
    day = [Batch(TWO_SIZES[1], at(0, 480 + 30 * n), {0: blocks}, 0) for n, blocks in enumerate((2, 2, 3, 2))]
    day[0].cubes = 2
    deal(giving(), {0: Due(Fraction(6))}, day)
    assert [batch.cubes for batch in day] == [1, 0, 0, 1]
    del day[3]
    deal(giving(), {0: Due(Fraction(6))}, day)
    assert [batch.cubes for batch in day] == [1, 0, 0]
    day[0].cubes = 2
    deal(giving(), {0: Due(Fraction(6))}, day)
    assert [batch.cubes for batch in day] == [1, 1, 0]


def test_batches_for_cubes_alone_keep_their_sets() -> None:
    assert dealt([3, 0, 0, 0, 0], blocks=0) == [3, 0, 0, 0, 0]
