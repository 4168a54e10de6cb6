"""What the audit finds in a whole plan, and how it is said."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockrun.planner.audit import Finding, audit

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def findings_in(plan: Plan) -> list[Finding]:
    """What is wrong with a plan, by rule; nothing for a good one."""
    return audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals, plan.begun)


def findings_said(findings: Iterable[Finding]) -> list[str]:
    """Each finding once, in a sentence, with the place to look at."""
    return list(dict.fromkeys(f"{one.said} ({one.place})" if one.place else one.said for one in findings))
