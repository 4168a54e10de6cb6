"""What is best, by trying every cut at every place: for slabs of a few dozen units at most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

Size = tuple[int, int]
Counts = tuple[int, ...]


def most_worth(slab: Size, kerf: int, sizes: Sequence[Size], worth: Sequence[int]) -> int:
    """The most that the pieces of one slab are worth, each as often as it fits."""

    @cache
    def best(length: int, height: int) -> int:
        single = [worth[i] for i, size in enumerate(sizes) if _fits(size, length, height)]
        parts = [best(*first) + best(*second) for first, second in _cuts(length, height, kerf)]
        return max([0, *single, *parts])

    return best(*slab)


def all_counts(slab: Size, kerf: int, sizes: Sequence[Size], wanted: Sequence[int]) -> frozenset[Counts]:
    """Whatever one slab can give, up to what is wanted."""
    none = (0,) * len(sizes)

    @cache
    def sets(length: int, height: int) -> frozenset[Counts]:
        found = {none}
        found |= {_one(i, len(sizes)) for i, size in enumerate(sizes) if wanted[i] and _fits(size, length, height)}
        for first, second in _cuts(length, height, kerf):
            found |= {_sum(a, b, wanted) for a in sets(*first) for b in sets(*second)}
        return frozenset(found)

    return sets(*slab)


def least_area(areas_and_counts: Mapping[int, frozenset[Counts]], wanted: Sequence[int]) -> int:
    """The least area that gives what is wanted, out of slabs of these areas that give one of these counts each."""

    @cache
    def least(left: Counts) -> int:
        if not any(left):
            return 0
        rests = {
            (area, tuple(max(0, a - b) for a, b in zip(left, counts, strict=True)))
            for area, sets in areas_and_counts.items()
            for counts in sets
        }
        return min(area + least(rest) for area, rest in rests if rest != left)

    return least(tuple(wanted))


def _fits(size: Size, length: int, height: int) -> bool:
    return any(a <= length and b <= height for a, b in (size, size[::-1]))


def _cuts(length: int, height: int, kerf: int) -> list[tuple[Size, Size]]:
    """Both parts of every cut; what the blade and the edge leave nothing of has no size."""
    upright = [((at, height), (max(0, length - at - kerf), height)) for at in range(1, length)]
    return upright + [((length, at), (length, max(0, height - at - kerf))) for at in range(1, height)]


def _one(item: int, n_items: int) -> Counts:
    return tuple(int(item == other) for other in range(n_items))


def _sum(a: Counts, b: Counts, wanted: Sequence[int]) -> Counts:
    return tuple(min(x + y, most) for x, y, most in zip(a, b, wanted, strict=True))
