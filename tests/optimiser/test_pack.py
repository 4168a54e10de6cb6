from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.pack import Filling, biggest_first, pack
from blockrun.optimiser.problem import Problem
from tests.optimiser.small import BLOCK, EFFORT, LOAD, YARD

ROOMS = {2: 100, 3: 160, 5: 260}
LOADS = tuple(replace(LOAD, cement=cement, room=room) for cement, room in ROOMS.items())


def packing(volumes: list[int]) -> Problem:
    return replace(YARD, formats=tuple(replace(BLOCK, volume=v, demand=9) for v in volumes), loads=LOADS)


def _splits(items: tuple[int, ...]) -> Iterator[list[list[int]]]:
    if not items:
        yield []
        return
    for parts in _splits(items[1:]):
        yield [[items[0]], *parts]
        for nth, part in enumerate(parts):
            yield [*parts[:nth], [items[0], *part], *parts[nth + 1 :]]


def best_of_all(volumes: list[int], counts: list[int]) -> tuple[int, int]:
    blocks = tuple(v for v, n in zip(volumes, counts, strict=True) for _ in range(n))
    found = []
    for parts in _splits(blocks):
        least = [min((c for c, room in ROOMS.items() if room >= sum(part)), default=None) for part in parts]
        cement = [c for c in least if c is not None]
        if len(cement) == len(parts):
            found.append((len(parts), sum(cement)))
    return min(found)


@given(st.lists(st.tuples(st.integers(20, 160), st.integers(1, 3)), min_size=1, max_size=3))
@settings(max_examples=40, deadline=None, derandomize=True)
def test_fewest_batches_then_least_cement(pairs: list[tuple[int, int]]) -> None:
    volumes, counts = [v for v, _ in pairs], [n for _, n in pairs]
    while sum(counts) > 6:
        counts[counts.index(max(counts))] -= 1
    packed = pack(packing(volumes), dict(enumerate(counts)), (), EFFORT)
    assert packed is not None
    assert (len(packed), sum(LOADS[f.load].cement for f in packed)) == best_of_all(volumes, counts)
    poured: Counter[int] = Counter()
    for filling in packed:
        assert sum(volumes[b] * n for b, n in filling.content.items()) <= LOADS[filling.load].room
        poured.update(filling.content)
    assert poured == Counter(dict(enumerate(counts)))


def test_what_the_mixers_do_not_manage_is_not_packed() -> None:
    assert pack(packing([150]), {0: 3}, [Ceiling({}, dict.fromkeys(range(len(LOADS)), 1), 3)], EFFORT) is not None
    assert pack(packing([150]), {0: 3}, [Ceiling({}, dict.fromkeys(range(len(LOADS)), 1), 2)], EFFORT) is None


def test_a_block_bigger_than_every_batch_is_not_packed() -> None:
    assert pack(packing([261]), {0: 1}, (), EFFORT) is None
    assert pack(packing([260]), {0: 1}, (), EFFORT) == [Filling(2, {0: 1})]


def test_biggest_blocks_go_in_first() -> None:
    assert biggest_first(packing([30, 70]), {0: 2, 1: 1}, 100) == [{1: 1, 0: 1}, {0: 1}]
