"""The optimiser's answer as a plan: its tables, its stages, what it takes, and what to know of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.optimiser.changed import Last
from blockrun.planner.costs import total_cost
from blockrun.planner.plan import Plan, Progress, Report
from blockrun.planner.tables import STAGES, Stage
from blockrun.planner.warnings import warnings
from blockrun.planner.write import write_tables

if TYPE_CHECKING:
    from blockrun.optimiser.best import Found, Known
    from blockrun.optimiser.score import Score
    from blockrun.planner.brief import Brief

_UNSOUND: Final = (
    "How good the plan could be was worked out wrongly, so nothing is claimed: please send the site and order to us."
)


def report(progress: Report, asked: Brief, known: Known) -> None:
    """Tell of the first stage that is not yet known to be as good as it can be."""
    told = list(zip(STAGES, known.best.stages, known.bounds, strict=True))
    stage, value, bound = next((each for each in told if each[1] != each[2]), told[-1])
    progress(Progress(stage, _told(asked, stage, value), None if bound is None else _told(asked, stage, bound)))


def _told(asked: Brief, stage: str, number: int) -> int | float | date:
    """A stage's number in what it is told in."""
    if STAGES[stage] is date:
        return asked.site.calendar.start + timedelta(days=number)
    if STAGES[stage] is float:
        return float(number / asked.steps_a_bag) * asked.site.stock.cement.bag_kg
    return number


def reached(asked: Brief, of_state: Score) -> dict[str, int | float | date]:
    """What a score comes to, by stage."""
    return {stage: _told(asked, stage, number) for stage, number in zip(STAGES, of_state.stages, strict=True)}


def finished(asked: Brief, found: Found, seed: int) -> Plan:
    """The whole plan, with what is left of its batches in spares; it is not audited yet."""
    answer = Last(asked.problem, found.state)
    found = found.with_left_over(asked.problem)
    tables = write_tables(asked, found.state)
    stages = tuple(
        Stage(name, _told(asked, name, value), _told(asked, name, bound), value == bound)
        for name, value, bound in zip(STAGES, found.score.stages, found.bounds, strict=True)
    )
    said = warnings(asked, tables, asked.late_alone) + ((_UNSOUND,) if not found.sound else ())
    plan = Plan(asked.site, asked.order, tables, stages, said, {}, seed, asked.begun, answer=answer)
    return replace(plan, totals=_totals(plan))


def _totals(plan: Plan) -> dict[str, float | None]:
    """What a plan comes to; agent and water for the foam that is weighed before each batch are paid for too."""
    tables, weighed = plan.tables, to_weigh_foam(plan.site)
    casts, batches = tables.casts, tables.batches
    bags, litres = float(batches["bags"].sum()), float((batches["agent_l"] + weighed.agent_l).sum())
    water = float(tables.materials["water_used_kg"].sum()) + len(batches) * weighed.water_l
    spare = int(casts["spare"].sum())
    return {
        "blocks": len(casts) - spare,
        "spares": spare,
        "batches": len(batches),
        "cement_kg": round(float(batches["cement_kg"].sum()), 6),
        "cement_bags": round(bags, 6),
        "water_kg": round(water, 6),
        "agent_l": round(litres, 6),
        "cost": total_cost(plan),
        "thrown_away_l": round(float((batches["yield_l"] - batches["poured_l"]).sum()), 6),
        "days_of_pouring": int(batches["start"].dt.normalize().nunique()),
    }
