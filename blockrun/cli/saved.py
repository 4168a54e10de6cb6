"""Commands that show a plan which is saved: its days, its materials, its audit."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.apart import apart_kept
from blockrun.cli.clock import today
from blockrun.cli.options import Days, FirstDay, PlanDirectory
from blockrun.cli.thumbs import thumbs_kept
from blockrun.cli.written import write, write_pictures
from blockrun.errors import FOUND_SOMETHING, BadInput
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def days(
    directory: PlanDirectory,
    first: FirstDay = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day.")] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="FOLDER", help="Draw how slabs are sawn instead, to look at and to print.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace pictures that are there.")] = False,
) -> None:
    """Print the work of each day of a saved plan, in the order of the clock, as wide as the terminal.

    DIR is where the plan was saved.
    """
    from blockrun.planner.saved import load_plan
    from blockrun.show.days import days_text, saw_plans_shown

    saved = load_plan(directory)
    asked = Days(first, last, today()).of_plan(saved)
    if picture is not None:
        from blockrun.show.pictures.saw_plans import saw_pictures

        shown = saw_plans_shown(saved, *asked)
        if not shown:
            todo = "Pictures of walls and domes: blockrun takeoff ORDER --picture FOLDER"
            raise BadInput("no slab is poured or sawn on these days", todo)
        write_pictures(saw_pictures(shown, saved.site, saved.order.name), picture, replace=replace)
        return
    changed, thumbs = changed_said(saved, directory), thumbs_kept(saved, directory)
    say(days_text(saved, screen().width, *asked, changed, thumbs, apart_kept(directory)))


def materials(
    directory: PlanDirectory,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the days as a CSV file instead, in bags, litres and kg.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the file that is there.")] = False,
) -> None:
    """Print what a saved plan uses up by day and in all, until when the stock lasts, what to order when, and the cost.

    DIR is where the plan was saved.
    """
    from blockrun.planner.saved import load_plan
    from blockrun.show.materials import materials_list, materials_text

    saved = load_plan(directory)
    if out is None:
        say(materials_text(saved, screen().width, changed_said(saved, directory)))
    else:
        write(out, materials_list(saved), replace=replace)


def audit(directory: PlanDirectory) -> None:
    """Check a saved plan against the yard and the order it was made for, trusting none of its own figures.

    DIR is where the plan was saved.
    """
    from blockrun.planner.audit.rules import NAMES, RULES
    from blockrun.planner.audited import findings_in
    from blockrun.planner.saved import load_plan
    from blockrun.show.findings import findings_text

    plan = load_plan(directory)
    findings = findings_in(plan)
    say(findings_text(findings, len(NAMES) + len(RULES), screen().width, plan.site.units))
    if findings:
        raise typer.Exit(FOUND_SOMETHING)


def changed_said(saved: Plan, directory: Path) -> list[str]:
    """Say which tables of a plan were changed by hand, and what to do then."""
    audit_it = shlex.join(["blockrun", "audit", str(directory)])
    return [f"{name} was changed since it was saved; run: {audit_it}" for name in saved.changed]
