"""A plan in a few lines: how good it is, what it takes, and what to know."""

from __future__ import annotations

import math
import shlex
from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import full_day_name
from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.order import spares as spares_asked
from blockrun.order.castable import castable
from blockrun.order.parts import notes_of_parts
from blockrun.planner.costs import without_price
from blockrun.planner.left_over import left_over
from blockrun.planner.on_stack import places_taken
from blockrun.planner.supplies import materials_of
from blockrun.planner.uses import uses_of
from blockrun.show.cautions import SHORT
from blockrun.show.jobs import WORTH_SAYING_L
from blockrun.show.measures import by_bags, by_volume, in_percent
from blockrun.show.not_in_hours import not_in_hours_said
from blockrun.show.page import ALARM, HEADING, QUIET, Page, Part, glued
from blockrun.show.tape import note_on_tape
from blockrun.site.mould_names import kind_named
from blockrun.units import counted, listed, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.left_over import LeftOver
    from blockrun.planner.plan import Plan, Progress
    from blockrun.planner.tables import Stage

NAMES: Final = {
    "block_days_late": "block-days late",
    "finish": "last pour",
    "batches": "batches",
    "cement": "cement",
}
INDENT: Final = 17


def summary_text(plan: Plan, width: int, saved_in: str, takeoff: str = "") -> Text:
    """Write what a plan reaches and takes.

    Parameters
    ----------
    saved_in : where it lies, as a user would type it.
    takeoff : the command that shows what is to be known of its walls and domes.

    Returns
    -------
    A line for each stage with the best possible, then what is used and thrown away, the warnings, where the plan
    lies and how to go on.
    """
    units = plan.site.units
    page = Page(width, plan.site.units)
    page.line((f"{plan.site.name}: {plan.order.name}", HEADING))
    page.line(blocks_said(plan))
    page.blank()
    for stage in plan.stages:
        page.line(*stage_said(stage, units), label=NAMES[stage.stage], indent=INDENT)
    page.blank()
    for label, said in figures_said(plan):
        page.line(said, label=label, indent=INDENT)
    for warning in plan.warnings:
        page.line((note_on_tape(warning), ALARM), label="note", indent=INDENT)
    page.blank()
    page.verbatim(saved_in, label="saved in", indent=INDENT)
    page.verbatim(shlex.join(["blockrun", "days", saved_in]), label="next", indent=INDENT)
    if plan.stages[0].value:
        page.verbatim(shlex.join(["blockrun", "why", saved_in]), label="why late", indent=INDENT)
    if n_notes := sum(len(notes) for _, notes in notes_of_parts(plan.order, plan.site.moulds)):
        page.line(f"{counted(n_notes, 'note')} on how they are laid, shown by:", label="walls, domes", indent=INDENT)
        page.verbatim(takeoff, label="takeoff", indent=INDENT)
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def blocks_said(plan: Plan) -> str:
    """Say how many blocks and spares there are, and on how many days they are poured."""
    blocks, spares, days = (int(plan.totals[name] or 0) for name in ("blocks", "spares", "days_of_pouring"))
    of_all = f"{counted(blocks, 'block')} and {counted(spares, 'spare')}{further_said(plan)}"
    found = sum(line.count for line in plan.found)
    of_all += f", {found} more found in a count" if found else ""
    return f"{of_all}, poured on {counted(days, 'day')}"


def figures_said(plan: Plan) -> Iterator[tuple[str, str]]:
    """What a plan takes, leaves over and costs, each with a word for what it is about; foam weighed is in it."""
    units, totals, extra = plan.site.units, plan.totals, left_over(plan)
    yield "takes", _uses(plan, len(plan.tables.batches) * to_weigh_foam(plan.site).agent_l)
    if slabs := slabs_said(plan):
        yield "slabs", slabs
    if stacked := stack_said(plan):
        yield "stack", stacked
    if extra.blocks:
        yield "left over", fillers_said(extra, units)
    yield "thrown away", thrown_said(plan, extra)
    if besides := not_in_hours_said(plan):
        yield "not in hours", besides
    if totals["cost"] is not None:
        yield "cost", cost_said(plan)


def cost_said(plan: Plan) -> str:
    """Say what all materials with a price cost, and which have none: the same sum as that of `materials`."""
    materials = materials_of(plan.site, uses_of(plan), plan.begun)
    missing = without_price(materials)
    priced = listed([one.name for one in materials if one.price is not None])
    least, none = ("at least ", f"; no price of {listed(missing)}") if missing else ("", "")
    return f"{least}{float(plan.totals['cost'] or 0):.2f} for {priced}, at your prices{none}"


