"""A plan that may be hung on a wall: one that its audit finds nothing wrong with, be it read or saved."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.audited import findings_in, findings_said
from blockrun.planner.folder import check_free
from blockrun.planner.saved import load_plan, save_plan, texts_of

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
    findings = findings_in(plan)
    if findings:
        see = shlex.join(["blockrun", "audit", str(directory)])
        todo = f"See all that is wrong: {see}. Put its tables back as they were, or make the plan again."
        raise BadPlan(
            f"this plan fails its audit, and nothing is made of it: {_in_short(findings)}", todo, file=directory
        )
    return plan


def save_sound_plan(
    plan: Plan, directory: str | Path, *, replace: bool = False, run: Mapping[str, object] | None = None
) -> None:
    """Save a plan, all of it or nothing, if its audit finds nothing.

    Parameters
    ----------
    plan : made from a site and an order that were read from files.
    directory : new, or empty, or with ``replace`` one that holds a plan.
    replace : put this plan in the place of the one that is there.
    run : what may differ between equal plans; kept apart from the plan.

    Raises
    ------
    BadInput : the directory is in the way, or a file of the site or the order has changed since it was read.
    BadPlan : the audit finds something, or a table holds what no file of ours may hold.
    """
    try:
        check_free(directory, replace=replace)
    except BadInput as fault:
        fault.todo = fault.todo and fault.todo.replace("add --replace", "say replace=True")
        raise
    texts_of(plan.tables)  # so that what the audit could not even read is told as that
    findings = findings_in(plan)
    if findings:
        what = f"this plan fails its audit, and is not saved: {_in_short(findings)}"
        raise BadPlan(what, "See all that is wrong with blockrun.audit.", file=directory)
    save_plan(plan, directory, replace=replace, run=run)


def _in_short(findings: list[Finding]) -> str:
    """The first finding, and how many more there are."""
    first, *more = findings_said(findings)
    return f"{first}; and {len(more)} more" if more else first
