"""Make a plan: the site and the order checked, put into whole numbers and searched, over as many days as it takes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING

from blockrun import units
from blockrun.errors import NoPlanInTime, NoPlanPossible, OutOfRange
from blockrun.files.day_names import full_day_name
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.order import Order, OrderLine
from blockrun.planner.begun.lines import to_cast
from blockrun.planner.begun.moulds import check_moulds
from blockrun.planner.brief import Brief, brief
from blockrun.planner.check import LONGEST_DAYS, check_reach, check_stock, same_for_ever, tight_stock_said
from blockrun.planner.inputs import check_inputs
from blockrun.planner.placed import aged_in, at
from blockrun.planner.plan import Plan, Report, Stop, ignore, never
from blockrun.planner.saw_plans import sawing_of, to_saw
from blockrun.planner.sawing import NOTHING_SAWN, Sawing
from blockrun.planner.slabs import sawable
from blockrun.planner.solvers import Here, Solver
from blockrun.planner.wanted import wanted
from blockrun.site import Site, Strength

if TYPE_CHECKING:
    from blockrun.optimiser.best import Known
    from blockrun.optimiser.outcome import Outcome
    from blockrun.planner.begun.old import GoingOn


def make_plan(
    site: Site,
    order: Order,
    *,
    stop: Stop = never,
    progress: Report = ignore,
    seed: int = 0,
    rounds: int = 3,
    last: Plan | None = None,
    on: GoingOn | None = None,
) -> Plan:
    """The best plan found for an order on a site, with bounds on how much better any plan could be.

    Parameters
    ----------
    site, order : as loaded.
    stop : asked all the time; once it says so, the best plan so far is returned.
    progress : told of each better plan and each bound.
    seed : of the solver. The same inputs and seed give the same plan as long as ``stop`` is silent.
    rounds : of playing on the best plans so far, at the most; >= 0.
    last : a plan made in this process for a site and order that differ little, by a closed day, other air or a late
        delivery: its days before that are kept, which takes a third of the time.
    on : what the plan goes on from, where the job has begun; the site is then as it is by now, see
        `blockrun.planner.begun.site.site_begun`.

    Returns
    -------
    The best plan found. It is not audited yet.

    Raises
    ------
    BadInput : the site or the order cannot be right; OutOfRange : a mix cannot be made, or ``rounds`` is under 0.
    NoPlanPossible : no plan keeps the rules.
    NoPlanInTime : ``stop`` said so before a first plan was found.
    TypeError : the site or the order is something else, such as the name of its file.
    """
    for name, given, due in (("site", site, Site), ("order", order, Order)):
        if not isinstance(given, due):
            raise TypeError(f"{name} is {type(given).__name__}, and what blockrun.load_{name} returns is due")
    from blockrun.planner.finished import finished, report

    solver = Here(stop, last.answer if last else None)
    asked, outcome = searched(
        site, order, solver, lambda asked, known: report(progress, asked, known), seed, rounds, on
    )
    assert outcome.found is not None
    return finished(asked, outcome.found, seed)


def searched(
    site: Site,
    order: Order,
    solver: Solver,
    told: Callable[[Brief, Known], None],
    seed: int,
    rounds: int,
    on: GoingOn | None = None,
) -> tuple[Brief, Outcome]:
    """What the search is asked and what comes of it, a plan always.

    Parameters
    ----------
    solver : settles how slabs are sawn, and searches.
    told : hears of each better plan and each bound.
    on : what the plan goes on from, where the job has begun.
    site, order, seed, rounds : as for ``make_plan``, whose errors are raised.
    """
    if rounds < 0:
        raise OutOfRange("rounds is under 0", name="rounds", value=rounds, limit=0)
    begun = on.begun if on else None
    lines = wanted(site, order, begun)
    check_inputs(site, order, lines)
    slabs = tuple(sawable(site, order, to_cast(lines, begun)))
    sawing = sawing_of(slabs, solver.saw([to_saw(of) for of in slabs], seed)) if slabs else NOTHING_SAWN
    days = _likely_days(site, lines, sawing) + (on.days_gone(site) if on else 0)
    while True:
        with aged_in(site):
            asked = brief(site, order, days, sawing, begun)
        if on is not None:
            check_moulds(asked)
            asked = replace(asked, old=on.old_in(asked))
        elif not check_reach(asked, asked.limits):
            days = min(LONGEST_DAYS, 3 * days)
            continue
        outcome = solver.search(asked, seed, rounds, partial(told, asked))
        if outcome.takes is not None:
            check_stock(asked, *outcome.takes)
        if outcome.found is not None:
            return asked, outcome
        if solver.stop():
            raise _no_time(asked)
        _check_more_days(asked, outcome, days)
        days = min(LONGEST_DAYS, 3 * days)


def _no_time(asked: Brief) -> NoPlanInTime:
    """What to say when the time was over before there was a plan: what hardly is enough, as far as arithmetic tells."""
    tight = tight_stock_said(asked)
    longer = "with --seconds, on a machine that is not busy: that there is none was not shown."
    todo = f"{tight}: order more, or give it longer {longer}" if tight else f"Give it longer {longer}"
    return NoPlanInTime("no plan was found in the time given", todo)


def _check_more_days(asked: Brief, outcome: Outcome, days: int) -> None:
    """Refuse what a search over more days than these would not find either."""
    if days >= LONGEST_DAYS or same_for_ever(asked, asked.limits):
        raise _no_plan(asked, impossible=outcome.impossible)
    if outcome.stock_is_short:
        fault = NoPlanPossible(
            "there is not enough cement or foaming agent for the batches this order takes",
            "Add to on_hand or deliveries under stock, or order less.",
        )
        raise at(asked.site, fault, "stock", at_key=True)


def _no_plan(asked: Brief, *, impossible: bool) -> NoPlanPossible | NoPlanInTime:
    """What to say when the search has come back with nothing, and more days are of no use."""
    frost = asked.limits.frost
    if not frost.at_the_end:
        return NoPlanInTime(
            f"no plan was found within {asked.problem.horizon} days",
            "Look for what is only just enough, or not enough: cement, foaming agent, rack places, the stack, people.",
        )
    # later days have the air of the last ones, so waiting longer is of no use
    least = units.show(asked.site.curing.least_air_c, "temperature", asked.site.units)
    begins = asked.site.calendar.start + timedelta(days=frost.last_clear + 1)
    cold = f"the nights from {full_day_name(begins)} on are all under {least}"
    todo = (
        "Wait for milder days: add them to the weather file, or start earlier; or heat the shed or cover the "
        "moulds, and write the air that blocks then have."
    )
    if impossible:
        fault = NoPlanPossible(f"{cold}, and not every block can be stripped before", todo)
        return at(asked.site, fault, "curing", "least_air")
    return at(asked.site, NoPlanInTime(f"{cold}, and no plan was found that ends before", todo), "curing", "least_air")


def _likely_days(site: Site, lines: Iterable[OrderLine], sawing: Sawing) -> int:
    """Calendar days that will do, generously: by the slowest of moulds turned every second day, racks, stack, mixer."""
    blocks = sum(line.count for line in lines)
    sawn = Counter[str]()
    for slab in sawing.slabs:
        sawn[slab.kind.kind] = max(sawn[slab.kind.kind], len(slab.blocks))
    cast = sum(kind.count * (sawn[kind.kind] if kind.saw else kind.cavities) for kind in site.moulds) / 2
    stacked = _stacked_a_day(site)
    cured = sum(rack.places for rack in site.racks) / max(1.0, site.curing.rack_for_min / MINUTES_A_DAY)
    volume_l = sum(line.volume_l * line.count for line in lines) * (1 + site.overfill)
    working = max(blocks / max(0.5, min(cast, cured, stacked)), volume_l / _mixed_a_day_l(site))
    waits = [
        (d.day - site.calendar.start).days
        for d in (*site.stock.cement.deliveries, *site.stock.foaming_agent.deliveries)
    ]
    if site.stack is not None:
        waits += [(line.needed - site.calendar.start).days for line in lines if line.needed is not None]
    forecast = max(0, (site.weather.last - site.calendar.start).days)
    ends = site.curing.rack_for_min / MINUTES_A_DAY
    generous = 2 * working * 7 / max(1, len(site.calendar.workdays)) + ends + 40
    return min(LONGEST_DAYS, math.ceil(generous + max([0, *waits]) + min(forecast, 60)))


def _stacked_a_day(site: Site) -> float:
    """About the blocks that a small stack takes in a day, each of them until it is old enough to lay."""
    lay_min = site.curing.lay_at_min
    if site.stack is None or isinstance(lay_min, Strength):
        return math.inf
    days = 1 + max(0, lay_min - site.curing.rack_for_min) / MINUTES_A_DAY
    return site.stack.places * site.stack.layers / days


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
