"""What an order takes at the least: by hand, and never more than the best packing anybody could make."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations_with_replacement

from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.problem import Format, Load, Problem
from blockrun.optimiser.weighing import Weighing
from tests.optimiser.small import LOAD, MOULD, YARD

HALF, FULL = replace(LOAD, cement=1, agent=3, room=90), replace(LOAD, cement=2, agent=7, room=200)


def yard(blocks: dict[int, int], loads: tuple[Load, ...]) -> Problem:
    """A yard whose moulds take any blocks: volumes and how many of each."""
    formats = tuple(Format(mix=0, volume=volume, demand=n, needs=()) for volume, n in blocks.items())
    mould = replace(MOULD, count=9, cavities=9, casts=frozenset(range(len(formats))))
    return replace(YARD, formats=formats, moulds=(mould,), loads=loads)


def packs(volumes: list[int], rooms: list[int]) -> bool:
    """Whether all these blocks go into batches with these rooms, by trying."""
    if not volumes:
        return True
    return any(
        packs(volumes[1:], [left - volumes[0] if i == at else left for i, left in enumerate(rooms)])
        for at, room in enumerate(rooms)
        if room >= volumes[0]
    )


def test_two_blocks_that_fill_no_batch_well_take_a_batch_each() -> None:
    takes = Weighing(yard({110: 3}, (HALF, FULL)))
    assert takes.fewest_batches == 3
    assert takes.least_cement == 6
    assert takes.least_agent == 18  # 3 a unit of cement at the least


def test_small_batches_are_taken_where_they_waste_less() -> None:
    # 380 in all: two full batches hold them, and so do one full and two halves
    takes = Weighing(yard({100: 2, 90: 2}, (HALF, FULL)))
    assert (takes.fewest_batches, takes.least_cement) == (2, 4)


def test_moulds_limit_what_one_batch_can_fill() -> None:
    few = replace(yard({50: 4}, (FULL,)), moulds=(replace(MOULD, count=1, cavities=2, casts=frozenset({0})),))
    assert Weighing(few).fewest_batches == 2


@given(
    st.dictionaries(st.integers(20, 200), st.integers(1, 3), min_size=1, max_size=3),
    st.dictionaries(st.integers(1, 4), st.integers(100, 220), min_size=1, max_size=3),
)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_no_packing_takes_less(blocks: dict[int, int], sizes: dict[int, int]) -> None:
    loads = tuple(replace(LOAD, cement=cement, room=room) for cement, room in sizes.items())
    if max(blocks) > max(sizes.values()):
        blocks = {min(volume, max(sizes.values())): n for volume, n in blocks.items()}
    takes = Weighing(yard(blocks, loads))
    volumes = sorted((volume for volume, n in blocks.items() for _ in range(n)), reverse=True)
    sets = [some for n in range(len(volumes) + 1) for some in combinations_with_replacement(loads, n)]
    fitting = [some for some in sets if packs(volumes, [load.room for load in some])]
    assert takes.fewest_batches <= min(len(some) for some in fitting)
    assert takes.least_cement <= min(sum(load.cement for load in some) for some in fitting)
