"""What a batch can hold, by any way of weighing blocks: valid limits for packing without listing mixtures.

Give each format any whole weight. No batch can then hold more weight than the best filling of its
room, so the weight poured in a day is at most the sum over its batches. Weights of one for every
block above a size count big blocks; weights near the volumes measure left-over room exactly.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np


class Fullest:
    """Heaviest fillings of rooms up to one: the unbounded knapsack, by the least volume of each weight.

    Parameters
    ----------
    weights : whole, >= 0, one a format.
    volumes : whole, > 0, one a format.
    room : whole, >= 0; no greater one may be asked for.
    """

    def __init__(self, weights: Sequence[int], volumes: Sequence[int], room: int) -> None:
        pairs = enumerate(zip(weights, volumes, strict=True))
        self._useful = [(number, w, v) for number, (w, v) in pairs if w > 0 and v <= room]
        ceiling = max((w * room // v for _, w, v in self._useful), default=0)
        self._least = np.full(ceiling + 1, room + 1, dtype=np.int64)
        self._least[0] = 0
        # all that lies within the lightest weight is reckoned from what lies before
        lightest = min((w for _, w, _ in self._useful), default=1)
        for start in range(1, ceiling + 1, lightest):
            end = min(start + lightest, ceiling + 1)
            for _, w, v in self._useful:
                first = max(start, w)
                if first < end:
                    fuller = self._least[first - w : end - w] + v
                    self._least[first:end] = np.minimum(self._least[first:end], fuller)

    def most(self, room: int) -> int:
        """Greatest weight that fits: the maximum of sum(w n) over whole n with sum(v n) <= room."""
        return int(np.flatnonzero(self._least <= room)[-1])

    def filling(self, room: int) -> dict[int, int]:
        """How many of each format it has."""
        left, found = self.most(room), dict[int, int]()
        while left:
            here = self._least[left]
            number, w = next((n, w) for n, w, v in self._useful if w <= left and self._least[left - w] + v == here)
            found[number], left = found.get(number, 0) + 1, left - w
        return found


def standard_weights(volumes: Sequence[int], rooms: Sequence[int]) -> list[tuple[int, ...]]:
    """Weights worth stating before anything is known: by volume, one by one, and by size.

    Parameters
    ----------
    volumes : of the formats of one mix.
    rooms : of the batches that mix is made in.

    Returns
    -------
    Distinct weights, each of the length of ``volumes``.
    """
    biggest_room = max(rooms)
    found: dict[tuple[int, ...], None] = {}
    scale = 240 / biggest_room
    found[tuple(max(1, int(volume * scale)) for volume in volumes)] = None
    for share in range(1, 13):
        # a block above 1/(k+1) of the room goes in at most k times: the classical rounding of sizes
        found[tuple((share + 1) * volume // (biggest_room + 1) for volume in volumes)] = None
    for size in sorted(set(volumes)):
        found[tuple(int(volume >= size) for volume in volumes)] = None
        found[tuple(int(volume == size) for volume in volumes)] = None
    per_room = [biggest_room // volume for volume in volumes]
    top = max(per_room)
    found[tuple(max(1, top * 12 // max(1, count)) for count in per_room)] = None
    return [weights for weights in found if any(weights)]
