"""The folder of a saved plan: what marks it, and whether one may be put there."""

from __future__ import annotations

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
