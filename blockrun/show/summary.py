"""A plan in a few lines: how good it is, what it takes, and what to mind."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.show.cautions import SHORT
from blockrun.show.page import ALARM, HEADING, QUIET, Page, Part, glued
from blockrun.show.words import counted, full_day_name
from blockrun.units import show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.plan import Plan
    from blockrun.planner.tables import Stage

NAMES: Final = {
    "block_days_late": "block-days late",
    "finish": "last pour",
    "batches": "batches",
    "cement": "cement",
}
INDENT: Final = 17


def summary_text(plan: Plan, width: int, saved_in: str) -> Text:
    """Write what a plan reaches and takes.

    Parameters
    ----------
    plan : a whole plan.
    width : characters a line.
    saved_in : where it lies, as a user would type it.

    Returns
    -------
    A line for each stage with the best possible, then what is used and thrown away, the warnings, where the plan
    lies and how to go on.
    """
    units, totals = plan.site.units, plan.totals
    blocks, spares, days = (int(totals[name] or 0) for name in ("blocks", "spares", "days_of_pouring"))
    page = Page(width)
    page.line((f"{plan.site.name}: {plan.order.name}", HEADING))
    page.line(f"{counted(blocks, 'block')} and {counted(spares, 'spare')}, poured on {counted(days, 'day')}")
    page.blank()
    for stage in plan.stages:
        page.line(*stage_said(stage, units), label=NAMES[stage.stage], indent=INDENT)
    page.blank()
    page.line(_uses(totals, units), label="takes", indent=INDENT)
    page.line(f"{_glued_volume(totals['thrown_away_l'], units)} of mix", label="thrown away", indent=INDENT)
    if totals["cost"] is not None:
        page.line(f"{totals['cost']:.2f}, in the money of the prices", label="cost", indent=INDENT)
    for warning in plan.warnings:
        page.line((warning, ALARM), label="mind", indent=INDENT)
    page.blank()
    page.line(saved_in, label="saved in", indent=INDENT)
    page.line(f"blockrun days {saved_in}", label="next", indent=INDENT)
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def stage_said(stage: Stage, units: str) -> list[Part]:
    """Say what a stage reached, and the best possible: proven, or how far away it is at most."""
    value: Part = (glued(_value(stage.value, units)), HEADING)
    if stage.proven:
        return [value, ", the best possible (proven)"]
    bound = glued(_value(stage.bound, units))
    return [value, f", best possible {bound}: not proven, {_gap(stage, units)}"]


def _value(value: float | date, units: str) -> str:
    """Say a day in words; a whole number as it is; kilograms, the only ones with decimals, in the units of the site."""
    if isinstance(value, date):
        return full_day_name(value)
    return show(value, "mass", units) if isinstance(value, float) else str(value)


def _gap(stage: Stage, units: str) -> str:
    value, bound = stage.value, stage.bound
    if isinstance(value, date) and isinstance(bound, date):
        return f"{glued(counted((value - bound).days, 'day'))} later at most"
    assert not isinstance(value, date)
    assert not isinstance(bound, date)
    return f"{glued(_value(value - bound, units))} more at most"


def _uses(totals: dict[str, float | None], units: str) -> str:
    cement, water = (glued(show(totals[name] or 0, "mass", units)) for name in ("cement_kg", "water_kg"))
    bags = glued(f"{totals['cement_bags']:g} bags")
    return f"{bags} of cement ({cement}), {water} of water, {_glued_volume(totals['agent_l'], units)} of foaming agent"


def _glued_volume(volume_l: float | None, units: str) -> str:
    return glued(show(volume_l or 0, "volume", units))
