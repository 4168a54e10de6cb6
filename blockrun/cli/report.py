"""The command that shows a saved plan on a page for a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from blockrun.cli.options import PlanDirectory
from blockrun.cli.written import write
from blockrun.errors import BadInput

_PAGES = {".html", ".htm"}


def report(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The page to write, such as report.html.")],
    solid: Annotated[bool, typer.Option("--3d", help="Also show domes and buildings as solids to turn about.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the page that is there.")] = False,
) -> None:
    """Show a saved plan on one page for any browser: every block by date, the yard over time, what holds it back.

    DIR is where the plan was saved. The page needs no network, and prints.
    """
    if out.suffix.lower() not in _PAGES:
        what = f"the report is a page for a browser, and {out.name} is named as something else"
        raise BadInput(what, f"Write --out {out.with_suffix('.html')}")
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.report.page import report_page

    write(out, report_page(load_sound_plan(directory), solid=solid), replace=replace)
