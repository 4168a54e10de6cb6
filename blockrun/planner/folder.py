"""The folder of a saved plan: what marks it, whether one may be put there, and when it was."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Final

from blockrun.files.writing import check_place

MARK: Final = "plan.json"


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
