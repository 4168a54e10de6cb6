"""Batches outside their cards by the journal of a plan, for the commands that name their blocks."""

from __future__ import annotations

from pathlib import Path

from blockrun.cli.thumbs import entries_of


def apart_kept(directory: Path) -> frozenset[int]:
    """Numbers of batches whose blocks are not to be laid, as far as anything is recorded beside the plan."""
    from blockrun.yard.journal.events import Poured

    entries = entries_of(directory)
    if not any(isinstance(entry.event, Poured) and entry.event.is_weighed for entry in entries):
        return frozenset()
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.yard.apart import batches_apart

    return batches_apart(load_as_planned(directory), entries)
