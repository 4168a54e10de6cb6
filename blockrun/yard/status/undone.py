"""Strips and sides that the plan has until a moment and nobody recorded, and those that thumbs put off."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Literal, NamedTuple

from blockrun.planner.progress import Undone

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast
    from blockrun.yard.now import Standing, State
    from blockrun.yard.ready.ripe import Ripe


class _Job(NamedTuple):
    """What is to be done of a mould: until when by the plan, since when it is old enough, and what it takes."""

    name: Literal["strip", "sides"]
    ends: datetime
    since: Callable[[Standing], datetime | None]
    takes_min: int


def undone(plan: AsPlanned, state: State, ripe: Ripe, at: datetime) -> Iterator[Undone]:
    """What stands in moulds, or has its sides on, and should not by now, or will longer than planned, place by place.

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
        for job in _jobs(plan, here, casts, ripe, at):
            yield from _undone(here, job, ripe, at)


def _jobs(plan: AsPlanned, here: Standing, casts: list[PlannedCast], ripe: Ripe, at: datetime) -> Iterator[_Job]:
    """The strip, and while it is not due the sides before it, where the plan has them."""
    strip = max((cast.strip for cast in casts), default=None)
    sides = max((cast.sides_off for cast in casts if cast.sides_off is not None), default=None)
    if strip is not None:
        yield _Job("strip", strip, ripe.strip, plan.kind_of(here.mould).strip_and_saw_min)
    if here.sides_on and sides is not None and (strip is None or strip > at):
        yield _Job("sides", sides, ripe.sides, plan.kind_of(here.mould).sides_time_min or 0)


def _undone(here: Standing, job: _Job, ripe: Ripe, at: datetime) -> Iterator[Undone]:
    is_due = job.ends <= at
    if not is_due and not here.thumbs:
        return
    since = job.since(here)
    is_old_enough = since is not None and since <= at
    until = None if since is None or is_old_enough else ripe.calendar.next_stretch(since, job.takes_min)
    by_thumb = not is_old_enough and bool(here.thumbs) and _is_later(since, job.since(replace(here, thumbs=[])))
    is_put_off = by_thumb and (until is None or until + timedelta(minutes=job.takes_min) > job.ends)
    if is_due or is_put_off:
        yield Undone(job.name, here.place, job.ends.date(), is_old_enough, until, by_thumb)


def _is_later(one: datetime | None, other: datetime | None) -> bool:
    """Whether a moment comes after another; None is never."""
    return other is not None and (one is None or one > other)
