"""What many runs tell: chances, block-days late, spares and slack worth having, and what each cause costs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadPlan
from blockrun.planner.risk.counted import Chance, Cost, LastPour, OfCourse, OfPart, Risk, Spread
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.yard.given import setting_of
from blockrun.yard.spares import spares_worth
from blockrun.yard.sweep import Played, calm, sweep

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from blockrun.planner.plan import Plan, Stop
    from blockrun.yard.run import Outcome
    from blockrun.yard.setting import Setting

USUAL_RUNS: Final = 1000
SURE: Final = 0.9
"""Share of the runs that slack is to hold for; the worst one in ten are left out."""


def count_risk(
    plan: Plan,
    rates: Rates,
    *,
    runs: int = USUAL_RUNS,
    seed: int = 0,
    executor: Executor | None,
    stop: Stop,
    tell: Callable[[str], None],
) -> Risk | None:
    """Play a saved plan many times over, and count.

    Parameters
    ----------
    plan : as saved.
    rates : how often things go wrong.
    runs : >= 1.
    seed : of all numbers, >= 0: the same seed, the same answer, whoever plays.
    executor : plays the runs; None for here.
    stop : asked all the time; then the runs played so far count.
    tell : hears in words how far it is.

    Returns
    -------
    None where it was stopped before any run was played.

    Raises
    ------
    BadPlan : its tables do not fit its yard, or do not end as the plan says.
    """
    setting = setting_of(plan, rates)
    base = calm(setting, rates)
    _check(plan, base)
    played = sweep(setting, rates, seed, runs, executor, stop, lambda done: tell(f"{done} of {runs} runs"))
    return _counted(plan, setting, rates, seed, base, played) if played else None


def _check(plan: Plan, base: Outcome) -> None:
    """Refuse a plan that, nothing going wrong, does not end as it says: then its tables are not its own."""
    late, finish = (stage.value for stage in plan.stages[:2])
    if (base.block_days, plan.site.calendar.start + timedelta(days=base.last_pour)) != (late, finish):
        what = "played with nothing going wrong, the plan does not end as it says it does"
        raise BadPlan(what, "Run blockrun audit on it, and make it again.")


def _counted(plan: Plan, setting: Setting, rates: Rates, seed: int, base: Outcome, played: Sequence[Played]) -> Risk:
    each = [run.all for run in played]
    return Risk(
        plan=plan,
        rates=rates,
        seed=seed,
        runs=len(played),
        in_time=_chance(max(run.late, default=0) == 0 for run in each),
        parts=tuple(_parts(setting, plan.site.calendar.start, each)),
        block_days=_spread(base.block_days, [run.block_days for run in each]),
        last_pour=_last_pour(plan.site.calendar.start, base.last_pour, [run.last_pour for run in each]),
        slack=reached(max(run.late, default=0) for run in each),
        costs=tuple(sorted(_costs(played), key=lambda cost: (-cost.block_days, -cost.days))),
        spares=spares_worth(setting, rates, base, played, seed),
        never=sum(run.never for run in each) / len(each),
    )


def reached(values: Iterable[int], share: float = SURE) -> int:
    """The least number that so many of some are no more than."""
    ordered = sorted(values)
    return ordered[math.ceil(share * len(ordered) - 1e-9) - 1]


def _chance(held: Iterable[bool]) -> Chance:
    found = list(held)
    return Chance(sum(found), len(found))


def _spread(planned: int, values: Sequence[int]) -> Spread:
    return Spread(planned, sum(values) / len(values), reached(values, 0.5), reached(values))


def _last_pour(start: date, planned: int, values: Sequence[int]) -> LastPour:
    median, worst = (start + timedelta(days=reached(values, share)) for share in (0.5, SURE))
    return LastPour(start + timedelta(days=planned), sum(values) / len(values) - planned, median, worst)


def _parts(setting: Setting, start: date, each: Sequence[Outcome]) -> Iterable[OfPart]:
    """By part, in the order they are first needed."""
    numbers: dict[str, list[int]] = {}
    for nth, course in enumerate(setting.courses):
        numbers.setdefault(course.part, []).append(nth)
    for part, of_part in numbers.items():
        worst = [max(run.late[nth] for nth in of_part) for run in each]
        courses = tuple(
            OfCourse(
                setting.courses[nth].course,
                start + timedelta(days=setting.courses[nth].day),
                _chance(run.late[nth] == 0 for run in each),
                reached(run.late[nth] for run in each),
            )
            for nth in of_part
        )
        yield OfPart(part, _chance(late == 0 for late in worst), reached(worst), courses)


def _costs(played: Sequence[Played]) -> Iterable[Cost]:
    for nth, cause in enumerate(Cause):
        without = [run.without[nth] for run in played]
        saved = sum(run.all.block_days - run.without[nth].block_days for run in played) / len(played)
        days = sum(run.all.last_pour - run.without[nth].last_pour for run in played) / len(played)
        yield Cost(cause, saved, days, _chance(max(run.late, default=0) == 0 for run in without))
