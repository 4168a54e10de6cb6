"""What stood in a mould when a thumb was pressed into it, reckoned by the air as it went."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from blockrun.planner.thumbs.thumbed import check_pressed
from blockrun.yard.journal.events import Stood
from blockrun.yard.now import Standing
from blockrun.yard.ready.air import site_as_it_went
from blockrun.yard.ready.ripe import Ripe
from blockrun.yard.record.known import Known


def stood_in(here: Standing, shows: str, known: Known) -> Stood:
    """What is known of a mould when a thumb shows something in it, with that thumb heeded.

    Raises
    ------
    BadInput : what stands there has no age yet.
    """
    plan, state, at = known.plan, known.state, known.at
    ripe = Ripe(plan, site_as_it_went(plan.site, state.air, frozenset(state.lost)))
    age_h = ripe.age_h(here.mould, here.poured, at)
    check_pressed(here.place, at, age_h, plan.site.calendar)
    kind = plan.kind_of(here.mould)
    strip = ripe.strip(replace(here, thumbs=[*here.thumbs, (at, shows)]))
    planned = next(
        (one for one in plan.casts if one.place == here.place and plan.recorded_as(one.batch) in here.batches), None
    )
    of = here.batches[0][0]
    takes = timedelta(minutes=kind.strip_and_saw_min)
    return Stood(
        plan=of,
        turn=planned.turn if planned else 0,
        batches=tuple(sorted(number for plan_id, number in here.batches if plan_id == of)),
        mix=" + ".join(sorted({mix for (_, mix), _ in here.blocks.lots()})),
        poured=here.poured,
        age_h=age_h,
        strip_planned=planned.strip - takes if planned else None,
        strip_now=at if strip is None else ripe.calendar.next_stretch(strip, kind.strip_and_saw_min),
    )
