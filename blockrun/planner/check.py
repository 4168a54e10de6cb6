"""What can be said of all that a plan is asked before any search: why there can be none, in plain words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from functools import partial
from typing import TYPE_CHECKING

from blockrun import units
from blockrun.cure.pour_life import OUR_CHOICE
from blockrun.errors import BadInput, NoPlanPossible
from blockrun.mix.batches import in_bags
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.reach import PourTimes
from blockrun.order.castable import castable
from blockrun.planner.brief import Brief
from blockrun.planner.placed import at
from blockrun.planner.rounded import AGENT_UNITS_A_LITRE
from blockrun.planner.stopped import why_stopped
from blockrun.planner.supplies import KEPT_IN_HAND
from blockrun.planner.wanted import FormatKey, format_of

if TYPE_CHECKING:
    from blockrun.optimiser.state import State

LONGEST_DAYS = 1600
"""Days a plan is looked for in, at the most."""


def check_stock(asked: Brief, least_cement: int, least_agent: int) -> None:
    """Refuse an order whose blocks, by any way of weighing them into whole batches, take more than ever comes.

    Parameters
    ----------
    least_cement, least_agent : that they take, in the units of the problem.

    Raises
    ------
    BadInput : more cement or foaming agent needed than is on hand or delivered.
    """
    if asked.history is not None:
        _check_stock_left(asked, asked.history.state, least_cement, least_agent)
    site, problem = asked.site, asked.problem
    needed, there = least_cement, problem.cement.ever
    if needed > there:
        raise at(
            site,
            BadInput(
                f"the order takes at least {in_bags(needed / asked.steps_a_bag)} of cement, and only "
                f"{in_bags(there / asked.steps_a_bag)} are on hand or delivered",
                "Add deliveries under stock: cement:, or order less.",
                name="cement",
                value=float(needed / asked.steps_a_bag),
                limit=float(there / asked.steps_a_bag),
                unit="bags",
            ),
            *("stock", "cement", "on_hand"),
        )
    needed, there = least_agent, problem.agent.ever
    if needed > there:
        most, least = (units.show(n / AGENT_UNITS_A_LITRE, "volume", site.units) for n in (there, needed))
        raise at(
            site,
            BadInput(
                f"the order takes at least {least} of foaming agent, and only {most} is on hand or delivered",
                "Add deliveries under stock: foaming_agent:, or order less.",
                name="foaming_agent",
                value=needed / AGENT_UNITS_A_LITRE,
                limit=there / AGENT_UNITS_A_LITRE,
                unit="L",
            ),
            *("stock", "foaming_agent", "on_hand"),
        )


def _check_stock_left(asked: Brief, yard: State, least_cement: int, least_agent: int) -> None:
    """The same of a job that has begun: what is left of both."""
    for what, needed, there, said in _stock(asked, yard, least_cement, least_agent):
        if needed > there:
            todo = (
                f"Record what comes: blockrun record DIR delivered {what.split()[-1]} AMOUNT; "
                "or write the delivery into a copy of the site, and give it with --site."
            )
            raise NoPlanPossible(
                f"the rest takes at least {said(needed)} of {what}, and {said(there)} are left or to come", todo
            )


def tight_stock_said(asked: Brief) -> str:
    """Say of cement and agent that hardly cover what an order takes at the least, so that no plan may be found."""
    weighing = asked.limits.weighing
    yard = asked.history.state if asked.history is not None else None
    short = [
        f"{said(there)} of {what} are there and to come, and at least {said(needed)} are needed"
        for what, needed, there, said in _stock(asked, yard, weighing.least_cement, weighing.least_agent)
        if needed > (1 - KEPT_IN_HAND) * there
    ]
    return "; ".join(short)


def _stock(
    asked: Brief, yard: State | None, least_cement: int, least_agent: int
) -> Iterator[tuple[str, int, int, Callable[[int], str]]]:
    """Cement and agent: what of it is still needed at the least, and what is there or comes; with words for amounts."""
    used = (0, 0) if yard is None else (yard.cement(), yard.agent())
    for what, needed, there, gone, said in (
        ("cement", least_cement, asked.problem.cement.ever, used[0], partial(_bags_said, asked)),
        ("foaming agent", least_agent, asked.problem.agent.ever, used[1], partial(_agent_said, asked)),
    ):
        yield what, max(0, needed - gone), max(0, there - gone), said


def _bags_said(asked: Brief, steps: int) -> str:
    return in_bags(steps / asked.steps_a_bag)


def _agent_said(asked: Brief, drops: int) -> str:
    return units.show(drops / AGENT_UNITS_A_LITRE, "volume", asked.site.units)


def check_reach(asked: Brief, limits: Limits) -> bool:
    """Whether every block can be poured on some day of the problem; more days may help where it is not.

    Raises
    ------
    NoPlanPossible : no day, however many are looked at, will do.
    """
    problem, reach = asked.problem, limits.reach
    for block, key in enumerate(asked.formats):
        size = units.show_size(*key[1:4], asked.site.units)
        gives = {number for number, casting in enumerate(problem.castings) if casting.of(block)}
        kinds = [kind for kind, mould in enumerate(problem.moulds) if gives & mould.casts]
        if not kinds:
            raise _no_strip(asked, key, size)
        if all(reach.first_pour(kind, 0) is None for kind in kinds):
            if not same_for_ever(asked, limits) and problem.horizon < LONGEST_DAYS:
                return False
            if stopped := _always_stopped(asked):
                raise stopped
            if not any(reach.pours[kind].spans for kind in kinds):
                cool = replace(problem, days=tuple(replace(day, hot=()) for day in problem.days))
                may = any(PourTimes.of(cool, problem.moulds[kind]).spans for kind in kinds)
                raise _too_hot(asked, size) if may else _no_crew(asked, size)
            raise _never_ripe(asked, limits, size)
    return True


def same_for_ever(asked: Brief, limits: Limits) -> bool:
    """Whether it freezes on the last day looked at, and so on all later ones: of use is no more waiting."""
    return limits.frost.at_the_end and asked.site.weather.typical is None


def _always_stopped(asked: Brief) -> NoPlanPossible | None:
    """What to say where every day looked at is too hot or too wet to pour."""
    site, problem = asked.site, asked.problem
    if any(day.last_foam >= day.opens for day in problem.days):
        return None
    stops = [why_stopped(site, site.calendar.start + timedelta(days=day.number)) for day in problem.days]
    key = "most_air" if all("air" in why for why in stops) else "rain_stops"
    fault = NoPlanPossible(
        f"in {problem.horizon} days there is none on which a pour is allowed: on the first of them {stops[0]}",
        "Raise the limit, or look at the weather file.",
    )
    return at(site, fault, "curing", key)


def _no_strip(asked: Brief, key: FormatKey, size: str) -> NoPlanPossible:
    line = next(line for line in asked.lines if format_of(line) == key)
    kind = next(kind.kind for kind in asked.site.moulds if castable(kind, line))
    fault = NoPlanPossible(
        f"no block of {size} can be stripped: no part of a day is long enough to strip its mould and move a block",
        "Shorten strip_time or move_time, or move the breaks.",
    )
    return at(asked.site, fault, "moulds", ("kind", kind), "strip_time")


def _too_hot(asked: Brief, size: str) -> NoPlanPossible:
    fault = NoPlanPossible(
        f"no block of {size} can be poured: in no hour that is cool enough to pour a batch while it keeps "
        f"({OUR_CHOICE}) are its people there and free for as long as it takes",
        "Begin earlier in the day (hours), move chores and breaks, or pour faster (pour_time).",
    )
    return at(asked.site, fault, "pour_life", at_key=True)


def _no_crew(asked: Brief, size: str) -> NoPlanPossible:
    fault = NoPlanPossible(
        f"no block of {size} can be poured: on no day are the people of a batch there and free for as long as it takes",
        "Look at people and away, at the chores, and at the crew and the times of the mixers.",
    )
    return at(asked.site, fault, "crew", "people")


_WARMER = (
    "Wait for milder days and start later, add later days to the weather file, or heat the shed or cover the "
    "moulds and write the air that blocks then have."
)
"""Never to let them stand colder, or to strip them younger: both break blocks."""


def _never_ripe(asked: Brief, limits: Limits, size: str) -> NoPlanPossible:
    site = asked.site
    first = f"in {asked.problem.horizon} days there is none on which a block of {size} can be poured and then stripped"
    if not limits.frost.ever:
        fault = NoPlanPossible(f"{first}: it is never old enough", f"{_WARMER} {site.weather.said_beyond()}")
        return at(site, fault, "curing", "strip_at")
    least = units.show(site.curing.least_air_c, "temperature", site.units)
    fault = NoPlanPossible(
        f"{first}: the air falls under {least} before it is old enough",
        f"{_WARMER} {site.weather.said_beyond()}",
    )
    return at(site, fault, "curing", "least_air")
