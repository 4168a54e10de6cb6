"""What a saw can do, checked without the solver's own thinking: real blades, real pieces, cuts from edge to edge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.plan import Piece, Sawn, SawPlan, Slab

EFFORT = Effort(work=5.0, stop=lambda: False)
Size = tuple[int, int]


def faults(slab: Slab, kerf: int, sizes: Sequence[Size], plan: SawPlan) -> list[str]:
    """Why a plan cannot be sawn, in words; empty when it can."""
    found = [f"{piece} is not its size" for piece in plan.pieces if not _its_size(piece, sizes)]
    found += [f"{piece} sticks out" for piece in plan.pieces if not _inside(piece, slab)]
    found += [f"no blade fits between {a} and {b}" for a, b in combinations(plan.pieces, 2) if not _apart(a, b, kerf)]
    if not found and not _comes_apart(plan.pieces, kerf):
        found = ["no cuts from edge to edge part these pieces"]
    return found


def _its_size(piece: Piece, sizes: Sequence[Size]) -> bool:
    return (piece.length, piece.height) in (sizes[piece.item], sizes[piece.item][::-1])


def _inside(piece: Piece, slab: Slab) -> bool:
    return 0 <= piece.x <= slab.length - piece.length and 0 <= piece.y <= slab.height - piece.height


def _apart(a: Piece, b: Piece, kerf: int) -> bool:
    between = (b.x - a.x - a.length, a.x - b.x - b.length, b.y - a.y - a.height, a.y - b.y - b.height)
    return max(between) >= kerf


def _comes_apart(pieces: Sequence[Piece], kerf: int) -> bool:
    """Whether some cut leaves pieces on both sides and harms none, and so on down to single pieces."""
    if len(pieces) < 2:
        return True
    for spans in ({p: (p.x, p.x + p.length) for p in pieces}, {p: (p.y, p.y + p.height) for p in pieces}):
        for blade in sorted({end for _, end in spans.values()}):
            before = [piece for piece, (_, end) in spans.items() if end <= blade]
            after = [piece for piece, (start, _) in spans.items() if start >= blade + kerf]
            if after and len(before) + len(after) == len(pieces):
                return _comes_apart(before, kerf) and _comes_apart(after, kerf)
    return False


def all_faults(slabs: Sequence[Slab], kerf: Sequence[int], sizes: Sequence[Size], sawn: Sawn) -> list[str]:
    """Faults of every plan of an answer, and of what it says it costs."""
    found = [fault for slab, plan, _ in sawn.plans for fault in faults(slabs[slab], kerf[slab], sizes, plan)]
    if sawn.cost != sum(slabs[slab].area * count for slab, _, count in sawn.plans):
        found.append("cost is not the area of the slabs")
    if any(count < 1 or not plan.pieces for _, plan, count in sawn.plans):
        found.append("a slab gives nothing")
    if sawn.bound > sawn.cost or sawn.proven != (sawn.bound == sawn.cost):
        found.append("bound and cost do not go together")
    return found


def given(sawn: Sawn) -> Counter[int]:
    """Pieces of each item out of all slabs."""
    total: Counter[int] = Counter()
    for _, plan, count in sawn.plans:
        total.update({item: each * count for item, each in plan.gives().items()})
    return total
