"""Where a cut can be worth making along one side of a slab.

Pieces pushed to one end lie at sums of their lengths, so cuts elsewhere gain nothing. What a cut leaves on its other
side need be no longer than the longest such sum within it. Sides that are such rests are enough for every plan
(Scheithauer's and Terno's raster points; from memory, derived anew here: tests compare with every position).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

Places = NDArray[np.int64]


def sums(side: int, lengths: Iterable[int]) -> Places:
    """Every sum of lengths, each used as often as wanted, that is at most `side`; 0 first."""
    reached = np.zeros(side + 1, dtype=np.bool_)
    reached[0] = True
    for length in sorted(set(lengths)):
        step = length
        while step <= side:
            reached[step:] |= reached[: side + 1 - step].copy()
            step *= 2
    return np.flatnonzero(reached).astype(np.int64)


def floor(places: Places, lengths: Places) -> Places:
    """Index of the longest place within each length (0 or more)."""
    return np.searchsorted(places, lengths, side="right").astype(np.int64) - 1


def places(side: int, lengths: Iterable[int]) -> Places:
    """Sides of rests that are enough for every plan; 0 first, the longest last."""
    every = sums(side, lengths)
    return np.unique(np.append(every[floor(every, side - every)], 0))


def fewer(side: int, lengths: Iterable[int], most: int) -> Places:
    """At most `most` (4 or more) of these places: sums of few different lengths before sums of many.

    Plans by these are plans all the same; better ones may be missed.
    """
    every = sums(side, lengths)
    kept = every[floor(every, np.array([0, side]))]
    for group in _by_mixing(every, sorted(set(lengths))):
        room = most // 2 - len(kept)
        new = np.setdiff1d(group, kept)
        chosen = new if len(new) <= room else new[np.linspace(0, len(new) - 1, max(room, 0)).astype(np.int64)]
        kept = np.union1d(kept, chosen)
        if len(chosen) < len(new):
            break
    return np.union1d(kept, every[floor(every, side - kept)])


def _by_mixing(every: Places, lengths: list[int]) -> Iterator[Places]:
    """Multiples of one length, then sums of two such, of three, and so on to all there are."""
    side = int(every[-1])
    multiples = np.unique(np.concatenate([np.arange(0, side + 1, length) for length in lengths]))
    reached = np.zeros(side + 1, dtype=np.bool_)
    reached[0] = True
    while np.count_nonzero(reached) < len(every):
        before = reached.copy()
        for step in multiples:
            reached[step:] |= before[: side + 1 - step]
        yield np.flatnonzero(reached).astype(np.int64)
