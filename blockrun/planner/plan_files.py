"""Where the copies of what a saved plan was made from lie, found without reading any of them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from blockrun.errors import BadPlan
from blockrun.files.text import read_text
from blockrun.planner.folder import AGAIN, MARK

BEGUN: Final = "inputs/begun.json"
"""What had happened before the plan was made, of one that was made in the middle of a job."""


def plan_files(directory: Path) -> tuple[dict[str, Path], dict[str, Path]]:
    """Where the copies of the site and of the order of a saved plan lie, by name; the files themselves under no name.

    Raises
    ------
    BadPlan : no plan is saved there, or it does not say.
    """
    if not (directory / MARK).is_file():
        raise BadPlan("no plan is saved here", "Make one with: blockrun plan SITE ORDER --out DIR", file=directory)
    try:
        facts = json.loads(read_text(directory / MARK))
        return _places(directory, facts, "site"), _places(directory, facts, "order")
    except (ValueError, KeyError, TypeError, AttributeError) as fault:
        raise BadPlan("is not what says how a plan was made", AGAIN, file=directory / MARK) from fault


def _places(directory: Path, facts: Any, kind: str) -> dict[str, Path]:
    """Where the copies of what was read lie, by the names of the files they are copies of."""
    return {name: directory / place for name, place in {"": facts["files"][kind], **facts["references"][kind]}.items()}
