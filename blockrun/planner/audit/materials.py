"""Cement, water and foaming agent day by day, from the rebuilt batches and the site's deliveries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.records import Material

if TYPE_CHECKING:
    from blockrun.site import Delivery


def materials_of(case: Case) -> Iterator[Material]:
    """Work out a row for each day, up to the last pour, on which something is used or delivered.

    What is left is at the end of the day, by the counts too. Deliveries before the first day are in stock on it.
    """
    stock = case.site.stock
    cement_in = _by_day(case, stock.cement.deliveries, stock.cement.bag_kg)
    agent_in = _by_day(case, stock.foaming_agent.deliveries, 1)
    used: defaultdict[int, list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    for batch in case.batches.values():
        for n, amount in enumerate((batch.cement_kg, batch.water_kg, batch.agent_l)):
            used[case.day_of(batch.start)][n] += amount
    cement_left, agent_left = stock.cement.on_hand_bags * stock.cement.bag_kg, stock.foaming_agent.on_hand_l
    cement_more, agent_more = stock_besides(case)
    last = max((case.day_of(batch.pour_to) for batch in case.batches.values()), default=-1)
    days = {*used, *cement_in, *agent_in}
    for day in sorted(days | cement_more.keys() | agent_more.keys()):
        cement_used, water_used, agent_used = used[day]
        cement_left += cement_in[day] + cement_more.get(day, 0.0) - cement_used
        agent_left += agent_in[day] + agent_more.get(day, 0.0) - agent_used
        if day in days and 0 <= day <= last:
            yield Material(
                day, cement_used, water_used, agent_used, cement_in[day], agent_in[day], cement_left, agent_left
            )


def stock_besides(case: Case) -> tuple[Mapping[int, float], Mapping[int, float]]:
    """What was there more of cement, in kg, and of agent, in L, than came and batches took, or less; by day."""
    bags = case.past.stock_besides("cement", 0.0)
    litres = case.past.stock_besides("foaming agent", to_weigh_foam(case.site).agent_l)
    return {day: amount * case.site.stock.cement.bag_kg for day, amount in bags.items()}, litres


def _by_day(case: Case, deliveries: Iterable[Delivery], unit: float) -> defaultdict[int, float]:
    amounts: defaultdict[int, float] = defaultdict(float)
    for delivery in deliveries:
        amounts[(delivery.day - case.site.calendar.start).days] += delivery.amount * unit
    return amounts
