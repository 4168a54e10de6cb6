"""Which files in the folder of a saved plan are its own; all else there, a journal or notes, is somebody else's."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.columns import COLUMNS
from blockrun.planner.folder import MARK
from blockrun.planner.plan_files import BEGUN, plan_files


def own_files(directory: Path) -> list[str]:
    """Files of a saved plan that are there, by their names in its folder.

    Of one that does not say any more what it was made from, only those that every plan has.
    """
    named = (MARK, "run.json", *(f"{table}.csv" for table in COLUMNS), *_inputs(directory))
    return [name for name in named if (directory / name).is_file()]


def _inputs(directory: Path) -> Iterator[str]:
    """Copies of what a plan was made from; never what a plan.json that somebody changed may name elsewhere."""
    folder = (directory / BEGUN).parent
    try:
        places = [place for of in plan_files(directory) for place in of.values()]
    except (BadInput, BadPlan):
        return
    names = {place.name for place in (*places, directory / BEGUN) if place.parent == folder}
    yield from ((Path(BEGUN).parent / name).as_posix() for name in sorted(names))
