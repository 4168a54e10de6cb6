"""The page of the report, put together."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from blockrun.order.domes import DomeLayout, DomePart
from blockrun.order.model import ListPart
from blockrun.order.parts import layout_of, notes_of_parts
from blockrun.order.walls import WallLayout, WallPart
from blockrun.planner.why.held import held
from blockrun.show.cautions import CAUTIONS
from blockrun.show.held import days_before_said, late_said, things_said
from blockrun.show.materials_said import MaterialsSaid
from blockrun.show.page import GLUE
from blockrun.show.pictures.paper import templates
from blockrun.show.report.charts import Table, bands
from blockrun.show.report.courses import Course, courses, spares
from blockrun.show.report.days import Days
from blockrun.show.report.dealt import DEALT_SAID, Cast, by_part, casts_of, dealt, named_parts
from blockrun.show.report.drawing import Drawing, dome_drawing, pattern_for, wall_drawings
from blockrun.show.report.holding import holding
from blockrun.show.report.lives import LAID_SAID, STATES, Lives
from blockrun.show.report.solid import MOST_TILT_DEG, TILT_DEG, TURN_DEG, Solid, dome_solid, wall_solid
from blockrun.show.report.yard import Yard
from blockrun.show.summary import NAMES, blocks_said, figures_said, stage_said
from blockrun.show.words import counted, day_name, full_day_name

if TYPE_CHECKING:
    from blockrun.order.model import Part
    from blockrun.planner.plan import Plan
    from blockrun.planner.why.held import Held

_MEANS: Final = {
    "block_days_late": "One block that is ready three days after it is needed counts three.",
    "finish": "The day of the last batch, that of spares included.",
    "batches": "How often the mixer is loaded.",
    "cement": "All that the batches take.",
}


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


def report_page(plan: Plan, *, solid: bool = False) -> str:
    """The report of a plan as one HTML page.

    Parameters
    ----------
    plan : as the audit passes it.
    solid : whether domes and buildings are shown as solids, too.

    Returns
    -------
    A page that asks for nothing outside itself; the same bytes for the same plan.
    """
    lives, back, said = Lives(plan.tables.casts), held(plan), MaterialsSaid(plan)
    parts = list(_parts(plan, lives, solid=solid))
    days, yard = Days(lives.first, lives.n_days, plan.site.calendar), Yard(plan, lives, back)
    return (
        templates(__package__)
        .get_template("page.html.jinja")
        .render(
            name=plan.order.name,
            site=plan.site.name,
            when=f"{full_day_name(lives.first)} to {full_day_name(lives.date(lives.n_days - 1))}",
            blocks=blocks_said(plan),
            changed=plan.changed,
            stages=list(_stages(plan)),
            figures=list(figures_said(plan)),
            states=[(state, count) for state, count in zip(STATES, lives.counts[lives.shown], strict=True)],
            lives=lives,
            shown=full_day_name(lives.date(lives.shown)),
            bands=bands(lives, days),
            dates=_dates(lives),
            laid_said=LAID_SAID,
            dealt_said=DEALT_SAID,
            parts=parts,
            yard=list(yard.charts()),
            held=_held(back),
            holding=holding(back, plan.site.calendar),
            materials=_materials(said),
            stocks=list(yard.stocks(said)),
            warnings=plan.warnings,
            notes=list(_notes(plan)),
            cautions=CAUTIONS,
            told=_told(lives),
            scales=(1, *sorted(_patterns(parts))),
            pattern_for=pattern_for,
            turn_deg=TURN_DEG,
            tilt_deg=TILT_DEG,
            most_tilt_deg=MOST_TILT_DEG,
        )
    )


def _patterns(parts: Sequence[PartShown]) -> set[int]:
    """Scales of the patterns that drawings ask for."""
    drawings = [drawing for part in parts for drawing in (*part.drawings, part.solid) if drawing]
    return {pattern_for(scale) for drawing in drawings for scale in (drawing.desk, drawing.phone)}


def _stages(plan: Plan) -> Iterator[dict[str, Any]]:
    """What the plan is judged by: each value, and the best possible in words."""
    for stage in plan.stages:
        value, rest = (
            "".join(part) if isinstance(part, str) else part[0] for part in stage_said(stage, plan.site.units)
        )
        best = rest.removeprefix(", ")
        yield {
            "name": NAMES[stage.stage].capitalize(),
            "value": value.replace(GLUE, " "),
            "best": best[:1].upper() + best[1:],
            "proven": stage.proven,
            "means": _MEANS[stage.stage],
        }


def _dates(lives: Lives) -> Table:
    """Blocks in each state in the evening of every day."""
    rows = tuple((day_name(lives.date(day)), *map(str, count)) for day, count in enumerate(lives.counts))
    return Table("Blocks in each state, in the evening", ("day", *(state.name for state in STATES)), rows)


def _parts(plan: Plan, lives: Lives, *, solid: bool) -> Iterator[PartShown]:
    """Parts of the order; then those that a list names itself, and spares."""
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


def _notes(plan: Plan) -> Iterator[tuple[str, list[str]]]:
    """What is to be known of each wall and dome, beside what the warnings say of it."""
    for name, notes in notes_of_parts(plan.order, plan.site.moulds):
        more = [note for note in notes if f"{name}: {note}" not in plan.warnings]
        if more:
            yield name, more


def _held(back: Held) -> dict[str, Any]:
    """What ran out on how many days, and what is late."""
    words = things_said(back)
    return {
        "last": full_day_name(back.days[-1].day),
        "before": days_before_said(back) if back.by else "",
        "by": [(words[thing], counted(days, "day")) for thing, days in back.by],
        "late": [late_said(course) for course in back.courses],
    }


def _materials(said: MaterialsSaid) -> dict[str, Any]:
    """What to order, and what there is, takes and costs in sentences."""
    heads, *rows = said.table()
    return {
        "next": said.order_next(),
        "no_order": said.no_order(),
        "short": list(said.short()),
        "sums": list(said.sums()),
        "stock": [(material.name, list(said.stock(material))) for material in said.counted],
        "cost": list(said.cost()),
        "marks": list(said.cost_by_mark()),
        "table": Table("Used by day, and left in the evening", ("day", *heads[1:]), tuple(map(tuple, rows))),
    }


def _told(lives: Lives) -> str:
    """What the script needs to know: days of each life, and how many blocks have it."""
    told = {
        "first": lives.first.isoformat(),
        "days": lives.n_days,
        "shown": lives.shown,
        "lives": lives.each,
        "blocks": lives.blocks,
    }
    return json.dumps(told, separators=(",", ":"))
