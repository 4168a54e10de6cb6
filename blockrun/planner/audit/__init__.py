"""The audit: reads a plan as a stranger would, and says in words what is wrong with it.

It is written from the meanings alone and shares nothing with the search that makes plans. From a plan it takes
only what is decided: which block lies in which cavity, turn, batch and rack; the start and the bags of a batch;
when sides come off and when a mould is stripped and cleaned. All else is worked out again and compared.

A plan passes four gates, and is judged no further where one finds something: its cells can be read, its names
are known, what had happened before it is written as it happened, its rules are kept. By rules on how something is done
what had happened is not judged; all that follows from it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.cells import unreadable_cells
from blockrun.planner.audit.finding import Finding, findings_of
from blockrun.planner.audit.records import records_of
from blockrun.planner.audit.rules import HAPPENED, NAMES, RULES

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.begun.facts import Begun
    from blockrun.planner.tables import PlanTables, Stage
    from blockrun.site import Site

__all__ = ["Finding", "audit"]


def audit(
    site: Site,
    order: Order,
    tables: PlanTables,
    stages: Sequence[Stage],
    totals: Mapping[str, object] | None = None,
    begun: Begun | None = None,
) -> list[Finding]:
    """Check a whole plan.

    Parameters
    ----------
    site, order : what was asked; they are taken as right.
    tables : the plan's tables, as planned or as loaded; trusted in nothing.
    stages : what the plan says it reached, in order.
    totals : what it says in sum; not judged when None.
    begun : what had happened, where the plan was made anew; taken as right, and the site as it was by then.

    Returns
    -------
    What is wrong, by rule; nothing for a good plan.
    """
    start = site.calendar.start
    unreadable = [Finding("readable cells", where, said) for where, said in unreadable_cells(tables, start)]
    if unreadable:
        return unreadable
    case = Case(site, order, records_of(tables, start), stages, totals, begun)
    for gate in (NAMES, HAPPENED, RULES):
        findings = [finding for rule in gate for finding in findings_of(rule, case)]
        if findings:
            return findings
    return []
