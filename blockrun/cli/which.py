"""Which plan of a job it is that is printed or written out, for the commands that do so."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def which_plan(directory: Path) -> str:
    """``plan 3 of Fri 9 Apr 2027, 18:53, in place of plan 2``."""
    from blockrun.planner.earlier import begun_of, number_of
    from blockrun.planner.folder import when_made
    from blockrun.show.words import which_plan_said

    begun = begun_of(directory)
    return which_plan_said(number_of(directory), when_made(directory), begun.after if begun else None)
