"""Rules on slabs: each is cast in one pour and sawn, by cuts from edge to edge, into just the blocks written."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from typing import TypeVar

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import SIDE_MM, figure, near
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.records import Cast, SawnOut

Place = tuple[str, int, int]
"""Mould, turn and cavity."""


def sawn_blocks(case: Case) -> Iterator[Said]:
    """Say once how each block of a slab lies in it, and of no other block; of one cast before where it is told."""
    untold = {place for place, block in case.past.blocks.items() if block.sawn is None}
    due = {place for place, cast in _casts(case).items() if case.moulds[cast.mould].saw} - untold
    said = Counter(_place(row) for row in case.records.sawing)
    for mould, turn, cavity in sorted(due ^ set(said) | {place for place, times in said.items() if times > 1}):
        place = (mould, turn, cavity)
        what = f"block {cavity} of {mould} turn {turn}"
        if place in due:
            yield f"{mould} turn {turn}", f"{what} is sawn out of a slab, but {said[place]} rows say how it lies there"
        else:
            yield f"{mould} turn {turn}", f"sawing has a row for {what}, and no such block is sawn"


def one_pour_a_slab(case: Case) -> Iterator[Said]:
    """Pour a slab from one batch."""
    for turn in case.turns:
        if turn.kind.saw and len(turn.batches) > 1 and not case.past.has_begun(turn):
            names = " and ".join(batch.name for batch in turn.batches)
            yield turn.name, f"the slab of {turn.name} is poured from {names}; one cavity is poured from one batch"


def sawn_to_size(case: Case) -> Iterator[Said]:
    """Saw each block to its length and height, lying or turned."""
    casts = _casts(case)
    for row in case.records.sawing:
        cast = casts.get(_place(row))
        if cast is not None:
            block = case.blocks[cast.mark]
            size = (block.length_mm, block.height_mm)
            if not any(_same((row.length_mm, row.height_mm), sides) for sides in (size, size[::-1])):
                yield (
                    f"block {cast.cast}",
                    f"block {cast.cast}, mark {cast.mark}, is {_by(size)} mm, but sawn to "
                    f"{_by((row.length_mm, row.height_mm))} mm",
                    row,
                )


def within_the_slab(case: Case) -> Iterator[Said]:
    """Saw every block out of the slab, not beyond its edge."""
    for name, rows in _slabs(case).items():
        kind = case.moulds[rows[0].mould]
        for row in rows:
            ends = (row.from_left_mm + row.length_mm, row.from_bottom_mm + row.height_mm)
            low = min(row.from_left_mm, row.from_bottom_mm) < -SIDE_MM
            if low or ends[0] > kind.length_mm + SIDE_MM or ends[1] > kind.height_mm + SIDE_MM:
                yield name, f"block {row.cavity} of {name} reaches beyond the slab of {_by(kind.cavity[:2])} mm", row


def cuts_from_edge_to_edge(case: Case) -> Iterator[Said]:
    """Part the blocks of a slab by cuts that each run from edge to edge of what is in hand, a kerf wide."""
    for name, rows in _slabs(case).items():
        saw = case.moulds[rows[0].mould].saw
        if saw and not _parted(rows, saw.kerf_mm):
            yield name, f"no cuts of {figure(saw.kerf_mm)} mm from edge to edge part the blocks of {name}", rows[0]


def _parted(rows: Sequence[SawnOut], kerf_mm: float) -> bool:
    """Whether cuts part them; any cut that can be made first may be, for it spoils no other."""
    if len(rows) == 1:
        return True
    for near_edge, side in (("from_left_mm", "length_mm"), ("from_bottom_mm", "height_mm")):
        in_order = sorted(rows, key=lambda row: float(getattr(row, near_edge)))
        reached = float("-inf")
        for index, row in enumerate(in_order):
            if index and getattr(row, near_edge) >= reached + kerf_mm - SIDE_MM:
                return _parted(in_order[:index], kerf_mm) and _parted(in_order[index:], kerf_mm)
            reached = max(reached, getattr(row, near_edge) + getattr(row, side))
    return False


def nothing_ordered_in_a_filler(case: Case) -> Iterator[Said]:
    """Cast nothing in a filler mould: it takes what is left over. What was cast there before is there."""
    for cast in case.records.casts:
        if case.moulds[cast.mould].filler and _place(cast) not in case.past.blocks:
            yield f"block {cast.cast}", f"block {cast.cast} is cast in {cast.mould}, a filler mould"


Row = TypeVar("Row", Cast, SawnOut)


def _place(row: Row) -> Place:
    return (row.mould, row.turn, row.cavity)


def _casts(case: Case) -> dict[Place, Cast]:
    return {_place(cast): cast for cast in case.records.casts}


def _slabs(case: Case) -> dict[str, list[SawnOut]]:
    """Rows of each slab, by the name of its turn."""
    found: defaultdict[str, list[SawnOut]] = defaultdict(list)
    for row in case.records.sawing:
        if row.mould in case.moulds:
            found[f"{row.mould} turn {row.turn}"].append(row)
    return found


def _same(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(near(a, b, SIDE_MM) for a, b in zip(one, other, strict=True))


def _by(sides: Sequence[float]) -> str:
    return " x ".join(figure(side) for side in sides)


SLABS: tuple[Rule, ...] = (
    sawn_blocks,
    one_pour_a_slab,
    sawn_to_size,
    within_the_slab,
    cuts_from_edge_to_edge,
    nothing_ordered_in_a_filler,
)
