"""A saved plan that may be hung on a wall: one that its audit finds nothing wrong with."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING

from blockrun.errors import BadPlan
from blockrun.planner.audit import audit
from blockrun.planner.saved import load_plan

if TYPE_CHECKING:
    from blockrun.planner.audit import Finding
    from blockrun.planner.plan import Plan


def load_sound_plan(directory: str | Path) -> Plan:
    """Read a saved plan that people will work by without asking it again.

    Parameters
    ----------
    directory : where it was saved.

    Returns
    -------
    The plan, in which nothing is wrong.

    Raises
    ------
    BadPlan : as `load_plan` does, or its audit finds something.
    """
    plan = load_plan(directory)
    findings = audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals, plan.begun)
    if findings:
        see = shlex.join(["blockrun", "audit", str(directory)])
        todo = f"See all that is wrong: {see}. Put its tables back as they were, or make the plan again."
        raise BadPlan(
            f"this plan fails its audit, and nothing is made of it: {_in_short(findings)}", todo, file=directory
        )
    return plan


def _in_short(findings: list[Finding]) -> str:
    """The first finding, and how many more there are."""
    first, *more = dict.fromkeys(f"{one.said} ({one.place})" if one.place else one.said for one in findings)
    return f"{first}; and {len(more)} more" if more else first
