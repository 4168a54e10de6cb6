"""What a saw plan leaves over, and filling it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from blockrun.optimiser.sawing.grid import Size, best_plan
from blockrun.optimiser.sawing.plan import Piece, SawPlan, Slab


@dataclass(frozen=True)
class Rest:
    """A rectangle of a slab, one blade longer and higher than it is."""

    x: int
    y: int
    length: int
    height: int

    @property
    def area(self) -> int:
        """Length times height."""
        return self.length * self.height


class _Gap(NamedTuple):
    """A strip free of pieces from edge to edge, or, of no width, a cut between pieces."""

    area: int
    upright: bool
    start: int
    end: int


def rests(slab: Slab, kerf: int, pieces: Iterable[Piece]) -> list[Rest]:
    """Rectangles that can be sawn out of what is left over, the largest first.

    The cuts along the largest free strip come first, so that what is left over stays in large rectangles.
    """
    laid = [replace(piece, length=piece.length + kerf, height=piece.height + kerf) for piece in pieces]
    whole = Rest(0, 0, slab.length + kerf, slab.height + kerf)
    return sorted(_rests(whole, laid), key=lambda rest: -rest.area)


def _rests(whole: Rest, laid: list[Piece]) -> Iterator[Rest]:
    if not laid:
        yield whole
        return
    gap = max(_gaps(whole, laid), default=None)
    if gap is None:
        if len(laid) > 1:
            raise ValueError("no cut goes between these pieces")
        return
    for part in _cut(whole, gap):
        if part.area:
            yield from _rests(part, [piece for piece in laid if _inside(piece, part)])


def _gaps(whole: Rest, laid: list[Piece]) -> Iterator[_Gap]:
    for upright, start, side, other in (
        (True, whole.x, whole.length, whole.height),
        (False, whole.y, whole.height, whole.length),
    ):
        spans = sorted((p.x, p.x + p.length) if upright else (p.y, p.y + p.height) for p in laid)
        reached, end = start, start + side
        for first, last in [*spans, (end, end)]:
            if first >= reached and not (first == reached and reached in (start, end)):
                yield _Gap((first - reached) * other, upright, reached, first)
            reached = max(reached, last)


def _cut(whole: Rest, gap: _Gap) -> list[Rest]:
    """What lies before the gap, the gap, and what lies beyond it."""
    if gap.upright:
        edges = (whole.x, gap.start, gap.end, whole.x + whole.length)
        return [Rest(start, whole.y, end - start, whole.height) for start, end in pairwise(edges)]
    edges = (whole.y, gap.start, gap.end, whole.y + whole.height)
    return [Rest(whole.x, start, whole.length, end - start) for start, end in pairwise(edges)]


def _inside(piece: Piece, part: Rest) -> bool:
    return part.x <= piece.x < part.x + part.length and part.y <= piece.y < part.y + part.height


def trimmed(plan: SawPlan, wanted: Mapping[int, int]) -> SawPlan:
    """The plan without pieces beyond what is wanted; those furthest along are left out."""
    seen: Counter[int] = Counter()
    kept = []
    for piece in plan.pieces:
        seen[piece.item] += 1
        if seen[piece.item] <= wanted.get(piece.item, 0):
            kept.append(piece)
    return SawPlan(tuple(kept))


def filled(
    slab: Slab, kerf: int, sizes: Sequence[Size], plan: SawPlan, wanted: Mapping[int, int], worth: Sequence[float]
) -> SawPlan:
    """The plan with more pieces in what it leaves over: most worth in each rest, never more than is wanted.

    Parameters
    ----------
    wanted : pieces of each item, besides those of the plan.
    """
    left = Counter({item: count for item, count in wanted.items() if count > 0})
    while left:
        more = list(_more(slab, kerf, sizes, plan, left, worth))
        if not more:
            break
        plan = SawPlan.of([*plan.pieces, *more])
    return plan


def _more(
    slab: Slab, kerf: int, sizes: Sequence[Size], plan: SawPlan, left: Counter[int], worth: Sequence[float]
) -> Iterator[Piece]:
    """Pieces for each rest, taken off what is left."""
    for rest in rests(slab, kerf, plan.pieces):
        bare = Slab(max(rest.length - kerf, 0), max(rest.height - kerf, 0))
        asked = [value if left[item] > 0 else 0 for item, value in enumerate(worth)]
        for piece in trimmed(best_plan(bare, kerf, sizes, asked), left).pieces:
            left[piece.item] -= 1
            yield piece.moved(rest.x, rest.y)
