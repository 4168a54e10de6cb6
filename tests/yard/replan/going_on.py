"""What a saved plan still has at a moment, going on from what had happened by then: all of it as planned."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from blockrun.optimiser.score import score
from blockrun.optimiser.state import State
from blockrun.planner.begun import Begun
from blockrun.planner.begun.old import GoingOn
from blockrun.planner.begun.site import site_begun
from blockrun.planner.brief import Brief, brief
from blockrun.planner.tables import Stage
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.went import went


def moments(kept: Kept, parts: int) -> list[datetime]:
    """Moments from before the first pour to after the last strip, none of them in the middle of a batch."""
    first = min(cast.poured for cast in kept.as_planned.casts) - timedelta(days=1)
    last = max(cast.strip for cast in kept.as_planned.casts) + timedelta(days=1)
    evenly = [first + n * (last - first) / parts for n in range(parts + 1)]
    rows = list(kept.batches.values())
    return [max([at, *(row.end for row in rows if row.start <= at < row.end)]) for at in evenly]


def as_planned(kept: Kept, at: datetime, *more: AnyEvent) -> tuple[Brief, State, Begun]:
    """What is asked of a plan that goes on, and the answer that the plan before gives; more was recorded at last."""
    at = at.replace(second=0, microsecond=0)
    told = [Entry(f"more {nth}", at, at.replace(tzinfo=UTC), event) for nth, event in enumerate(more)]
    begun = happened([kept], [*went(kept.as_planned, at), *told], at, 2, 1)
    poured = frozenset(batch.was for batch in begun.batches)
    site = site_begun(kept.plan.site, begun)
    asked = brief(site, kept.plan.order, 150, begun=begun)
    old = GoingOn(begun, kept.plan, poured).old_in(asked)
    assert asked.history is not None
    over = [stood.turn for stood in asked.history.turns if stood.turn.done]
    batches = [*asked.history.batches.values(), *old.batches]
    return asked, State(0, [*over, *old.turns], batches), begun


def claimed(asked: Brief, answer: State) -> list[Stage]:
    reached = score(asked.problem, answer)
    cement = float(reached.cement / asked.steps_a_bag) * asked.site.stock.cement.bag_kg
    finish = asked.moment(reached.finish * 1440).date()
    return [
        Stage("block_days_late", reached.late, 0, reached.late == 0),
        Stage("finish", finish, finish, True),
        Stage("batches", reached.batches, reached.batches, True),
        Stage("cement", cement, cement, True),
    ]
