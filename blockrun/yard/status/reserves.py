"""What is left of each material, and the day it runs out by the batches that the plan still has."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.mix.dilution import tank_of
from blockrun.planner.progress import Reserve
from blockrun.planner.supplies import SPECK, Material, Supply, materials_of, order_by, short
from blockrun.planner.uses import AGENT, OIL, Use
from blockrun.yard.drawn import dilution_l
from blockrun.yard.status.pours import still_due

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import State
    from blockrun.yard.stock import Stock


def reserves_of(plan: AsPlanned, state: State, stock: Stock, at: datetime) -> Iterator[Reserve]:
    """How far what is left goes, material by material.

    Parameters
    ----------
    plan, state : what is still to be poured, and when at the soonest.
    stock : what is left at the moment.
    """
    due = still_due(plan, state, at)
    materials = {one.name: one for one in materials_of(plan.site, _uses_to_come(plan, due, stock.in_tank_l))}
    calendar = plan.site.calendar
    for name, left in stock.each.items():
        now = Supply(None, left.amount)
        material = replace(materials.get(name, Material(name, {})), supplies=(now, *left.to_come))
        missing = short(material)
        out_on = next((day for day in material.used if material.left_on(day) < -SPECK), None)
        by = None if missing is None else order_by(out_on or missing.day, material.lead_days, calendar)
        yield Reserve(
            name,
            left.amount,
            material.total,
            left.counted,
            left.untold,
            left.believed,
            left.to_come,
            out_on,
            0.0 if missing is None else missing.amount,
            by,
            missing is not None and _is_late(out_on, by, at.date()),
        )


def _is_late(out_on: date | None, by: date | None, today: date) -> bool:
    """Whether an order of today comes too late."""
    return (out_on is not None and out_on <= today) or (by is not None and by < today)


def _uses_to_come(plan: AsPlanned, due: dict[int, datetime], in_tank_l: float) -> Iterator[Use]:
    """What the batches take that are still to be poured, in the order of the days, then oil for their turns."""
    in_order = sorted(due.items(), key=lambda one: one[1])
    tank = tank_of(plan.site.foam_generator)
    for number, moment in in_order:
        yield from (
            replace(use, day=moment.date()) for use in plan.uses[number] if tank is None or use.material != AGENT
        )
    if tank is not None:
        taken_l = [dilution_l(plan.uses[number], tank.agent_share) for number, _ in in_order]
        for (_, moment), fills in zip(in_order, tank.filled_for(taken_l, in_tank_l), strict=True):
            yield Use(moment.date(), AGENT, sum(fills) * tank.agent_share)
    oil = plan.site.stock.release_oil
    if oil is not None:
        for day in (*_turns_begun(plan, due), *_fillers_filled(plan, due)):
            yield Use(day, OIL, oil.per_turn_l)


def _turns_begun(plan: AsPlanned, due: dict[int, datetime]) -> Iterator[date]:
    """When each turn begins that nothing was poured into yet."""
    turns: dict[tuple[str, int], list[datetime | None]] = defaultdict(list)
    for cast in plan.casts:
        turns[cast.mould, cast.turn].append(due.get(cast.batch))
    for moments in turns.values():
        to_come = [moment for moment in moments if moment is not None]
        if len(to_come) == len(moments):
            yield min(to_come).date()


def _fillers_filled(plan: AsPlanned, due: dict[int, datetime]) -> Iterator[date]:
    """When what is left of a batch fills a filler mould."""
    if not any(kind.filler for kind in plan.site.moulds):
        return
    from blockrun.planner.left_over import left_over  # with all of a plan, which those without fillers go without
    from blockrun.planner.saved import load_plan

    for number, left in left_over(load_plan(plan.directory)).batches.items():
        if number in due:
            yield from (due[number].date() for _ in left.fills)
