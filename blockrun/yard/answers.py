"""What many runs tell: chances, block-days late, spares and slack worth having, and what each cause costs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadPlan
from blockrun.planner.risk.counted import Chance, Cost, LastPour, Never, OfCourse, OfPart, Risk, Spread
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.yard.given import setting_of
from blockrun.yard.setting import NEVER
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
    runs: int,
    seed: int,
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
    return _counted(plan, setting, rates, seed, runs, base, played) if played else None


def _check(plan: Plan, base: Outcome) -> None:
    """Refuse a plan that, nothing going wrong, does not end as it says: then its tables are not its own."""
    late, finish = (stage.value for stage in plan.stages[:2])
    if (base.block_days, plan.site.calendar.start + timedelta(days=base.last_pour)) != (late, finish):
        what = "played with nothing going wrong, the plan does not end as it says it does"
        raise BadPlan(what, "Run blockrun audit on it, and make it again.")


def _counted(
    plan: Plan, setting: Setting, rates: Rates, seed: int, asked: int, base: Outcome, played: Sequence[Played]
) -> Risk:
    each, start = [run.all for run in played], plan.site.calendar.start
    return Risk(
        plan=plan,
        rates=rates,
        seed=seed,
        runs=len(played),
        asked=asked,
        in_time=_in_time(each, base),
        parts=tuple(_parts(setting, start, each, base)),
        block_days=_spread(base.block_days, [run.block_days for run in each]),
        last_pour=_last_pour(start, base.last_pour, [NEVER if run.never else run.last_pour for run in each]),
        batches=_spread(base.batches, [run.batches for run in each]),
        slack=_slack(max(run.late, default=0) for run in each),
        costs=tuple(sorted(_costs(played, base), key=lambda cost: (-cost.chance.held, -cost.block_days, -cost.days))),
        spares=spares_worth(setting, rates, base, played, seed),
        never=_never(start + timedelta(days=setting.n_days), [run.never for run in each if run.never]),
    )


def reached(values: Iterable[int], share: float = SURE) -> int:
    """The least number that so many of some are no more than."""
    ordered = sorted(values)
    return ordered[math.ceil(share * len(ordered) - 1e-9) - 1]


def _slack(late: Iterable[int]) -> int | None:
    """Days that nine in ten runs are late at the most; None where a block is never cast in one of these."""
    days = reached(late)
    return None if days == NEVER else days


def _in_time(runs: Iterable[Outcome], base: Outcome) -> Chance:
    """No course is later than needed, or than with nothing going wrong."""
    return _chance(all(late <= planned for late, planned in zip(run.late, base.late, strict=True)) for run in runs)


def _never(until: date, blocks: Sequence[int]) -> Never:
    return Never(len(blocks), sum(blocks) / max(len(blocks), 1), until)


def _chance(held: Iterable[bool]) -> Chance:
    found = list(held)
    return Chance(sum(found), len(found))


def _spread(planned: int, values: Sequence[int]) -> Spread:
    return Spread(planned, sum(values) / len(values), reached(values, 0.5), reached(values))


def _last_pour(start: date, planned: int, values: Sequence[int]) -> LastPour:
    days = [reached(values, share) for share in (0.5, SURE)]
    median, worst = (None if day == NEVER else start + timedelta(days=day) for day in days)
    return LastPour(start + timedelta(days=planned), median, worst)


def _parts(setting: Setting, start: date, each: Sequence[Outcome], base: Outcome) -> Iterable[OfPart]:
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
                setting.marks_of(nth),
                _chance(run.late[nth] == 0 for run in each),
                _slack(run.late[nth] for run in each),
                base.late[nth],
            )
            for nth in of_part
        )
        held = _chance(all(run.late[nth] <= base.late[nth] for nth in of_part) for run in each)
        yield OfPart(part, held, _slack(worst), courses)


def _costs(played: Sequence[Played], base: Outcome) -> Iterable[Cost]:
    for nth, cause in enumerate(Cause):
        both = [(run.all, run.without[nth]) for run in played]
        yield Cost(
            cause,
            sum(all_.block_days - less.block_days for all_, less in both) / len(both),
            sum(all_.last_pour - less.last_pour for all_, less in both) / len(both),
            sum(all_.batches - less.batches for all_, less in both) / len(both),
            _in_time((less for _, less in both), base),
        )
