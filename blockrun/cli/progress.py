"""The command that says how a job stands against its plan."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Annotated

import typer

from blockrun.cli.clock import this_minute
from blockrun.cli.options import PlanDirectory
from blockrun.terminal import say, screen


def status(
    directory: PlanDirectory,
    at: Annotated[
        str | None, typer.Option(metavar="WHEN", help='Else now: 10:40, "yesterday 16:00" or "2027-04-13 07:30".')
    ] = None,
    rates: Annotated[
        Path | None, typer.Option(metavar="FILE", help="What was assumed to break, as for risk; else its numbers.")
    ] = None,
) -> None:
    """Say how a job stands by what was recorded: progress, late parts, stock, broken and rejected, charts.

    DIR is where the plan was saved. What is still to come is taken to go as planned.
    """
    from blockrun.files.moments import moment_meant
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.planner.risk.rates import Rates, load_rates
    from blockrun.show.status import status_text
    from blockrun.yard.journal import entries_kept
    from blockrun.yard.record.known import span_of
    from blockrun.yard.status.standing import progress_of

    now = this_minute()
    plan, assumed = load_as_planned(directory), Rates() if rates is None else load_rates(rates)
    moment = now if at is None else moment_meant(at, now, span_of(plan, now.date()))
    progress = progress_of(plan, entries_kept(directory), moment, assumed)
    commands = {command: shlex.join(["blockrun", command, str(directory)]) for command in ("replan", "record")}
    say(status_text(progress, plan.site.units, screen().width, commands["replan"], f"{commands['record']} day"))
