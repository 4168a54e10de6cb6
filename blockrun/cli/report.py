"""The command that shows a saved plan on a page for a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from blockrun.cli.apart import apart_kept
from blockrun.cli.options import PlanDirectory
from blockrun.cli.which import which_plan
from blockrun.cli.written import check_out, write
from blockrun.terminal import say


def report(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The page to write, such as report.html.")],
    solid: Annotated[bool, typer.Option("--3d", help="Also show domes and buildings as solids to turn about.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the page that is there.")] = False,
) -> None:
    """Show a saved plan on one page for any browser: every block by date, the yard over time, what holds it back.

    DIR is where the plan was saved. The page needs no network, and prints.
    """
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.report.page import report_page
    from blockrun.show.report.parts import has_solids

    check_out(out, ".html", "reports")
    saved = load_sound_plan(directory)
    page = report_page(saved, solid=solid, apart=apart_kept(directory), which=which_plan(directory))
    write(out, page, replace=replace)
    if solid and not has_solids(saved):
        say("Nothing to turn about: this order has no dome and no building, and the page is as it is without --3d.")
