"""Plans: made from a site and an order, audited, saved and loaded.

What functions of this room are given, wherever they do not say otherwise:

::

    plan     one that its audit passes
    begun    what had happened before a plan was made anew in the middle of a job; None for a plan from the start
    lines    blocks to be cast, spares with them
    mixes    by their names, with the foam of the site
    strip_h  hours at 20 degC at which blocks are stripped
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from blockrun.planner.make import make_plan
    from blockrun.planner.plan import Plan, Progress
    from blockrun.planner.tables import PlanTables, Stage

__all__ = ["Plan", "PlanTables", "Progress", "Stage", "make_plan"]

_HOMES: Final = {"Plan": "plan", "PlanTables": "tables", "Progress": "plan", "Stage": "tables", "make_plan": "make"}


def __getattr__(name: str) -> Any:
    # the solver is loaded only by those who plan, tables only by those who look at some
    if name not in _HOMES:
        raise AttributeError(name)
    return getattr(importlib.import_module(f"{__name__}.{_HOMES[name]}"), name)
