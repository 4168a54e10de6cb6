"""The first plan that a search comes to, for tests that any plan of a yard will do for."""

from __future__ import annotations

from blockrun.order import Order
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan, Progress
from blockrun.site import Site


def first_plan(site: Site, order: Order) -> Plan:
    """What is planned in a moment; that no plan is better is left unproven, which is what takes time."""
    known: list[Progress] = []
    return make_plan(site, order, rounds=0, progress=known.append, stop=lambda: bool(known))


def can_be_on_time(site: Site, order: Order, rounds: int = 3) -> bool:
    """Whether a search finds a plan in which nothing is late; it ends with the first."""
    on_time: list[Progress] = []

    def hear(told: Progress) -> None:
        if told.stage == "block_days_late" and told.value == 0:
            on_time.append(told)

    plan = make_plan(site, order, rounds=rounds, progress=hear, stop=lambda: bool(on_time))
    return plan.stages[0].value == 0