def slabs_said(plan: Plan) -> str:
    """Say how many slabs there are, what part of them becomes blocks, and how far the proof reaches."""
    slabs = plan.tables.sawing[["mould", "turn"]].drop_duplicates()
    if slabs.empty:
        return ""
    sides = {kind.kind: (kind.length_mm, kind.height_mm) for kind in plan.site.moulds}
    whole = sum(math.prod(sides[kind_named(mould)]) for mould in slabs["mould"])
    blocks = float((plan.tables.sawing["length_mm"] * plan.tables.sawing["height_mm"]).sum())
    proof = "what is said of the best possible holds for plans with these saw plans"
    return f"{len(slabs)}, and {in_percent(blocks / whole)} of them become blocks; {_of_choice(plan)}{proof}"


def _of_choice(plan: Plan) -> str:
    """Say how many blocks are sawn though other moulds cast them too: why there are more slabs than in the take-off."""
    others = [kind for kind in plan.site.moulds if not kind.saw]
    marks = {line.mark for line in plan.ordered if any(castable(kind, line) for kind in others)}
    sawn = plan.tables.sawing.merge(plan.tables.casts, on=["mould", "turn", "cavity"])
    n = int(sawn["mark"].isin(marks).sum())
    return f"{n} of these other moulds cast too, and takeoff counts no slabs for them; " if n else ""


def stack_said(plan: Plan) -> str:
    """Say on which day a small stack is fullest, the first such day."""
    taken, stack = places_taken(plan), plan.site.stack
    if stack is None or not taken:
        return ""
    fullest = max(taken, key=lambda day: taken[day])
    return f"fullest on {glued(full_day_name(fullest))}: {taken[fullest]} of {counted(stack.places, 'place')} taken"


def fillers_said(extra: LeftOver, units: str) -> str:
    """Say what the left-over mix gives in filler moulds."""
    blocks = counted(extra.blocks, "block")
    return f"{by_volume(extra.poured_l, units)} of mix in filler moulds: {glued(blocks)} more, as spares"


def further_said(plan: Plan) -> str:
    """Say how many more spares there are than asked for, or fewer.

    More are what slabs give besides, or left-over mix went into; in a job that has begun some may be used up.
    """
    asked = sum(line.count for line in spares_asked(plan.order, plan.ordered))
    n = int(plan.totals["spares"] or 0) - asked
    if n < 0:
        return f" ({-n} fewer than asked for: spares make up for what was lost)"
    by_slabs = ", which slabs give though further_spares is false" if plan.order.further_spares is False else ""
    return f" ({n} beyond those asked for{by_slabs})" if n else ""


def thrown_said(plan: Plan, extra: LeftOver) -> str:
    """Say what of the mix goes into no mould, and what of that was left in the drum; then what is struck off moulds."""
    units, made_l = plan.site.units, float(plan.tables.batches["yield_l"].sum())
    thrown_l = (plan.totals["thrown_away_l"] or 0) - extra.poured_l
    drum_l = thrown_l - extra.thrown_l
    drum = f", {by_volume(drum_l, units)} of it left in the drum" if drum_l >= WORTH_SAYING_L else ""
    poured_l = float(plan.tables.batches["poured_l"].sum()) + extra.poured_l
    struck_l = poured_l * plan.site.overfill / (1 + plan.site.overfill)
    struck = f"; {by_volume(struck_l, units)} more struck off the moulds" if struck_l >= WORTH_SAYING_L else ""
    return f"{by_volume(thrown_l, units)} of mix, {in_percent(thrown_l / made_l, 1)} of what is made{drum}{struck}"


def progress_said(progress: Progress, units: str) -> str:
    """Say how far the search has come: the first stage that may be better, and how much better."""
    bound = "" if progress.bound is None else f", best possible {value_said(progress.bound, units)}"
    return f"{NAMES[progress.stage]}: {value_said(progress.value, units)}{bound}"


def stage_said(stage: Stage, units: str) -> list[Part]:
    """Say what a stage reached, and the best possible: proven, or how far away it is at most."""
    value: Part = (glued(value_said(stage.value, units)), HEADING)
    if stage.proven:
        return [value, ", the best possible (proven)"]
    bound = glued(value_said(stage.bound, units))
    return [value, f", best possible {bound}: not proven, {_gap(stage, units)}"]


def value_said(value: float | date, units: str) -> str:
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
    return f"{glued(value_said(value - bound, units))} more at most"


def _uses(plan: Plan, weighed_l: float) -> str:
    """Say what is used, and how much of the agent for the foam weighed; a kilogram of water is a litre.

    Cement is said as its stage is, from the same number.
    """
    units, totals = plan.site.units, plan.totals
    water, agent = (totals[name] or 0 for name in ("water_kg", "agent_l"))
    cement = next(value_said(stage.value, units) for stage in plan.stages if stage.stage == "cement")
    return (
        f"{by_bags(totals['cement_bags'] or 0)} of cement ({glued(cement)}), {by_volume(water, units)} of water, "
        f"{by_volume(agent, units)} of foaming agent, {by_volume(weighed_l, units)} of it to weigh foam"
    )
