"""Make a plan: whole numbers to the optimiser, its answer into tables, and how near it is to the best."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from datetime import date, timedelta
from functools import partial

from blockrun import units
from blockrun.errors import NoPlanInTime, NoPlanPossible, OutOfRange
from blockrun.optimiser.best import Found, Known
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.frost import Frost
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.search import Search
from blockrun.order import Order, OrderLine
from blockrun.planner.brief import SAWING_WORK, Brief, brief
from blockrun.planner.check import LONGEST_DAYS, at, check_inputs, check_reach, check_stock, same_for_ever
from blockrun.planner.placed import aged_in
from blockrun.planner.plan import Plan, Progress, Report, Stop, ignore, never
from blockrun.planner.sawing import Sawing, settle_sawing
from blockrun.planner.tables import STAGES, PlanTables, Stage
from blockrun.planner.wanted import wanted
from blockrun.planner.warnings import warnings
from blockrun.planner.write import write_tables
from blockrun.site import Site

_UNSOUND = (
    "How good the plan could be was worked out wrongly, so nothing is claimed: please send the site and order to us."
)


def make_plan(
    site: Site, order: Order, *, stop: Stop = never, progress: Report = ignore, seed: int = 0, rounds: int = 3
) -> Plan:
    """The best plan found for an order on a site, with bounds on how much better any plan could be.

    Parameters
    ----------
    site, order : as loaded.
    stop : asked all the time; once it says so, the best plan so far is returned.
    progress : told of each better plan and each bound.
    seed : of the solver. The same inputs and seed give the same plan as long as ``stop`` is silent.
    rounds : of looking ahead for a better plan, at the most; >= 0, and 0 keeps to the foreman's rule.

    Returns
    -------
    The best plan found. It is not audited yet.

    Raises
    ------
    BadInput : the site or the order cannot be right; OutOfRange : a mix cannot be made, or ``rounds`` is under 0.
    NoPlanPossible : no plan keeps the rules.
    NoPlanInTime : ``stop`` said so before a first plan was found.
    """
    if rounds < 0:
        raise OutOfRange("rounds is under 0", name="rounds", value=rounds, limit=0)
    lines = wanted(site, order)
    check_inputs(site, order, lines)
    sawing = settle_sawing(site, order, lines, Effort(SAWING_WORK, stop, seed))
    days = _likely_days(site, lines, sawing)
    while True:
        with aged_in(site):
            asked = brief(site, order, days, sawing)
        limits = Limits(asked.problem)
        if not check_reach(asked, limits):
            days = min(LONGEST_DAYS, 3 * days)
            continue
        check_stock(asked, limits)
        search = Search(asked.problem, limits, Effort(1.0, stop, seed), partial(_report, progress, asked), rounds)
        found = search.run()
        if found is not None:
            return _plan(asked, found, search.bounds.curve.late_alone, seed)
        if stop():
            todo = "Give it longer with --seconds, on a machine that is not busy: that there is none was not shown."
            raise NoPlanInTime("no plan was found in the time given", todo)
        if days >= LONGEST_DAYS or same_for_ever(asked, limits):
            raise _no_plan(asked, limits.frost, search.bounds)
        if search.bounds.stock_is_short:
            fault = NoPlanPossible(
                "there is not enough cement or foaming agent for the batches this order takes",
                "Add to on_hand or deliveries under stock, or order less.",
            )
            raise at(site, fault, "stock", at_key=True)
        days = min(LONGEST_DAYS, 3 * days)


def _no_plan(asked: Brief, frost: Frost, bounds: Bounds) -> NoPlanPossible | NoPlanInTime:
    """What to say when the search has come back with nothing, and more days are of no use."""
    if not frost.at_the_end:
        return NoPlanInTime(
            f"no plan was found within {asked.problem.horizon} days",
            "Look for what is only just enough, or not enough: cement, foaming agent, rack places, people.",
        )
    # later days have the air of the last ones, so waiting longer is of no use
    least = units.show(asked.site.curing.least_air_c, "temperature", asked.site.units)
    begins = asked.site.calendar.start + timedelta(days=frost.last_clear + 1)
    cold = f"the nights from {begins:%a %d %b %Y} on are all under {least}"
    todo = (
        "Wait for milder days: add them to the weather file, or start earlier; or heat the shed or cover the "
        "moulds, and write the air that blocks then have."
    )
    if bounds.impossible:
        fault = NoPlanPossible(f"{cold}, and not every block can be stripped before", todo)
        return at(asked.site, fault, "curing", "least_air")
    return at(asked.site, NoPlanInTime(f"{cold}, and no plan was found that ends before", todo), "curing", "least_air")


def _likely_days(site: Site, lines: Iterable[OrderLine], sawing: Sawing) -> int:
    """Calendar days that will do, generously: what is slowest of moulds turned every second day, racks and mixers."""
    blocks = sum(line.count for line in lines)
    sawn = Counter[str]()
    for slab in sawing.slabs:
        sawn[slab.kind.kind] = max(sawn[slab.kind.kind], len(slab.blocks))
    cast = sum(kind.count * (sawn[kind.kind] if kind.saw else kind.cavities) for kind in site.moulds) / 2
    cured = sum(rack.places for rack in site.racks) / max(1.0, site.curing.rack_for_min / MINUTES_A_DAY)
    volume_l = sum(line.volume_l * line.count for line in lines) * (1 + site.overfill)
    working = max(blocks / max(0.5, min(cast, cured)), volume_l / _mixed_a_day_l(site))
    waits = [
        (d.day - site.calendar.start).days
        for d in (*site.stock.cement.deliveries, *site.stock.foaming_agent.deliveries)
    ]
    forecast = max(0, (site.weather.last - site.calendar.start).days)
    ends = site.curing.rack_for_min / MINUTES_A_DAY
    generous = 2 * working * 7 / max(1, len(site.calendar.workdays)) + ends + 40
    return min(LONGEST_DAYS, math.ceil(generous + max([0, *waits]) + min(forecast, 60)))


def _mixed_a_day_l(site: Site) -> float:
    """About what the mixers make in a day when half of each batch is poured, as far as there are people for them."""
    minutes = sum(end - start for start, end in site.calendar.windows)
    made = sum(
        mixer.usable_volume_l
        / (mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min)
        for mixer in site.mixers
    )
    crew = sum(mixer.crew for mixer in site.mixers)
    return minutes * made * min(1.0, site.crew.people / crew) / 2


def _report(progress: Report, asked: Brief, known: Known) -> None:
    """Tell of the first stage that is not yet known to be as good as it can be."""
    if known.best is None:
        progress(Progress(next(iter(STAGES)), None, None))
        return
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


def _plan(asked: Brief, found: Found, late_alone: dict[str, int], seed: int) -> Plan:
    tables = write_tables(asked, found.state)
    stages = tuple(
        Stage(name, _told(asked, name, value), _told(asked, name, bound), value == bound)
        for name, value, bound in zip(STAGES, found.score.stages, found.bounds, strict=True)
    )
    said = warnings(asked, tables, late_alone) + ((_UNSOUND,) if not found.sound else ())
    return Plan(asked.site, asked.order, tables, stages, said, _totals(asked, tables), seed)


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
