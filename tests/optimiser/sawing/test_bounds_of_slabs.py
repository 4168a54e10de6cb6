"""What says that nothing is better says so rightly, with grids thinned as well."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.every import every_column
from blockrun.optimiser.sawing.grid import Grid
from blockrun.optimiser.sawing.job import Job
from blockrun.optimiser.sawing.places import fewer, places, sums
from blockrun.optimiser.sawing.plan import Slab
from blockrun.optimiser.sawing.pool import Pool
from blockrun.optimiser.sawing.roof import Roof
from tests.optimiser.sawing.by_hand import EFFORT, Size, faults
from tests.optimiser.sawing.by_trying import all_counts, most_worth

items = st.lists(
    st.tuples(st.tuples(st.integers(3, 14), st.integers(3, 14)), st.integers(1, 40)), min_size=1, max_size=4
)


@given(st.integers(14, 26), st.integers(14, 22), st.integers(0, 3), items, st.sampled_from([60, 300, 1500]))
@settings(max_examples=100, deadline=None, derandomize=True)
def test_no_plan_is_worth_more_than_the_roof(
    length: int, height: int, kerf: int, drawn: list[tuple[Size, int]], most_steps: int
) -> None:
    slab, sizes, worth = Slab(length, height), [size for size, _ in drawn], [value for _, value in drawn]
    grid = Grid.of(slab, kerf, sizes, range(len(sizes)), most_steps=most_steps)
    roof = Roof.of(grid, slab, kerf, most_steps=most_steps)
    assert roof.most(worth, grid.value(worth)) >= most_worth((length, height), kerf, sizes, worth) >= grid.value(worth)


def test_the_roof_of_a_full_grid_is_what_was_found() -> None:
    grid = Grid.of(Slab(20, 20), 0, [(5, 5)], [0])
    assert Roof.of(grid, Slab(20, 20), 0).most([3], grid.value([3])) == 48


@given(
    st.integers(10, 18), st.integers(10, 16), st.integers(0, 2),
    st.lists(st.tuples(st.tuples(st.integers(3, 10), st.integers(3, 10)), st.integers(1, 4)), min_size=1, max_size=3),
)  # fmt: skip
@settings(max_examples=60, deadline=None, derandomize=True)
def test_every_plan_worth_having_is_found(length: int, height: int, kerf: int, drawn: list[tuple[Size, int]]) -> None:
    slab, sizes, wanted = Slab(length, height), [size for size, _ in drawn], [count for _, count in drawn]
    job = Job([slab], [kerf], sizes, dict(enumerate(wanted)))
    columns = every_column(job, [Grid.of(slab, kerf, sizes, list(job.demand))], EFFORT)
    assert columns is not None
    assert [fault for column in columns for fault in faults(slab, kerf, sizes, column.plan)] == []
    found = {tuple(dict(column.gives).get(item, 0) for item in job.demand) for column in columns}
    every = all_counts((length, height), kerf, sizes, wanted)
    assert found <= every
    for counts in every - {(0,) * len(sizes)}:
        assert any(all(a >= b for a, b in zip(larger, counts, strict=True)) for larger in found)


def test_plans_too_many_for_the_effort_are_not_listed() -> None:
    job = Job([Slab(60, 60)], [0], [(7, 5), (9, 4), (11, 3)], {0: 40, 1: 40, 2: 40})
    grids = Pool(job).grids
    assert every_column(job, grids, Effort(0.001, lambda: False)) is None
    assert every_column(job, grids, Effort(100.0, lambda: True)) is None


@pytest.mark.parametrize(
    ("work", "bound"),
    [pytest.param(0.0, Fraction(3, 2), id="hasty, by area"), pytest.param(5.0, Fraction(2), id="with time, by prices")],
)
def test_four_pieces_of_which_two_fit_take_two_slabs(work: float, bound: Fraction) -> None:
    job = Job([Slab(8, 8)], [0], [(6, 4)], {0: 4})
    relaxed = Pool(job).generate(job.demand, Effort(work, lambda: work == 0))
    assert relaxed.bound == bound * 64


def test_places_are_sums_and_what_sums_leave() -> None:
    assert sums(20, [6, 9]).tolist() == [0, 6, 9, 12, 15, 18]
    assert places(20, [6, 9]).tolist() == [0, 6, 9, 12, 18]


@given(st.integers(20, 300), st.lists(st.integers(3, 40), min_size=1, max_size=5), st.integers(8, 40))
@settings(max_examples=80, deadline=None, derandomize=True)
def test_fewer_places_are_some_of_the_sums_and_keep_both_ends(side: int, lengths: list[int], most: int) -> None:
    kept, every = fewer(side, lengths, most).tolist(), sums(side, lengths).tolist()
    assert set(kept) <= set(every)
    assert len(kept) <= most
    assert (kept[0], kept[-1]) == (0, every[-1])
