"""The first sheet of a workbook: how good the plan is, what it takes, and what to know."""

from __future__ import annotations

from collections.abc import Container, Iterator
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.show.apart import DO_NOT_LAY, apart_in
from blockrun.show.cautions import SHORT
from blockrun.show.page import GLUE
from blockrun.show.site_words import as_the_site_writes
from blockrun.show.summary import NAMES, blocks_said, figures_said
from blockrun.show.tape import note_on_tape
from blockrun.show.words import capital
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.tables import Stage

FRONT: Final = "Summary"

Cell = str | int | float | date
Row = tuple[Cell, ...]


def front_of(plan: Plan, which: str = "", apart: Container[int] = ()) -> Iterator[Row]:
    """Rows of the first sheet.

    A title, and which plan of the job it is; stages with the best possible; what is taken; what is set apart; notes;
    cautions.
    """
    yield (f"{plan.site.name}: {plan.order.name}",)
    if which:
        yield (written(capital(which), plan.site.units),)
    yield (written(blocks_said(plan), plan.site.units),)
    yield ()
    yield ("", "this plan", "best possible", "proven")
    for stage in plan.stages:
        yield _stage(stage, plan.site.units)
    yield ()
    for label, said in figures_said(plan):
        yield label, written(said, plan.site.units)
    for one in apart_in(plan, apart):
        yield DO_NOT_LAY, written(one.and_until, plan.site.units)
    yield from (("note", written(note_on_tape(warning), plan.site.units)) for warning in plan.warnings)
    yield ()
    yield (SHORT,)


def written(words: str, units: str) -> str:
    """Words as they are written where the site is, in lines that may part at any blank."""
    return as_the_site_writes(words, units).replace(GLUE, " ")


def _stage(stage: Stage, units: str) -> Row:
    name, proven = NAMES[stage.stage], "yes" if stage.proven else "no"
    if not isinstance(stage.value, float) or not isinstance(stage.bound, float):
        return name, stage.value, stage.bound, proven
    unit = "lb" if units == "US" else "kg"
    return f"{name}, {unit}", in_unit(stage.value, "mass", unit), in_unit(stage.bound, "mass", unit), proven
