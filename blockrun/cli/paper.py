"""The command that prints a saved plan on paper, for the wall of the yard."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from blockrun.cli.options import FirstDay, PlanDirectory, day
from blockrun.cli.saved import thumbs_kept
from blockrun.cli.written import write
from blockrun.errors import BadInput
from blockrun.show.paper.press import Paper


def paper(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The PDF file to write.")],
    first: FirstDay = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day.")] = None,
    only: Annotated[str | None, typer.Option(metavar="NAMES", help="Some sheets only, commas between.")] = None,
    size: Annotated[
        Paper | None,
        typer.Option("--paper", metavar="a4|letter", help="Size, else A4, or Letter where the site prints in US."),
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the file that is there.")] = False,
) -> None:
    """Print a saved plan for the wall of the yard, as a PDF of A4 or Letter pages.

    DIR is where the plan was saved.
    """
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.paper.asked import Asked
    from blockrun.show.paper.press import Head, print_sheets
    from blockrun.show.paper.sheets import read_names, sheets_of

    names, from_day, to_day = read_names(only), day(first, "--from"), day(last, "--to")
    saved = load_sound_plan(directory)
    asked = Asked(saved, from_day, to_day, thumbs_kept(saved, directory))
    sheets = list(sheets_of(asked, names))
    if not sheets:
        raise BadInput("there is nothing to print", "Leave --only out, or ask for other days.")
    site, order = saved.site, saved.order
    size = size or (Paper.LETTER if site.units == "US" else Paper.A4)
    head = Head(f"{site.name}: {order.name}", site.name, order.name, _made(directory), size, site.units)
    write(out, print_sheets(head, sheets), replace=replace)


def _made(directory: Path) -> str:
    """When a plan was made, as far as is known."""
    from blockrun.show.words import clock, full_day_name

    try:
        made = datetime.fromisoformat(json.loads((directory / "run.json").read_text(encoding="utf-8"))["when"])
    except (OSError, ValueError, KeyError, TypeError):
        return ""
    return f"{full_day_name(made.date())}, {clock(made)}"
