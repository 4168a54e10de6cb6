"""What one site reaches and takes for an order, and what it could not beat."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from blockrun.errors import BlockrunError
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.score import Score
from blockrun.planner.brief import Brief, brief
from blockrun.planner.plan import Stop

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.plan import Plan
    from blockrun.site import Site


_STRIPPED_WITHIN_DAYS = 45


@dataclass(frozen=True)
class Solved:
    """The stages of a plan, each with its bound, and what it takes.

    Attributes
    ----------
    late, finish : as found, with the least that is possible; that of the finish is for plans no later than this one.
    batches, cement_kg, bags : as found.
    cost : of cement and foaming agent, ``None`` where one has no price.
    """

    late: int
    least_late: int
    finish: date
    soonest_finish: date
    batches: int
    cement_kg: float
    bags: float
    cost: float | None

    @property
    def stages(self) -> tuple[int, date, int, float]:
        """What plans are compared by, smaller is better."""
        return (self.late, self.finish, self.batches, self.cement_kg)


@dataclass(frozen=True)
class Refused:
    """Why there is no plan, or none that may be shown.

    Attributes
    ----------
    by_audit : one was found, and our own audit refuses it: a bug of ours, for which no plan of another site stands in.
    """

    why: str
    by_audit: bool = False


Answer = Solved | Refused
"""What came of a site; ``None`` in its place where it was stopped."""


@dataclass(frozen=True)
class Job:
    """A site to solve.

    Attributes
    ----------
    beat : what a plan that it allows too reaches, so that only better ones are of interest.
    cut_short : whether the best plan by a stop is an answer, too.
    """

    site: Site
    beat: Solved | None = None
    cut_short: bool = False

    def rules_out(self, promise: Promise) -> bool:
        """Whether with no more than that what is to be beaten cannot be."""
        return self.beat is not None and promise >= Promise(self.beat.late, _day_of(self.site, self.beat.finish))


def solve(job: Job, order: Order, rounds: int, stop: Stop) -> Answer | None:
    """Plan an order on a site with a fixed amount of work.

    Parameters
    ----------
    job : where bounds say that what is to be beaten cannot be, in block-days late or days, no plan is looked for.
    rounds : of playing on, as for a plan.
    stop : once it says so there is no answer, for it could not be compared, unless one cut short will do.
    """
    from blockrun.planner.make import make_plan

    site = job.site
    try:
        if job.beat is not None and (proven := _unbeaten(site, order, job.beat, stop)):
            return None if stop() else proven
        plan = make_plan(site, order, rounds=rounds, stop=stop)
    except BlockrunError as fault:
        return None if stop() else Refused(fault.what)
    return None if stop() and not job.cut_short else _audited(plan)


@dataclass(frozen=True, order=True)
class Promise:
    """The least block-days late, then the earliest last pour by the day, that arithmetic allows a site."""

    late: int
    finish: int


def promised(job: Job, order: Order, rounds: int, stop: Stop) -> Promise | None:
    """What arithmetic allows a site, as far as it is less than what is to be beaten; ``None`` where there is none.

    Parameters
    ----------
    job : with something to beat.
    order, rounds, stop : as for `solve`; there are no rounds, and on a stop there is no answer.
    """
    if job.beat is None or stop():
        return None
    try:
        asked = _asked(job.site, order, job.beat)
        curve = Curve(asked.problem, Limits(asked.problem))
        return Promise(curve.late, asked.problem.days[curve.finish].number)
    except BlockrunError:
        return None


def _unbeaten(site: Site, order: Order, beat: Solved, stop: Stop) -> Solved | None:
    """What is to be beaten with bounds for this site, if these say that it is not; ``None`` where it may be."""
    finish = _day_of(site, beat.finish)
    asked = _asked(site, order, beat)
    bounds = Bounds(asked.problem, Limits(asked.problem), Effort(1.0, stop))
    score = Score(beat.late, finish, beat.batches, round(beat.bags * asked.steps_a_bag), 0, 0)
    late = bounds.late(score)
    if late < beat.late or bounds.finish(score) < finish:
        return None
    return replace(beat, least_late=beat.late, soonest_finish=beat.finish)


def _day_of(site: Site, day: date) -> int:
    """The number of a day of a calendar, 0 for its first."""
    return (day - site.calendar.start).days


def _asked(site: Site, order: Order, beat: Solved) -> Brief:
    """The problem over so many days that what is to be beaten fits in."""
    finish = _day_of(site, beat.finish)
    return brief(site, order, finish + _STRIPPED_WITHIN_DAYS + site.curing.rack_for_min // MINUTES_A_DAY)


def _audited(plan: Plan) -> Answer:
    """What a plan comes to, if it passes the audit, which takes a hundredth of the time of planning (measured)."""
    from blockrun.planner.audited import findings_in

    if findings := findings_in(plan):
        why = f"our own audit refuses the one found ({findings[0]}); please send us site and order"
        return Refused(why, by_audit=True)
    return _of(plan)


def _of(plan: Plan) -> Solved:
    late, finish, batches, _ = plan.stages
    assert isinstance(finish.value, date)
    assert isinstance(finish.bound, date)
    return Solved(
        late=_whole(late.value),
        least_late=_whole(late.bound),
        finish=finish.value,
        soonest_finish=finish.bound,
        batches=_whole(batches.value),
        cement_kg=float(plan.totals["cement_kg"] or 0),
        bags=float(plan.totals["cement_bags"] or 0),
        cost=plan.totals["cost"],
    )


def _whole(value: float | date) -> int:
    assert isinstance(value, int)
    return value
