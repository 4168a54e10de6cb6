"""What was recorded, read back, and how each thing is recorded."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from blockrun.show.page import ALARM, HEADING, Page
from blockrun.show.words import capital

if TYPE_CHECKING:
    from rich.text import Text


def recorded_text(
    said: Sequence[tuple[int, str]], warnings: Iterable[str], width: int, units: str, *, known: bool
) -> Text:
    """Read back what was recorded.

    Parameters
    ----------
    said : numbers of entries, and a sentence of each.
    warnings : of other entries that cannot have been now.
    known : it was there before.
    """
    page = Page(width, units)
    if known:
        page.line("Recorded already, and counted once:")
    indent = max(len(str(number)) for number, _ in said) + 2 if said else 0
    for number, sentence in said:
        page.line(capital(sentence), label=f"{number}:", indent=indent)
    for warning in warnings:
        page.line(("Look at this: ", ALARM), warning)
    return page.text()


def forms_text(forms: Iterable[str], width: int) -> Text:
    """Say what may be recorded, and how it is written."""
    page = Page(width)
    page.line(("What may be recorded, behind blockrun record DIR:", HEADING))
    for form in forms:
        page.item(form)
    page.line("A batch is thrown that was mixed and came into no mould; blocks are rejected, in a mould or out of it.")
    page.line("A BATCH behind of is a number, or others: all that are not set apart.")
    page.line("MOULD ... is one or some: ring-5/1-4, or b01 b02. A DAY is 9 Apr, 2027-04-09 or yesterday.")
    page.line("What a scanner reads off a label of a mould, or on a rack, may stand in place of a MOULD or a BATCH.")
    page.line("LOAD is what the press shows: 52kN, 3000lbf, or 5.2MPa or 750psi. SIZE is 100x100mm or 4x4in.")
    page.line("Words in capitals are yours, those in brackets may be left out, and | parts one from another.")
    return page.text()
