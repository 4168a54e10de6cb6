"""Commands that write a saved plan for other programs: a calendar for phones, a workbook."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from blockrun.cli.apart import apart_kept
from blockrun.cli.options import PlanDirectory
from blockrun.cli.thumbs import thumbs_kept
from blockrun.cli.which import which_plan
from blockrun.cli.written import check_out, write
from blockrun.terminal import say, screen


def calendar(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The .ics file to write.")],
    update: Annotated[
        Path | None, typer.Option(metavar="FILE", help="One written before: what fell away since is cancelled.")
    ] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="Replace the file that is there, and cancel what fell away since.")
    ] = False,
) -> None:
    """Write a saved plan as a calendar for phones: whole days to order, pour, strip, crush cubes and lay.

    DIR is where the plan was saved. Import the file again after each new plan: entries change, and none doubles.
    """
    from blockrun.planner.folder import when_made
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.calendar.entries import entries_of
    from blockrun.show.calendar.ics import calendar_of, ics_of
    from blockrun.show.calendar.kept import read_kept
    from blockrun.show.page import Page

    check_out(out, ".ics", "calendars")
    saved = load_sound_plan(directory)
    before = update or (out if replace and out.exists() else None)
    entries = entries_of(saved, thumbs_kept(saved, directory), apart_kept(directory))
    written = calendar_of(saved, entries, when_made(directory), read_kept(before) if before else ())
    write(out, ics_of(written), replace=replace)
    page = Page(screen().width)
    page.line(f"{written.said}. Import it into a calendar of its own.")
    say(page.text())


def workbook(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The .xlsx file to write.")],
    replace: Annotated[bool, typer.Option("--replace", help="Replace the file that is there.")] = False,
) -> None:
    """Write a saved plan as a workbook to sort, filter and add up: a summary, its courses, and all its tables.

    DIR is where the plan was saved. What is measured is in the units of the site, as the names of the columns say.
    """
    from blockrun.planner.folder import when_made
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.workbook.xlsx import workbook_of

    check_out(out, ".xlsx", "workbooks")
    book = workbook_of(load_sound_plan(directory), when_made(directory), which_plan(directory), apart_kept(directory))
    write(out, book, replace=replace)
