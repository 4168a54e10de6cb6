"""What can be done at a moment, by the plan and by all that was recorded until then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from itertools import chain
from typing import TYPE_CHECKING

from blockrun.planner.morning import NEVER, Counts, CourseNow, InMould, Morning, OnRack
from blockrun.yard.called import batch_said, clash_said
from blockrun.yard.journal import standing
from blockrun.yard.now import Kind, Lot, Pour, Standing, State, state_of
from blockrun.yard.ready.air import site_as_it_went
from blockrun.yard.ready.apart import batches_off_card, set_apart
from blockrun.yard.ready.courses import by_mark, courses_now
from blockrun.yard.ready.cubes import RecordedCubes
from blockrun.yard.ready.cubes_now import cubes_now
from blockrun.yard.ready.doubts import Doubts
from blockrun.yard.ready.early import stripped_early
from blockrun.yard.ready.ripe import Ripe
from blockrun.yard.ready.supply import supplies

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.site import Calendar
    from blockrun.yard.journal import Entry


def morning_of(plan: AsPlanned, entries: Iterable[Entry], at: datetime) -> Morning:
    """What can be stripped, taken off the rack, stacked and laid.

    Parameters
    ----------
    plan : by which blocks were cast.
    entries : of the journal.
    at : the moment; what is recorded as later is not heeded.
    """
    told = [entry for entry in standing(entries) if entry.happened <= at]
    state = state_of(told)
    site = site_as_it_went(plan.site, state.air, frozenset(state.lost))
    cubes = RecordedCubes(site, told)
    ripe = Ripe(plan, site, cubes)
    doubts = Doubts(state, plan.site, ripe, at)
    apart = set_apart(plan, told, ripe.cubes_say)
    moulds = [_in_mould(plan, here, ripe, doubts, at, apart) for here in state.moulds.values()]
    supply = supplies(state, ripe, {mould.place: mould.strip_from for mould in moulds}, at, apart)
    off_card = tuple(batches_off_card(plan, apart, chain.from_iterable(supply.values()), ripe.asked_mpa))
    courses = courses_now(plan, state, supply, at)
    return Morning(
        at,
        tuple(sorted(moulds, key=lambda mould: (mould.strip_from or NEVER, mould.place))),
        tuple((place, by_mark(pile.counts)) for place, pile in sorted(state.out.items()) if pile),
        tuple(_racks(state, ripe, at, apart)),
        tuple(courses),
        _next_whole(courses),
        max(state.air, default=None),
        tuple(f"{clash.entry.number}: {clash_said(clash, plan)}" for clash in state.clashes),
        tuple(cubes_now(plan, state, ripe, cubes)),
        ripe.cubes_doubted,
        site.units,
        off_card,
        tuple(sorted(stripped_early(state, ripe), key=lambda early: (early.stripped, early.place))),
    )


def _in_mould(
    plan: AsPlanned, here: Standing, ripe: Ripe, doubts: Doubts, at: datetime, apart: Container[Pour]
) -> InMould:
    racks = {
        cast.rack for cast in plan.casts if cast.place == here.place and plan.recorded_as(cast.batch) in here.batches
    }
    rack = racks.pop() if len(racks) == 1 else ""
    kind, calendar = plan.kind_of(here.mould), ripe.calendar
    sides = _worked(ripe.sides(here), at, calendar, kind.sides_time_min or 0)
    strip = _worked(ripe.strip(here), at, calendar, kind.strip_and_saw_min)
    holding = [batch for batch in here.batches if (told := ripe.cubes_on_strip(batch)) and told.holds]
    held = tuple(plan.number_of(batch) or batch[1] for batch in holding)
    blocks, doubt = by_mark(here.blocks.counts), doubts.of(here)
    if doubt.air == "untold" and strip is not None and strip.date() > at.date():
        doubt = replace(doubt, air="")  # it may be told by then
    pours = (lot.pour for _, lot in here.blocks.lots() if lot.pour in apart)
    off_card = tuple(dict.fromkeys(batch_said(batch, plan, poured) for batch, poured in pours))
    return InMould(here.place, rack, blocks, sides, strip, held, doubt, off_card)


def _worked(ripe: datetime | None, at: datetime, calendar: Calendar, minutes: int) -> datetime | None:
    """When something old enough since a moment can be done: one to come only in working hours."""
    return ripe if ripe is None or ripe <= at else calendar.next_stretch(ripe, minutes)


def _racks(state: State, ripe: Ripe, at: datetime, apart: Container[Pour]) -> Iterator[OnRack]:
    for name, pile in sorted(state.racks.items()):
        if pile:
            off = [(kind, lot, ripe.off_rack(lot.since)) for kind, lot in pile.lots()]
            leave = [(kind, lot) for kind, lot, moment in off if moment <= at]
            stay = len(pile) - sum(lot.n_blocks for _, lot in leave)
            next_off = min((moment for *_, moment in off if moment > at), default=None)
            of_those = _counts((kind, lot) for kind, lot in leave if lot.pour in apart)
            yield OnRack(name, _counts(leave), stay, next_off, of_those)


def _counts(lots: Iterable[tuple[Kind, Lot]]) -> Counts:
    found: Counter[Kind] = Counter()
    for kind, lot in lots:
        found[kind] += lot.n_blocks
    return by_mark(found)


def _next_whole(courses: list[CourseNow]) -> CourseNow | None:
    """The course that can be laid whole next, of those that cannot yet and wait for none under them."""
    lowest = (course for course in courses if not course.is_whole and course.after is None)
    cast = [course for course in lowest if course.whole_from is not None]
    return min(cast, key=lambda course: course.whole_from or NEVER, default=None)
