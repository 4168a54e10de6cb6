"""Thumb tests that the journal of a plan keeps, for the commands that heed them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import typer

from blockrun.cli.clock import stamp

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumb_table import ThumbTest
    from blockrun.planner.thumbs import Thumbs
    from blockrun.yard.journal import Entry

TABLE: Final = "thumbs.csv"
"""What the table of thumbs is called that was kept in the folder of a plan before there was a journal."""

ASIDE: Final = "thumbs-taken-in.csv"
"""What the table of thumbs is called once the journal has them."""


def entries_of(directory: Path) -> list[Entry]:
    """All that is recorded beside a plan; none without a journal. A table of thumbs from before is taken in first."""
    from blockrun.yard.journal import entries_kept

    take_in(directory)
    return entries_kept(directory)


def take_in(directory: Path) -> None:
    """Take a table of thumbs from before there was a journal into it, set it aside, and say so; if there is one."""
    table = directory / TABLE
    if not table.exists():
        return
    from blockrun.planner.thumb_table import read_thumbs
    from blockrun.yard.thumbs import take_into

    tests = read_thumbs(table)
    take_into(directory, tests, stamp())
    table.replace(table.with_name(ASIDE))
    typer.echo(f"The thumb tests of {TABLE}, {len(tests)}, are in the journal now; the table is {ASIDE}.", err=True)


def thumbs_of(saved: Plan, entries: list[Entry]) -> Thumbs:
    """What all thumbs say of a plan, in the air that was seen."""
    from blockrun.yard.thumbs import thumbs_in

    return _said_by(thumbs_in(entries), saved, entries)


def _said_by(tests: list[ThumbTest], saved: Plan, entries: list[Entry]) -> Thumbs:
    from blockrun.planner.thumbs import Thumbs
    from blockrun.yard.now import state_of
    from blockrun.yard.ready.air import site_as_it_went

    state = state_of(entries)
    if state.air or state.lost:
        saved = replace(saved, site=site_as_it_went(saved.site, state.air, frozenset(state.lost)))
    return Thumbs(saved, tests)


def thumbs_kept(saved: Plan, directory: Path) -> Thumbs | None:
    """What the thumb tests that are kept beside a plan say of what stands in its moulds yet; None without any."""
    from blockrun.yard.thumbs import thumbs_standing

    entries = entries_of(directory)
    tests = thumbs_standing(entries)
    return _said_by(tests, saved, entries) if tests else None
