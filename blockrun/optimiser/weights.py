"""What a batch can hold, by any way of weighing blocks: valid limits for packing without listing mixtures.

Give each format any whole weight. No batch can then hold more weight than the best filling of its
room, so the weight poured in a day is at most the sum over its batches. Weights of one for every
block above a size count big blocks; weights near the volumes measure left-over room exactly.
"""

from __future__ import annotations

from collections.abc import Sequence


def most_weight(weights: Sequence[int], volumes: Sequence[int], room: int) -> int:
    """Greatest weight that fits.

    Parameters
    ----------
    weights : whole, >= 0, one a format.
    volumes : whole, > 0, one a format.
    room : whole, >= 0.

    Returns
    -------
    The maximum of sum(w n) over whole n with sum(v n) <= room (unbounded knapsack, by least volume
    for each weight).
    """
    useful = [(w, v) for w, v in zip(weights, volumes, strict=True) if w > 0 and v <= room]
    if not useful:
        return 0
    ceiling = int(max(w / v for w, v in useful) * room) + 1
    lightest = max(w for w, _ in useful)
    least = [0] + [room + 1] * (ceiling + lightest)
    best = 0
    for weight in range(1, len(least)):
        least[weight] = min((least[weight - w] + v for w, v in useful if w <= weight), default=room + 1)
        if least[weight] <= room:
            best = weight
    return best


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
