"""The folder of a saved plan: what marks it, whether one may be put there, when it was, which were there before."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Final

from blockrun.files.writing import check_place

MARK: Final = "plan.json"
EARLIER: Final = "earlier"

AGAIN: Final = "Make the plan again, or put the file back as it was."
"""What to do where a file of it is not as it was saved."""


def check_free(directory: str | Path, *, replace: bool = False) -> None:
    """Refuse a place at which a plan would not be saved; ask before long work.

    Raises
    ------
    BadInput : something is there that is not to be replaced, or is no plan.
    """
    check_place(Path(directory), replace=replace, mark=MARK)


def when_made(directory: str | Path) -> datetime | None:
    """When a saved plan was made; None where nothing says so, for a plan is as good without."""
    try:
        told = json.loads((Path(directory) / "run.json").read_text(encoding="utf-8"))
        return datetime.fromisoformat(told["when"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def earlier_plans(directory: Path) -> dict[int, Path]:
    """Folders of the plans of a job before the one in hand, by number."""
    marks = (directory / EARLIER).glob(f"*/{MARK}")
    return {int(mark.parent.name): mark.parent for mark in sorted(marks) if mark.parent.name.isdecimal()}
