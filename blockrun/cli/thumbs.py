"""Thumb tests that the journal of a plan keeps, for the commands that heed them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.pressed import ThumbTest
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.yard.journal import Entry


def entries_of(directory: Path) -> list[Entry]:
    """All that is recorded beside a plan; none without a journal."""
    from blockrun.yard.journal import entries_kept

    return entries_kept(directory)


def thumbs_of(saved: Plan, entries: list[Entry]) -> Thumbs:
    """What all thumbs say of a plan, in the air that was seen."""
    from blockrun.yard.thumbs import thumbs_in

    return _said_by(thumbs_in(entries), saved, entries)


def _said_by(tests: list[ThumbTest], saved: Plan, entries: list[Entry]) -> Thumbs:
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.yard.now import state_of
    from blockrun.yard.ready.air import site_as_it_went

    state = state_of(entries)
    if state.air or state.lost:
        saved = replace(saved, site=site_as_it_went(saved.site, state.air, frozenset(state.lost)))
    return Thumbs(saved, tests)


def thumbs_kept(saved: Plan, directory: Path) -> Thumbs | None:
    """What the thumb tests that are kept beside a plan say of what stands in its moulds yet; None without any."""
    entries = entries_of(directory)
    if not any(entry.event.kind == "thumbed" for entry in entries):
        return None  # where every block is, is not asked for nothing
    from blockrun.yard.thumbs import thumbs_standing

    tests = thumbs_standing(entries)
    return _said_by(tests, saved, entries) if tests else None
