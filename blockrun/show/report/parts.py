"""The parts of an order as the page shows them: drawn block by block where they have places, course by course."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from blockrun.order.domes import DomeLayout, DomePart
from blockrun.order.model import ListPart
from blockrun.order.parts import layout_of
from blockrun.order.walls import WallLayout, WallPart
from blockrun.show.course_rows import found_said
from blockrun.show.report.courses import Course, courses, spares
from blockrun.show.report.dealt import Cast, by_part, casts_of, dealt, named_parts
from blockrun.show.report.drawing import Drawing, dome_drawing, pattern_for, wall_drawings
from blockrun.show.report.solid import Solid, dome_solid, wall_solid
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.order.model import Part
    from blockrun.planner.plan import Plan
    from blockrun.show.report.lives import Lives


@dataclass(frozen=True)
class PartShown:
    """A part of the order on the page: its drawings, and its courses in a table."""

    id: str
    name: str
    said: str
    drawings: tuple[Drawing, ...]
    courses: tuple[Course, ...]
    row: str = "course"
    solid: Solid | None = None


class _Named(NamedTuple):
    """A part, which is none where only rows of a list name it, and what it is called here and in the plan."""

    id: str
    name: str
    part: Part | None


def patterns_of(parts: Iterable[PartShown]) -> set[int]:
    """Scales of the patterns that drawings ask for."""
    drawings = [drawing for part in parts for drawing in (*part.drawings, part.solid) if drawing]
    return {pattern_for(scale) for drawing in drawings for scale in (drawing.desk, drawing.phone)}


def has_solids(plan: Plan) -> bool:
    """Whether anything of an order can be shown as a solid: a dome, or a building of several runs."""
    parts = plan.order.parts
    return any(isinstance(part, DomePart) or (isinstance(part, WallPart) and bool(part.outline)) for part in parts)


def parts_shown(plan: Plan, lives: Lives, *, solid: bool) -> Iterator[PartShown]:
    """Parts of the order; then those that a list names itself, and spares.

    Parameters
    ----------
    solid : whether domes and buildings are shown as solids, too.
    """
    casts, parts = by_part(casts_of(plan, lives)), dict(named_parts(plan))
    own = [name for name in casts if name and name not in parts]
    for number, name in enumerate([*parts, *own], start=1):
        if casts.get(name):
            yield _part(plan, lives, _Named(f"part-{number}", name, parts.get(name)), casts[name], solid=solid)
    if casts.get(""):
        said = f"{counted(len(casts['']), 'block')} beyond what is ordered, for no course."
        yield PartShown("spares", "Spares", said, (), tuple(spares(casts[""], lives)), "mark")


def _part(plan: Plan, lives: Lives, of: _Named, casts: Sequence[Cast], *, solid: bool) -> PartShown:
    rows, part = tuple(courses(casts, lives)), of.part
    if part is None or isinstance(part, ListPart):
        said = f"A list: {counted(len(casts), 'block')} in {counted(len(rows), 'course')}. It has no places to draw."
        if found := found_said(plan, of.name):
            said = f"{said} {found}."
        return PartShown(of.id, f"List {of.name}", said, (), rows)
    layout, placed = layout_of(part, tuple(plan.site.moulds)), dealt(plan, part, casts)
    if isinstance(layout, WallLayout) and isinstance(part, WallPart):
        drawings = tuple(wall_drawings(part, layout, placed, lives))
        turned = wall_solid(part, layout, placed, lives) if solid else None
        return PartShown(of.id, f"Wall {of.name}", "", drawings, rows, solid=turned)
    assert isinstance(layout, DomeLayout)
    assert isinstance(part, DomePart)
    turned = dome_solid(part, layout, placed, lives) if solid else None
    return PartShown(of.id, f"Dome {of.name}", "", (dome_drawing(part, layout, placed, lives),), rows, solid=turned)
