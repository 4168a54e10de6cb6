"""How a job stands at a moment, all of it together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.progress import Away, Blocks, Progress
from blockrun.yard.absent import n_away, stretches_away
from blockrun.yard.called import batch_said
from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import PersonAway
from blockrun.yard.losses import lost_of
from blockrun.yard.now import State, state_of
from blockrun.yard.older import older_of
from blockrun.yard.ready.apart import blocks_apart, set_apart
from blockrun.yard.status.late import courses_to_come, late_courses, ripe_by_then, short_courses
from blockrun.yard.status.losses import losses_of
from blockrun.yard.status.pours import batches_of, hot_to_come
from blockrun.yard.status.reserves import reserves_of
from blockrun.yard.status.undone import undone
from blockrun.yard.status.weighed import weighed_of
from blockrun.yard.stock import stock_now

if TYPE_CHECKING:
    from collections.abc import Mapping

    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.risk.rates import Rates
    from blockrun.yard.now import Pile


def progress_of(plan: AsPlanned, entries: Iterable[Entry], at: datetime, rates: Rates) -> Progress:
    """How a job stands.

    Parameters
    ----------
    plan : that it is done by.
    entries : of the journal.
    at : the moment; what is recorded as later is not heeded.
    rates : of what goes wrong, as assumed.
    """
    told = [entry for entry in standing(entries) if entry.happened <= at]
    state = state_of(told)
    ripe = ripe_by_then(plan, state, told)
    apart = set_apart(plan, told, ripe.cubes_say)
    courses = courses_to_come(plan, state, ripe, at, apart)
    stock = stock_now(plan, told, at, older_of(plan, told))
    blocks = _blocks(plan, state, at)
    left = blocks_apart(state, apart)
    away = [one.event for one in told if isinstance(one.event, PersonAway)]
    return Progress(
        at=at,
        entries=len(told),
        batches=batches_of(plan, state, at),
        blocks=blocks,
        courses=len(plan.courses),
        courses_left=len(courses),
        late=tuple(late_courses(plan, courses)),
        short=tuple(short_courses(courses)),
        reserves=tuple(reserves_of(plan, state, stock, at)),
        strange_pours=len(stock.unknown),
        losses=losses_of(state, told, rates),
        lost_blocks=lost_of(state, blocks.spares / blocks.in_all),
        weighed=tuple(weighed_of(plan, told)),
        off_card=tuple(batch_said(pour[0], plan, pour[1]) for pour in apart if left[pour]),
        blocks_off_card=left.total(),
        lost_days=tuple(sorted(state.lost)),
        away=tuple(_away(plan, *stretch) for stretch in stretches_away(away) if stretch[1] >= at.date()),
        out_of_use=tuple(sorted(state.out_of_use.items())),
        clashes=len(state.clashes),
        undone=tuple(undone(plan, state, ripe, at)),
        hot=tuple(hot_to_come(plan, state, at)),
        nobody=tuple(_nobody(plan, away, at.date())),
    )


def _away(plan: AsPlanned, first: date, last: date, people: int) -> Away:
    return Away(first, last, people, people >= plan.site.crew.people)


def _nobody(plan: AsPlanned, away: Sequence[PersonAway], today: date) -> Iterator[date]:
    """Days of work, from today on, on which all are away."""
    crew = plan.site.crew
    working = {moment.date() for cast in plan.casts for moment in (cast.poured, cast.strip)}
    for day in sorted(working):
        missing = n_away(away, day)
        if day >= today and missing and missing >= crew.on(day):
            yield day


def _blocks(plan: AsPlanned, state: State, at: datetime) -> Blocks:
    spares = sum(cast.spare for cast in plan.casts)
    found = sum(line.count for line in plan.found)
    return Blocks(
        ordered=len(plan.casts) - spares + found,
        spares=spares,
        due=sum(cast.poured <= at for cast in plan.casts) + found,
        cast=state.cast.total(),
        in_moulds=sum(len(here.blocks) for here in state.moulds.values()),
        beside=_lying(state.out),
        on_racks=_lying(state.racks),
        stacked=_lying(state.stacks),
        laid=_lying(state.laid),
        broken=len(state.broken),
        rejected=len(state.rejected),
        missing=len(state.missing),
        found=state.found.total(),
    )


def _lying(piles: Mapping[str, Pile] | Mapping[tuple[str, int], Pile]) -> int:
    return sum(map(len, piles.values()))
