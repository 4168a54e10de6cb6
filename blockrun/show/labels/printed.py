"""Labels of a plan on the sheets they are printed on."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Container, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Any, Final

from blockrun.errors import BadInput
from blockrun.show.labels.codes import code_picture
from blockrun.show.labels.stacks import laid_before, stack_labels
from blockrun.show.labels.turns import mould_labels, rack_labels, stripped_before
from blockrun.show.paper.press import Sheet, print_sheets, told_by
from blockrun.show.words import moment_said
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.show.labels.label import Label
    from blockrun.show.labels.sheet import LabelSheet
    from blockrun.show.paper.press import Head

KINDS: Final[Mapping[str, Callable[..., list[Label]]]] = {
    "moulds": mould_labels,
    "racks": rack_labels,
    "stacks": stack_labels,
}
"""What labels are for, by what ``--only`` calls it; printed in this order."""
LEAST_SQUARE_MM: Final = 0.33
"""Of a code, so that a telephone reads it at arm's length (common practice, no source)."""
_TOO_SMALL: Final = re.compile("too small for (.+)")
"""What `labels.typ` says where the shortest words do not fit."""
_LARGEST_MM: Final = 34.0
"""Of a code: it need not be larger to be scanned."""
_EDGE_MM: Final = 1.5
"""Left white inside the edge of a label: sheets slip in the printer."""
_OF_WIDTH: Final = 0.36
_MOST_OF_WIDTH: Final = 0.45
"""What of a label's width its code takes, and may take where it would be too small to scan."""


def print_labels(head: Head, labels: Sheet) -> bytes:
    """Labels as a PDF.

    Raises
    ------
    BadInput : the sheet's labels are too small for what must stand on one, or a name has letters that no font has.
    """
    from typst import TypstError

    try:
        return print_sheets(head, [labels])
    except TypstError as fault:
        if found := _TOO_SMALL.search(fault.diagnostic):
            what = f"a label of this size has no room for the name {found[1]}"
            raise BadInput(what, "Take larger labels, or a shorter name.", name="label_height") from None
        raise


def lacks_said(head: Head, labels: Sheet) -> str:
    """Say what has no room on how many labels, once they are printed; empty where each holds all of it."""
    told = told_by(head, [labels], "lacks")
    short = [lacks for lacks in told if lacks]
    if not short:
        return ""
    counts = Counter(lack for lacks in short for lack in lacks)
    said = ", ".join(f"{lack} on {n}" for lack, n in counts.items())
    have = "has" if len(short) == 1 else "have"
    return f"{len(short)} of {counted(len(told), 'label')} {have} no room for all there is to say. Left out: {said}."


def left_out_said(plan: Plan, kinds: Collection[str], days: tuple[date | None, date | None]) -> str:
    """Say that what was stripped before a plan was made anew gets no label; empty where none was, or one is asked."""
    if days[0] is not None or plan.begun is None or {*kinds} <= {"stacks"} or not stripped_before(plan):
        return ""
    since = moment_said(plan.begun.since)
    return (
        f"What was stripped before {since} has its labels and gets no others, unless --from tells its day of pouring."
    )


def labels_on_paper(
    plan: Plan,
    paper: LabelSheet,
    kinds: Collection[str] = tuple(KINDS),
    start: int = 1,
    days: tuple[date | None, date | None] = (None, None),
    thumbs: Thumbs | None = None,
    apart: Container[int] = (),
) -> Sheet:
    """Labels of a plan, one after another on sheets of labels.

    What was stripped, or laid, before a plan was made anew gets one only where a first day is told: it has those
    printed before.

    Parameters
    ----------
    plan : whose turns and courses get labels.
    kinds : of ``KINDS``.
    start : the label of the first sheet to begin with, row by row from 1: those before it are gone.
    days : the first and the last day of pouring, both included, of the labels printed; None for all.
    thumbs : what thumbs pressed into moulds say of when these are stripped.

    Raises
    ------
    BadInput : the sheet has no such label, no label is poured on these days, or a code does not fit a label.
    """
    if not 1 <= start <= paper.count:
        what = f"--start {start}: the sheet has {paper.count} labels"
        raise BadInput(what, f"Write a number from 1 to {paper.count}.", name="--start", value=start, limit=paper.count)
    over = stripped_before(plan) if days[0] is None else frozenset()
    laid = laid_before(plan) if days[0] is None else frozenset()
    makers: dict[str, Callable[..., list[Label]]] = {
        **KINDS,
        "moulds": partial(mould_labels, thumbs=thumbs, over=over),
        "racks": partial(rack_labels, over=over),
        "stacks": partial(stack_labels, over=laid),
    }
    made = (label for name, make in makers.items() if name in kinds for label in make(plan, apart=apart))
    labels = [label for label in made if _falls_in(label, days)]
    if not labels:
        raise BadInput("there is no label to print", "Ask for other days, or leave --only out.")
    return Sheet(
        "labels",
        {
            "page": [paper.page_width_mm, paper.page_height_mm],
            "label": [paper.label_width_mm, paper.label_height_mm],
            "edge": _EDGE_MM,
            "outlines": paper.outlines,
            "sheets": list(_sheets([_printed(label, paper, plan.site.units) for label in labels], paper, start)),
        },
    )


def _falls_in(label: Label, days: tuple[date | None, date | None]) -> bool:
    """Whether any of its blocks is poured on the days."""
    first, last = label.poured
    return (days[0] is None or last >= days[0]) and (days[1] is None or first <= days[1])


def _sheets(labels: Sequence[Mapping[str, Any]], paper: LabelSheet, start: int) -> Iterator[list[dict[str, Any]]]:
    left, skip = iter(labels), start - 1
    while sheet := [
        {"at": at, **label} for at, label in zip(islice(paper.places_mm(), skip, None), left, strict=False)
    ]:
        yield sheet
        skip = 0


def _printed(label: Label, paper: LabelSheet, units: str) -> dict[str, Any]:
    picture, squares = code_picture(label.code)
    return {
        "on": label.on,
        "name": label.name,
        "beside": label.beside,
        "wordings": [wording._asdict() for wording in label.wordings(units)],
        "code": picture,
        "line": label.code,
        "code_mm": _code_mm(label, squares, paper),
    }


def _code_mm(label: Label, squares: int, paper: LabelSheet) -> float:
    """How wide a code is: as high as the label takes it, but for so much of its width.

    Its white border may reach into the edge that is left white anyway.
    """
    least = squares * LEAST_SQUARE_MM
    if least > min(paper.label_height_mm - _EDGE_MM, _MOST_OF_WIDTH * paper.label_width_mm):
        what = f"the code of {label.name} would be too small to scan on a label of this size"
        todo = f"Take labels at least {least + _EDGE_MM:.0f} mm high and {least / _MOST_OF_WIDTH:.0f} mm wide."
        raise BadInput(what, todo, name="label_height", value=paper.label_height_mm)
    return max(least, min(paper.label_height_mm - _EDGE_MM, _OF_WIDTH * paper.label_width_mm, _LARGEST_MM))
