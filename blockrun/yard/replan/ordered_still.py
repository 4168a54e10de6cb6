"""What was made is in the order and the site still, though they may have changed since: else it has no use or no place.

Blocks that were cast are ordered and as big as they were, the parts and courses in which some were laid are there, and
so are the racks on which some lie.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.order.lists import LEANS
from blockrun.units import counted, listed, show_size

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.order.shape import Shape
    from blockrun.planner.begun.facts import TurnBegun
    from blockrun.site import Site
    from blockrun.yard.now import Kind, Pile
    from blockrun.yard.replan.kept import Kept

_COLUMNS: Final = ("mark", "length_mm", "height_mm", "thickness_mm", "count", "mix")


_SAME_MM: Final = 0.5
"""Sides that differ by no more are of one size, written in other units (our choice)."""
_SAME_DEG: Final = 0.05


def check_ordered_still(turns: Iterable[TurnBegun], lines: Iterable[OrderLine], plans: Sequence[Kept]) -> None:
    """Refuse an order without marks that were cast, or with another size of one, and say how to leave them in it.

    Parameters
    ----------
    turns : that were begun, with their good blocks.
    lines : of the order to come.
    plans : made for the job; they know how big a block of each mark is.

    Raises
    ------
    BadInput : it says which marks, how many of each, and what to write into the order.
    """
    ordered = {(line.mark, line.mix): line for line in lines}
    there = Counter((block.mark, block.mix) for turn in turns for block in turn.blocks)
    known = {(line.mark, line.mix): line for kept in reversed(plans) for line in kept.plan.ordered}
    gone = {kind: count for kind, count in sorted(there.items()) if kind not in ordered}
    if gone:
        raise BadInput(f"{_told(gone)} were cast, and the order has no such blocks any more", _todo(gone, known))
    other = {
        kind: count
        for kind, count in sorted(there.items())
        if kind in known and not _is_same(known[kind].shape, ordered[kind].shape)
    }
    if other:
        system = plans[0].plan.site.units
        sizes = listed([f"{kind[0]} {_sizes(known[kind], ordered[kind], system)}" for kind in other])
        what = f"{_told(other)} were cast, and the order has another size under that mark: {sizes}"
        raise BadInput(what, f"Give what is still to be cast a mark of its own. {_todo(other, known)}")


def left_of_former(turns: Iterable[TurnBegun], lines: Sequence[OrderLine], plans: Sequence[Kept]) -> set[Kind]:
    """Marks and mixes that the order keeps for the blocks there are alone, as `check_ordered_still` says to.

    They are of no course, without a day, in just as many as were cast; and some plan before had them in other parts.
    """
    there = Counter((block.mark, block.mix) for turn in turns for block in turn.blocks)
    ordered: Counter[Kind] = Counter()
    placed: set[Kind] = set()
    for line in lines:
        ordered[line.mark, line.mix] += line.count
        if line.course is not None or line.needed is not None:
            placed.add((line.mark, line.mix))
    now, *before = (_parts_of(one) for one in (lines, *(kept.plan.ordered for kept in plans)))
    return {
        kind
        for kind in now.keys() - placed
        if ordered[kind] == there[kind] and any(one.get(kind, now[kind]) != now[kind] for one in before)
    }


def _parts_of(lines: Iterable[OrderLine]) -> dict[Kind, set[str]]:
    found: dict[Kind, set[str]] = {}
    for line in lines:
        found.setdefault((line.mark, line.mix), set()).add(line.part)
    return found


def check_parts_still(laid: Mapping[tuple[str, int], Pile], lines: Iterable[OrderLine]) -> None:
    """Refuse an order without parts, or courses of them, in which blocks were laid: they would be there for others.

    Raises
    ------
    BadInput : it says which part or course, and how many blocks were laid in it.
    """
    courses = {(line.part, line.course or 0) for line in lines}
    parts, counts = {part for part, _ in courses}, Counter[tuple[str, int]]()
    for (part, course), pile in laid.items():
        of_part = part not in parts
        if of_part or (course and (part, course) not in courses):
            counts[part, 0 if of_part else course] += len(pile)
    for (part, course), count in sorted((+counts).items()):
        where, gone = (f"course {course} of {part}", "such course") if course else (part, "part of that name")
        what = (
            f"{counted(count, 'block')} {'was' if count == 1 else 'were'} laid in {where}, and the order has no {gone}"
        )
        todo = f"Give it that name again, for a list with name: {part}, and leave it in until the job is done."
        if course:
            todo = "Leave it in the order until the job is done: what stands there was cast for it."
        raise BadInput(f"{what} any more", todo, name="parts", value=part)


def check_racks_still(racks: Mapping[str, Pile], site: Site) -> None:
    """Refuse a site without racks on which blocks lie: nobody could say where they are.

    Raises
    ------
    BadInput : it says which rack, and how many blocks lie there.
    """
    names = {rack.name for rack in site.racks}
    for rack, pile in sorted(racks.items()):
        if rack not in names and (count := len(pile)):
            lie = "block lies" if count == 1 else "blocks lie"
            what = f"{count} {lie} on rack {rack}, and the site has no rack of that name any more"
            raise BadInput(what, "Leave it in the site under its name until they are off it.", name="racks", value=rack)


def _told(counts: Mapping[Kind, int]) -> str:
    return listed([f"{count} {mark} of {mix}" for (mark, mix), count in counts.items()])


def _is_same(cast: Shape, ordered: Shape) -> bool:
    sides = (
        cast.length_mm - ordered.length_mm,
        cast.height_mm - ordered.height_mm,
        cast.thickness_mm - ordered.thickness_mm,
    )
    angles = (
        cast.bevel_deg - ordered.bevel_deg,
        cast.taper_deg - ordered.taper_deg,
        cast.bed_deg - ordered.bed_deg,
    )
    return max(map(abs, sides)) <= _SAME_MM and max(map(abs, angles)) <= _SAME_DEG


def _sizes(cast: OrderLine, ordered: OrderLine, system: str) -> str:
    was, now = (show_size(line.length_mm, line.height_mm, line.thickness_mm, system) for line in (cast, ordered))
    return f"was {was} and leans otherwise now" if was == now else f"was {was} and is {now}"


def _todo(gone: dict[Kind, int], known: dict[Kind, OrderLine]) -> str:
    if not gone.keys() <= known.keys():
        return "Leave the parts that they are of in the order until the job is done."
    lines = [known[kind] for kind in gone]
    leans = LEANS if any(getattr(line, name) for line in lines for name in LEANS) else ()
    rows = [
        ",".join((*_cells(line, count), *(f"{getattr(line, name):g}" for name in leans)))
        for line, count in zip(lines, gone.values(), strict=True)
    ]
    return (
        "Leave them in it as a list of their own: beside the order a file left.csv with the lines "
        f"{' and '.join([','.join((*_COLUMNS, *leans)), *rows])}, and among its parts: - list: left.csv"
    )


def _cells(line: OrderLine, count: int) -> Iterator[str]:
    yield line.mark
    yield from (f"{side:g}" for side in (line.length_mm, line.height_mm, line.thickness_mm))
    yield from (str(count), line.mix)
