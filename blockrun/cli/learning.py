"""The command that holds a site against what was recorded, and writes what that teaches when it is told to."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.options import PlanDirectory
from blockrun.errors import BadInput
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.learned import FileNow, Lessons


def learn(
    directory: PlanDirectory,
    write: Annotated[
        Path | None, typer.Option(metavar="SITE", help="Write what is proposed into this site file of yours.")
    ] = None,
    only: Annotated[
        str | None, typer.Option(metavar="KEYS", help="Only these of it, such as strip_time,left_behind or cubes.")
    ] = None,
) -> None:
    """Hold the values of the site against what was recorded: strip age, cubes, times, what batches make, what breaks.

    DIR is where the plan was saved. What is proposed is printed with its evidence, and the lines as they would be.
    With --write only those values of SITE change, and its old file is kept beside it.
    """
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.show.learn import files_text, lessons_text
    from blockrun.yard.journal import entries_in
    from blockrun.yard.learn.lessons import lessons_of

    plan = load_as_planned(directory)
    lessons = lessons_of(plan, entries_in(directory), _before(directory))
    files = _files(directory, lessons, write, _keys(only))
    say(lessons_text(lessons, screen().width, plan.site.units))
    command = ["blockrun", "learn", str(directory), *(["--only", only] if only else []), "--write"]
    hint = f"{shlex.join(command)} SITE" if files and write is None else ""
    say(files_text(files, hint, screen().width))


def _keys(only: str | None) -> list[str]:
    """Keys that ``--only`` names; none where it is left out."""
    keys = [key.strip() for key in (only or "").split(",") if key.strip()]
    if only is not None and not keys:
        raise BadInput("--only names nothing", "Leave it out, or name keys such as strip_time.", name="--only")
    return keys


def _before(directory: Path) -> list[AsPlanned]:
    """Plans of the job before this one."""
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.planner.folder import earlier_plans

    return [load_as_planned(folder) for folder in earlier_plans(directory).values()]


def _files(directory: Path, lessons: Lessons, write: Path | None, only: list[str]) -> list[FileNow]:
    """Files with what is proposed in them: written, or of the plan's own copy as they would be."""
    from blockrun.planner.learned import FileNow
    from blockrun.planner.plan_files import plan_files
    from blockrun.yard.learn import written

    what = written.chosen(lessons, only)
    if write is None:
        copies, _ = plan_files(directory)
        return [FileNow(one.path, one.lines) for one in written.drafts(copies[""], what, copies)]
    if write.resolve().is_relative_to(directory.resolve()):
        raise BadInput("is the copy that the plan was made with", "Name your own site file.", file=write)
    return written.write(written.drafts(write, what))
