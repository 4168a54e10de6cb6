"""Numbers of saw plans: equal layouts of one kind of mould are one; what a plan before numbered keeps its number."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from blockrun.planner.begun.facts import SawPlanBefore
from blockrun.planner.rows import rows_of
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import Begun
    from blockrun.planner.tables import PlanTables

Place = tuple[float, float, float, float]
"""Of a block in its slab: from the left, from the bottom, its length and height there, in mm."""
Layout = tuple[str, tuple[Place, ...]]
"""A kind of mould, and the place of each block, from left and bottom on."""
_DIGITS: Final = 2


def layout_of(kind: str, places: Iterable[Iterable[float]]) -> Layout:
    """How a slab is sawn; what differs by less than a saw can tell is the same."""
    rounded = ([round(float(side), _DIGITS) for side in place] for place in places)
    return kind, tuple(sorted((left, bottom, length, height) for left, bottom, length, height in rounded))


def saw_numbers(layouts: Iterable[Layout], begun: Begun | None) -> dict[Layout, int]:
    """The number of each layout: as the plans before had it, else the next one after all of theirs.

    Parameters
    ----------
    layouts : in the order in which they are cast.
    """
    before = {layout_of(one.kind, one.blocks): one.number for one in (begun.saw_plans if begun else ())}
    found: dict[Layout, int] = {}
    further = 1 + max(before.values(), default=0)
    for layout in dict.fromkeys(layouts):
        found[layout] = before.get(layout, further)
        further += layout not in before
    return found


def saw_plans_before(tables: PlanTables, begun: Begun | None) -> tuple[SawPlanBefore, ...]:
    """All saw plans that a plan and those before it have numbered."""
    kept = {one.number: one for one in (begun.saw_plans if begun else ())}
    for (kind, blocks), number in saw_numbers(_cast(tables), begun).items():
        kept.setdefault(number, SawPlanBefore(number=number, kind=kind, blocks=blocks))
    return tuple(kept[number] for number in sorted(kept))


def _cast(tables: PlanTables) -> list[Layout]:
    """Layouts of the slabs of a plan, in the order in which they are cast."""
    first: dict[tuple[str, int], int] = {}
    for cast in rows_of(tables.casts[["cast", "mould", "turn"]]):
        first[cast.mould, cast.turn] = min(cast.cast, first.get((cast.mould, cast.turn), cast.cast))
    slabs: Mapping[tuple[str, int], list[Place]] = defaultdict(list)
    for row in rows_of(tables.sawing):
        slabs[row.mould, row.turn].append((row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm))
    in_order = sorted((slab for slab in slabs if slab in first), key=lambda slab: first[slab])
    return [layout_of(kind_named(mould), slabs[mould, turn]) for mould, turn in in_order]
