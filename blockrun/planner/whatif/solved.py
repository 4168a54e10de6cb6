"""What one site reaches and takes for an order, and what it could not beat."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blockrun.errors import BlockrunError
from blockrun.planner.plan import Stop

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.plan import Plan
    from blockrun.site import Site


@dataclass(frozen=True)
class Solved:
    """The stages of a plan, each with its bound, and what it takes.

    Attributes
    ----------
    late, finish : as found, with the least that is possible; that of the finish is for plans no later than this one.
    batches, cement_kg, bags : as found.
    cost : of cement and foaming agent, ``None`` where one has no price.
    """

    late: int
    least_late: int
    finish: date
    soonest_finish: date
    batches: int
    cement_kg: float
    bags: float
    cost: float | None

    @property
    def stages(self) -> tuple[int, date, int, float]:
        """What plans are compared by, smaller is better."""
        return (self.late, self.finish, self.batches, self.cement_kg)


@dataclass(frozen=True)
class Refused:
    """Why there is no plan."""

    why: str


Answer = Solved | Refused
"""What came of a site; ``None`` in its place where it was stopped."""


def solve(site: Site, order: Order, rounds: int, stop: Stop) -> Answer | None:
    """Plan an order on a site with a fixed amount of work.

    Parameters
    ----------
    rounds : of looking ahead, as for a plan.
    stop : once it says so there is no answer, for it could not be compared.
    """
    from blockrun.planner.make import make_plan

    try:
        plan = make_plan(site, order, rounds=rounds, stop=stop)
    except BlockrunError as fault:
        return None if stop() else Refused(fault.what)
    return None if stop() else _of(plan)


def _of(plan: Plan) -> Solved:
    late, finish, batches, _ = plan.stages
    assert isinstance(finish.value, date)
    assert isinstance(finish.bound, date)
    return Solved(
        late=_whole(late.value),
        least_late=_whole(late.bound),
        finish=finish.value,
        soonest_finish=finish.bound,
        batches=_whole(batches.value),
        cement_kg=float(plan.totals["cement_kg"] or 0),
        bags=float(plan.totals["cement_bags"] or 0),
        cost=plan.totals["cost"],
    )


def _whole(value: float | date) -> int:
    assert isinstance(value, int)
    return value
