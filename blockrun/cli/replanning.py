"""The command that plans anew from what happened, and goes back."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.clock import this_minute
from blockrun.cli.guarded import ON_AND_ON, ROUNDS, planned
from blockrun.cli.options import PLAN_SECONDS, PlanDirectory, time_allowed
from blockrun.cli.written import changed_since
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.planner.as_read import AsRead
    from blockrun.planner.guard import Guard
    from blockrun.planner.plan import Plan
    from blockrun.yard.replan.going_on import Job


def replan(
    directory: PlanDirectory,
    at: Annotated[
        str | None, typer.Option(metavar="WHEN", help='From when on, else now: 10:40 or "2027-04-13 07:30".')
    ] = None,
    site: Annotated[
        Path | None, typer.Option(metavar="SITE", help="The site as it is now, else as the plan before has it.")
    ] = None,
    order: Annotated[
        Path | None, typer.Option(metavar="ORDER", help="The order as it is now, else as the plan before has it.")
    ] = None,
    weather: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The forecast as it is now, in place of the one before.")
    ] = None,
    seconds: Annotated[
        str | None,
        typer.Option(metavar="S", help="Go on for so long, or until all is proven; else until it seldom gets better."),
    ] = None,
    try_it: Annotated[bool, typer.Option("--try", help="Say what would change, and save nothing.")] = False,
    undo: Annotated[bool, typer.Option("--undo", help="Go back to the plan before; this one is kept too.")] = False,
) -> None:
    """Plan anew from what was recorded: what is poured stays, the rest is planned from the yard as it is.

    DIR is where the plan was saved; the new one takes its place, and the old one is kept by number in it. Among equally
    good plans it is the one that changes least on the next two working days.
    """
    if undo:
        _go_back(directory)
        return
    from blockrun.yard.replan.going_on import Changed, Job

    now = this_minute()
    allowed = time_allowed(seconds) or PLAN_SECONDS
    with Job(directory, now, at, Changed(site, order, weather)) as job:
        made = planned(job.asked, lambda *found: _tell(job, *found, try_it=try_it), allowed, rounds=_rounds(seconds))
        if made is None:
            from blockrun.show.replanned import stays_text

            say(stays_text(screen().width, job.since_said))


def _rounds(seconds: str | None) -> int:
    return ON_AND_ON if seconds else ROUNDS


def _tell(job: Job, made: Plan, guard: Guard, run: dict[str, object], files: AsRead, *, try_it: bool) -> None:
    from blockrun.show.page import Page
    from blockrun.show.replanned import replanned_text

    told, changed = job.replanned(made, guard.carried_on), list(changed_since(files))
    if not try_it:
        from blockrun.planner.earlier import set_aside
        from blockrun.planner.saved import save_plan

        job.check_still()
        set_aside(job.directory)
        save_plan(made, job.directory, replace=True, run=run, files=files)
    say(replanned_text(told, screen().width, str(job.directory), tried=try_it))
    for line in changed:
        page = Page(screen().width)
        page.line(line)
        say(page.text())


def _go_back(directory: Path) -> None:
    from blockrun.planner.earlier import bring_back
    from blockrun.show.page import Page

    left, now = bring_back(directory)
    page = Page(screen().width)
    page.line(f"Plan {now} is in {directory} again; plan {left} is kept too.")
    say(page.text())
