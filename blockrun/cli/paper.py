"""The command that prints a saved plan on paper, for the wall of the yard."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.apart import apart_kept
from blockrun.cli.clock import today
from blockrun.cli.options import Days, FirstDay, PlanDirectory
from blockrun.cli.thumbs import thumbs_kept
from blockrun.cli.which import which_plan
from blockrun.cli.written import check_out, write
from blockrun.errors import BadInput
from blockrun.show.paper.size import Paper
from blockrun.terminal import complain, say, screen

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.show.paper.press import Head


def paper(
    directory: PlanDirectory,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The PDF file to write.")],
    first: FirstDay = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day.")] = None,
    only: Annotated[
        str | None, typer.Option(metavar="NAMES", help="Some sheets or labels only, commas between.")
    ] = None,
    labels: Annotated[
        Path | None,
        typer.Option(metavar="SHEET", help="Print labels instead; SHEET measures theirs, as configs/labels.yaml does."),
    ] = None,
    start: Annotated[int, typer.Option(metavar="NUMBER", help="Label of the first sheet to begin with.")] = 1,
    size: Annotated[
        Paper | None,
        typer.Option(
            "--paper",
            metavar="a4|letter",
            case_sensitive=False,
            help="Size, else A4, or Letter where the site prints in US.",
        ),
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the file that is there.")] = False,
) -> None:
    """Print a saved plan for the wall of the yard, or labels for its moulds, racks and stacks, as a PDF.

    DIR is where the plan was saved. Sheets are cautions, weeks, saws, cuts, materials, blocks, domes, days and cards;
    and templates of domes, in full size, by name alone.
    """
    check_out(out, ".pdf", "sheets and labels")
    days = Days(first, last, today())
    if labels is not None:
        if size is not None:
            raise BadInput("a sheet of labels has its own size", "Leave --paper out.", name="--paper")
        _write_labels(directory, labels, out, kinds=only, start=start, days=days, replace=replace)
        return
    if start != 1:
        raise BadInput("--start is of a sheet of labels", "Add --labels, or leave --start out.", name="--start")
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.paper.asked import Asked
    from blockrun.show.paper.press import print_sheets
    from blockrun.show.paper.sheets import long_said, read_names, sheets_of

    names = read_names(only)
    saved = load_sound_plan(directory)
    asked = Asked(saved, *days.of_plan(saved), thumbs_kept(saved, directory), apart_kept(directory))
    if long := long_said(asked, names):
        complain(fill(long, screen().width, break_on_hyphens=False))
    sheets = list(sheets_of(asked, names))
    if not sheets:
        if first is None and last is None:
            raise BadInput("this plan has no such pages", "Leave --only out, or ask for others.", name="--only")
        raise BadInput("there is nothing to print", "Leave --only out, or ask for other days.")
    head = _head(saved, directory, size or (Paper.LETTER if saved.site.units == "US" else Paper.A4))
    write(out, print_sheets(head, sheets), replace=replace)


def _write_labels(
    directory: Path,
    sheet: Path,
    out: Path,
    *,
    kinds: str | None,
    start: int,
    days: Days,
    replace: bool,
) -> None:
    """Write labels of a plan, and say what has no room on them."""
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.labels import (
        KINDS,
        labels_on_paper,
        lacks_said,
        left_out_said,
        load_label_sheet,
        print_labels,
    )
    from blockrun.show.page import Page
    from blockrun.show.paper.sheets import named

    names, paper = named(kinds, [*KINDS], [*KINDS]), load_label_sheet(sheet)
    saved = load_sound_plan(directory)
    head = _head(saved, directory, Paper.A4)
    told = thumbs_kept(saved, directory), apart_kept(directory)
    asked = days.of_plan(saved)
    labels = labels_on_paper(saved, paper, names, start, asked, *told)
    write(out, print_labels(head, labels), replace=replace)
    lacks = lacks_said(head, labels)
    lines = [f"{lacks} Larger labels hold more." * bool(lacks), left_out_said(saved, names, asked)]
    if any(lines):
        page = Page(screen().width)
        for line in filter(None, lines):
            page.line(line)
        say(page.text())


def _head(saved: Plan, directory: Path, size: Paper) -> Head:
    """What stands on every page."""
    from blockrun.show.paper.press import Head

    site, order = saved.site, saved.order
    return Head(f"{site.name}: {order.name}", site.name, order.name, which_plan(directory), size, site.units)
