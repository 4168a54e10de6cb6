"""A plan: the site and the order it is for, its tables, and how near the best possible it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.optimiser.changed import Last
    from blockrun.order import Order, OrderLine
    from blockrun.planner.begun import Begun
    from blockrun.planner.tables import PlanTables, Stage
    from blockrun.site import Site


@dataclass(frozen=True)
class Progress:
    """What is known once there is a plan: a stage, the best so far and the best possible, ``None`` until known."""

    stage: str
    value: int | float | date
    bound: int | float | date | None


@dataclass(frozen=True)
class Plan:
    """A whole plan.

    Attributes
    ----------
    site, order : what it was made for.
    tables : casts, batches, tasks and materials.
    stages : block-days late, finish, batches, cement, in this order.
    warnings : sentences for the builder.
    totals : blocks, spares, batches, cement_kg, cement_bags, water_kg, agent_l, cost (None without
        prices), thrown_away_l, days_of_pouring.
    seed : of the solver.
    begun : what had happened before it, of a plan that was made anew; the site is then as it was by that moment.
    changed : files of the tables in which something was changed since the plan was saved.
    answer : of the optimiser, for a plan made in this process; not saved.
    """

    site: Site
    order: Order
    tables: PlanTables
    stages: tuple[Stage, ...]
    warnings: tuple[str, ...]
    totals: dict[str, float | None]
    seed: int = 0
    begun: Begun | None = None
    changed: tuple[str, ...] = ()
    answer: Last | None = field(default=None, repr=False, compare=False)

    @cached_property
    def ordered(self) -> tuple[OrderLine, ...]:
        """Lines of the order, taken off once: dated by the working days of the site, spares aside."""
        from blockrun.order import takeoff

        return tuple(takeoff(self.order, self.site.calendar, self.site.moulds))

    @cached_property
    def found(self) -> tuple[OrderLine, ...]:
        """Blocks ordered that are not among its casts: a count had found that they are there."""
        from blockrun.planner.begun.lines import found_of

        return found_of(lambda: self.ordered, self.begun)


Stop = Callable[[], bool]
Report = Callable[[Progress], None]


def never() -> bool:
    """Never ask the search to stop."""
    return False


def ignore(progress: Progress) -> None:
    """Say nothing of the progress."""
