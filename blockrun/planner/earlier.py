"""Plans of a job before the one in hand, kept by number in its folder: each is a whole saved plan."""

from __future__ import annotations

import shutil
from pathlib import Path

from blockrun.errors import BadInput
from blockrun.files.in_place import read_whole, still
from blockrun.files.writing import whole_folder
from blockrun.planner.begun.facts import Begun, read_begun
from blockrun.planner.facts import Facts
from blockrun.planner.folder import EARLIER, MARK, earlier_plans
from blockrun.planner.own_files import own_files
from blockrun.planner.saved import load_plan


def begun_of(directory: Path) -> Begun | None:
    """What had happened before the plan in a folder; None for one from the start.

    Raises
    ------
    BadPlan : it cannot be read.
    BadInput : it was broken off in coming into its place, and the rest of it cannot be brought in.
    """

    def read() -> Begun | None:
        facts = Facts.read(directory / MARK)
        return read_begun(directory / facts.begun) if facts.begun else None

    return read_whole(directory, MARK, read)


def set_aside(directory: Path) -> int:
    """Keep a copy of the plan in hand, all of it or nothing; returns its number.

    One that is kept already is not kept twice.

    Raises
    ------
    BadInput : it cannot be written.
    """
    with still(directory):
        number = number_of(directory)
        if number not in earlier_plans(directory):
            with whole_folder(directory / EARLIER / str(number), mark=MARK) as folder:
                _copy(directory, folder)
    return number


def number_of(directory: Path) -> int:
    """Number of the plan in hand; a plan made from the start again, where another was, is the next one."""
    kept, begun = earlier_plans(directory), begun_of(directory)
    number = begun.number if begun else 1
    return number if number not in kept or _same(kept[number], directory) else 1 + max(kept)


def next_number(directory: Path) -> int:
    """Number of the plan that is made next in a folder."""
    return 1 + max([*earlier_plans(directory), number_of(directory)])


def bring_back(directory: Path) -> tuple[int, int]:
    """Put the plan before into the place of the one in hand, which is kept; returns their numbers, that in hand first.

    Raises
    ------
    BadInput : there is none before it, or it cannot be written.
    BadPlan : what was kept of it cannot be read any more; the one in hand stays.
    """
    begun = begun_of(directory)
    if begun is None:
        todo = "There is one to go back to once a plan was made anew: blockrun replan DIR"
        raise BadInput("this is the first plan of the job", todo, file=directory)
    before = earlier_plans(directory).get(begun.after)
    if before is None:
        todo = f"It was kept in {EARLIER}/{begun.after}; put it back there."
        raise BadInput(f"plan {begun.after}, the one before, is not there any more", todo, file=directory)
    load_plan(before)
    number = set_aside(directory)
    with whole_folder(directory, replace=True, mark=MARK, ours=own_files) as folder:
        _copy(before, folder)
    return number, begun.after


def _copy(plan: Path, folder: Path) -> None:
    for name in own_files(plan):
        (folder / name).parent.mkdir(exist_ok=True)
        shutil.copyfile(plan / name, folder / name)


def _same(one: Path, other: Path) -> bool:
    return (one / MARK).read_bytes() == (other / MARK).read_bytes()
