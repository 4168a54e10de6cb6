"""Plans: made from a site and an order, audited, saved and loaded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.planner.plan import Plan, Progress
from blockrun.planner.tables import PlanTables, Stage

if TYPE_CHECKING:
    from blockrun.planner.make import make_plan

__all__ = ["Plan", "PlanTables", "Progress", "Stage", "make_plan"]


def __getattr__(name: str) -> object:
    # the solver is loaded only by those who plan
    if name == "make_plan":
        from blockrun.planner.make import make_plan

        return make_plan
    raise AttributeError(name)
