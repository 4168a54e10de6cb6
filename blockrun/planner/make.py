"""Make a plan: whole numbers to the optimiser, its answer into tables, and how near it is to the best."""

from __future__ import annotations

import math
from datetime import date, timedelta
from functools import partial

from blockrun.errors import NoPlanInTime, NoPlanPossible
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Found, Known, Search
from blockrun.order import Order
from blockrun.planner.brief import Brief, brief, wanted
from blockrun.planner.check import LONGEST_DAYS, at, check_inputs, check_reach, check_stock
from blockrun.planner.plan import Plan, Progress, Report, Stop, ignore, never
from blockrun.planner.tables import PlanTables, Stage
from blockrun.planner.warnings import warnings
from blockrun.planner.write import write_tables
from blockrun.site import Site


def make_plan(
    site: Site, order: Order, *, stop: Stop = never, progress: Report = ignore, seed: int = 0, rounds: int = 3
) -> Plan:
    """The best plan found for an order on a site, with bounds on how much better any plan could be.

    Parameters
    ----------
    site, order : as loaded.
    stop : asked all the time; once it says so, the best plan so far is returned.
    progress : told of each better plan and each bound.
    rounds : of looking ahead for a better plan, at the most; 0 keeps to the foreman's rule.
    seed : of the solver. The same inputs and seed give the same plan as long as ``stop`` is silent.

    Raises
    ------
    BadInput, OutOfRange : the site or the order cannot be right.
    NoPlanPossible : no plan keeps the rules.
    NoPlanInTime : ``stop`` said so before a first plan was found.
    """
    lines = wanted(site, order)
    check_inputs(site, order, lines)
    days = _likely_days(site, order)
    while True:
        asked = brief(site, order, days)
        limits = Limits(asked.problem)
        if not check_reach(asked, limits):
            days = min(LONGEST_DAYS, 3 * days)
            continue
        check_stock(asked, limits)
        search = Search(asked.problem, limits, Effort(1.0, stop, seed), partial(_report, progress, asked), rounds)
        found = search.run()
        if found is not None:
            return _plan(asked, found, search.bounder.curve.late_alone)
        if stop() or days >= LONGEST_DAYS or asked.problem.clear_until[-1] < 0:
            raise _no_plan(asked, days, stop)
        if search.bounder.stock_is_short:
            fault = NoPlanPossible(
                "there is not enough cement or foaming agent for the batches this order takes",
                "Add to on_hand or deliveries under stock, or order less.",
            )
            raise at(site, fault, "stock", at_key=True)
        days = min(LONGEST_DAYS, 3 * days)


def _no_plan(asked: Brief, days: int, stop: Stop) -> NoPlanPossible | NoPlanInTime:
    """What to say when the search has come back with nothing."""
    if asked.problem.clear_until[-1] < 0:
        # later days have the air of the last ones, so waiting longer is of no use
        fault = NoPlanPossible(
            f"the frost of {_frost(asked):%a %d %b %Y} does not end, and not every block can be stripped before it",
            "Add later days to the weather file, start earlier, or lower least_air.",
        )
        return at(asked.site, fault, "curing", "least_air")
    if stop():
        return NoPlanInTime("no plan was found in the time given", "Give it longer with --seconds.")
    return NoPlanInTime(
        f"no plan was found within {days} days",
        "Look for what is only just enough, or not enough: cement, foaming agent, rack places, people.",
    )


def _frost(asked: Brief) -> date:
    """First day of the frost that lasts to the end of the days looked at."""
    clear = asked.problem.clear_until
    last_clear = max((day for day in range(len(clear)) if clear[day] >= 0), default=-1)
    return asked.site.calendar.start + timedelta(days=last_clear + 1)


def _likely_days(site: Site, order: Order) -> int:
    """Calendar days that will do, generously: moulds turned every second day, or racks, whichever is slower."""
    blocks = sum(line.count for line in wanted(site, order))
    cast = sum(kind.count * kind.cavities for kind in site.moulds) / 2
    cured = sum(rack.places for rack in site.racks) / max(1.0, site.curing.rack_for_min / 1440)
    working = blocks / max(0.5, min(cast, cured))
    waits = [
        (d.day - site.calendar.start).days
        for d in (*site.stock.cement.deliveries, *site.stock.foaming_agent.deliveries)
    ]
    forecast = (site.weather.last - site.calendar.start).days
    ends = site.curing.rack_for_min / 1440
    generous = 2 * working * 7 / max(1, len(site.calendar.workdays)) + ends + 40
    return min(LONGEST_DAYS, math.ceil(generous + max([0, *waits]) + min(forecast, 60)))


def _report(progress: Report, asked: Brief, known: Known) -> None:
    progress(_progress(asked, known))


def _progress(asked: Brief, known: Known) -> Progress:
    stages = ("block_days_late", "finish", "batches", "cement")
    if known.best is None:
        return Progress(stages[0], None, None, "looking for a first plan")
    # the first stage not yet known to be as good as it can be
    at = next((i for i in range(4) if known.bounds[i] != known.best.stages[i]), 3)
    value, bound = _shown(asked, at, known.best.stages[at]), known.bounds[at]
    limit = None if bound is None else _shown(asked, at, bound)
    names = ("block-days late", "last pour", "batches", "kg of cement")
    best = f"{value:%a %d %b}" if isinstance(value, date) else f"{value:g}"
    reach = (
        ""
        if limit is None
        else f", best possible {limit:%a %d %b}"
        if isinstance(limit, date)
        else f", best possible {limit:g}"
    )
    return Progress(stages[at], value, limit, f"{names[at]}: {best}{reach}")


def _shown(asked: Brief, stage: int, number: int) -> int | float | date:
    """A stage's number in the unit it is told in."""
    if stage == 1:
        return asked.site.calendar.start + timedelta(days=number)
    if stage == 3:
        return number * asked.site.stock.cement.bag_kg / asked.steps_a_bag
    return number


def _plan(asked: Brief, found: Found, late_alone: dict[str, int]) -> Plan:
    tables = write_tables(asked, found.state)
    names = ("block_days_late", "finish", "batches", "cement")
    stages = tuple(
        Stage(name, _shown(asked, i, value), _shown(asked, i, bound), value == bound)
        for i, (name, value, bound) in enumerate(zip(names, found.score.stages, found.bounds, strict=True))
    )
    return Plan(asked.site, asked.order, tables, stages, warnings(asked, tables, late_alone), _totals(asked, tables))


def _totals(asked: Brief, tables: PlanTables) -> dict[str, float | None]:
    casts, batches, stock = tables.casts, tables.batches, asked.site.stock
    cement, agent = stock.cement.price, stock.foaming_agent.price
    bags, litres = float(batches["bags"].sum()), float(batches["agent_l"].sum())
    spare = int(casts["spare"].sum())
    return {
        "blocks": len(casts) - spare,
        "spares": spare,
        "batches": len(batches),
        "cement_kg": round(float(batches["cement_kg"].sum()), 6),
        "cement_bags": round(bags, 6),
        "water_kg": round(float(tables.materials["water_used_kg"].sum()), 6),
        "agent_l": round(litres, 6),
        "cost": None if cement is None or agent is None else round(bags * cement + litres * agent, 2),
        "thrown_away_l": round(float((batches["yield_l"] - batches["poured_l"]).sum()), 6),
        "days_of_pouring": int(batches["start"].dt.normalize().nunique()),
    }
