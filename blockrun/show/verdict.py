"""What there is to say of a journal that was looked through."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.show.page import ALARM, HEADING, Page
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from rich.text import Text

MOST: Final = 10
"""Faults and notes that are told one by one."""


def verdict_text(path: Path, entries: int, faults: Sequence[str], notes: Sequence[str], width: int) -> Text:
    """Say whether a journal is whole.

    Parameters
    ----------
    entries : how many it has, or how many of a damaged one can be saved.
    faults, notes : sentences without a full stop.
    """
    page = Page(width)
    if not faults:
        page.line(
            ("The journal is whole: ", HEADING), f"{counted(entries, 'entry', 'entries')}, each as it was written."
        )
    else:
        page.line(("THE JOURNAL IS DAMAGED. ", ALARM), f"{counted(entries, 'entry', 'entries')} can be saved.")
        _listed(page, faults)
        page.line("Copy the file as it is, and record nothing until then. Then write what can be saved into a new one:")
        page.line(shlex.join(["blockrun", "verify", str(path.parent), "--save", "saved.sqlite"]), indent=2)
        page.line(f"Put that in the place of {path}, or the last copy, whichever has more.")
    _listed(page, notes)
    return page.text()


def saved_said(saved: int, missing: Sequence[int], place: Path) -> str:
    """``398 entries saved in saved.sqlite; entries 3 and 7 could not be read``."""
    spans: list[list[int]] = []
    for number in missing:
        if spans and number == spans[-1][-1] + 1:
            spans[-1][1:] = [number]
        else:
            spans.append([number])
    what = "entry" if len(missing) == 1 else "entries"
    lost = f"; {what} {listed([' to '.join(map(str, span)) for span in spans])} could not be read" if missing else ""
    return f"{counted(saved, 'entry', 'entries')} saved in {place}{lost}"


def _listed(page: Page, sentences: Sequence[str]) -> None:
    for sentence in sentences[:MOST]:
        page.item(f"{sentence}.")
    if len(sentences) > MOST:
        page.line(f"and {len(sentences) - MOST} more.", indent=2)
