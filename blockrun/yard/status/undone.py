"""Strips, and sides to take off, that the plan has until a moment and nobody recorded."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.progress import Undone

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast
    from blockrun.yard.now import Standing, State
    from blockrun.yard.ready.ripe import Ripe


def undone(plan: AsPlanned, state: State, ripe: Ripe, at: datetime) -> Iterator[Undone]:
    """What stands in moulds, or has its sides on, and should not by now, place by place.

    Parameters
    ----------
    plan, state : what should stand where, and what does.
    ripe : tells what is not old enough yet, whatever was planned.
    at : the moment.
    """
    planned: dict[str, list[PlannedCast]] = {}
    for cast in plan.casts:
        planned.setdefault(cast.place, []).append(cast)
    for place, here in sorted(state.moulds.items()):
        casts = [cast for cast in planned.get(place, []) if plan.recorded_as(cast.batch) in here.batches]
        yield from _at_place(here, casts, ripe, at)


def _at_place(here: Standing, casts: list[PlannedCast], ripe: Ripe, at: datetime) -> Iterator[Undone]:
    strip = max((cast.strip for cast in casts), default=None)
    sides = max((cast.sides_off for cast in casts if cast.sides_off is not None), default=None)
    if strip is not None and strip <= at:
        yield Undone("strip", here.place, strip.date(), _is_old_enough(ripe.strip(here), at))
    elif here.sides_on and sides is not None and sides <= at:
        yield Undone("sides", here.place, sides.date(), _is_old_enough(ripe.sides(here), at))


def _is_old_enough(since: datetime | None, at: datetime) -> bool:
    return since is not None and since <= at
