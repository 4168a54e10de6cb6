from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.weights import Fullest, standard_weights


@given(st.lists(st.tuples(st.integers(0, 12), st.integers(1, 15)), min_size=1, max_size=4), st.integers(0, 40))
@settings(max_examples=200, deadline=None, derandomize=True)
def test_most_weight_is_what_trying_all_fillings_finds(pairs: list[tuple[int, int]], room: int) -> None:
    @cache
    def best(left: int) -> int:
        return max([0, *(w + best(left - v) for w, v in pairs if v <= left)])

    volumes = [v for _, v in pairs]
    fullest = Fullest([w for w, _ in pairs], volumes, room + 3)
    assert fullest.most(room) == best(room)
    filling = fullest.filling(room)
    assert sum(pairs[at][0] * n for at, n in filling.items()) == best(room)
    assert sum(volumes[at] * n for at, n in filling.items()) <= room


@given(st.lists(st.integers(1, 60), min_size=1, max_size=5), st.lists(st.integers(60, 200), min_size=1, max_size=3))
@settings(max_examples=100, deadline=None, derandomize=True)
def test_standard_weights_are_whole_and_one_a_format(volumes: list[int], rooms: list[int]) -> None:
    found = standard_weights(volumes, rooms)
    assert len(set(found)) == len(found) > 0
    assert all(len(weights) == len(volumes) and min(weights) >= 0 and any(weights) for weights in found)
