"""A run: nothing going wrong it is the plan itself; with everything going wrong it still keeps the rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime, time
from typing import Final

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.planner.saved import load_plan
from blockrun.units import MINUTES_A_DAY
from blockrun.yard.given import setting_of
from blockrun.yard.luck import Draws, Luck
from blockrun.yard.pool import Pool
from blockrun.yard.run import Outcome, Run
from blockrun.yard.setting import NEVER, Fill, Setting
from tests.yard.conftest import PLANS
from tests.yard.rules import Told, breaches, tasks_of, told

RUNS: Final = 12
FROSTY: Final = 8
"""A day of the demo on which it is too cold to pour."""


def outcomes(setting: Setting, rates: Rates, runs: int = RUNS, *, with_spares: bool = True) -> list[Outcome]:
    return [Run(setting, Luck(Draws(setting, 5, n), rates), with_spares=with_spares).play() for n in range(runs)]


@pytest.mark.parametrize("name", ["small", "slabs", "demo"])
def test_with_nothing_going_wrong_the_plan_is_played_to_the_minute(name: str, none: Rates) -> None:
    plan = load_plan(PLANS / name)
    played = told(plan, setting_of(plan, none), none, 0, 0)
    midnight = datetime.combine(plan.site.calendar.start, time())

    def minute(moment: datetime) -> int:
        return int((moment - midnight).total_seconds()) // 60

    rows = plan.tables.tasks.itertuples(index=False)
    assert tasks_of(played.events) == sorted((minute(r.start), minute(r.end), r.task, r.people) for r in rows)
    late, finish = plan.stages[0].value, plan.stages[1].value
    assert played.outcome.block_days == late
    assert played.outcome.last_pour == (finish - plan.site.calendar.start).days  # type: ignore[operator]
    assert (played.outcome.lost, played.outcome.never, played.outcome.batches) == (0, 0, plan.stages[2].value)
    assert breaches(played) == []


@pytest.mark.parametrize("name", ["small", "slabs", "demo"])
def test_with_nothing_going_wrong_each_block_is_ready_on_its_day(name: str, none: Rates) -> None:
    plan = load_plan(PLANS / name)
    played = told(plan, setting_of(plan, none), none, 0, 0)
    found = Counter((played.setting.marks[mark], day) for mark, days in enumerate(played.run.ready) for day in days)
    start = plan.site.calendar.start
    casts = plan.tables.casts
    assert found == Counter((r.mark, (r.ready.date() - start).days) for r in casts.itertuples(index=False))


@pytest.mark.parametrize("name", ["small", "slabs", "demo"])
@pytest.mark.parametrize("number", range(6))
def test_however_much_goes_wrong_the_rules_are_kept(name: str, number: int, harsh: Rates) -> None:
    plan = load_plan(PLANS / name)
    played = told(plan, setting_of(plan, harsh), harsh, 3, number)
    assert played.outcome.struck
    assert breaches(played) == []


def test_a_breach_of_each_rule_would_be_found(demo: Plan, none: Rates) -> None:
    played = told(demo, setting_of(demo, none), none, 0, 0)

    def spoilt(task: str, **change: object) -> set[str]:
        """Names of the rules that the first event of a task breaks when it is changed."""
        events = list(played.events)
        nth = next(n for n, event in enumerate(events) if event.task == task)
        events[nth] = events[nth]._replace(**change)  # type: ignore[arg-type]
        return {breach.partition(":")[0] for breach in breaches(replace(played, events=events))}

    first = {event.task: event for event in reversed(played.events)}
    assert "working_minutes" in spoilt("clean", start=first["clean"].start - 600)
    assert "people" in spoilt("chore", people=4)
    assert "moulds" in spoilt("sides", end=first["sides"].end + 10_000)
    assert "bases" in spoilt("clean", end=first["clean"].end + 10_000)
    assert "strips_old_enough" in spoilt("strip", start=first["strip"].start - 1000)
    assert "racks" in spoilt("rack", amount=231)
    assert "batch_sizes" in spoilt("batch", amount=230.0)
    load, turn = first["batch"].load, first["fill"].turn
    assert load is not None
    assert turn is not None
    assert "stock" in spoilt("batch", load=replace(load, bags=10_000.0))
    assert "cold_days" in spoilt("batch", start=FROSTY * MINUTES_A_DAY + 600)
    again = [*played.events, first["batch"]]
    assert any("mixers" in breach for breach in breaches(replace(played, events=again)))
    turn.fills *= 9
    assert any("cavities" in breach for breach in breaches(played))


@pytest.mark.parametrize("number", range(RUNS))
def test_what_is_ordered_is_laid_in_time_or_late(number: int, setting: Setting, harsh: Rates) -> None:
    run = Run(setting, Luck(Draws(setting, 1, number), harsh))
    outcome = run.play()
    for needs, there, late in zip(setting.needs, run.ready, outcome.late_blocks, strict=True):
        in_time = sum(ready <= day for (day, _), ready in zip(needs, sorted(there), strict=False))
        assert in_time + late == len(needs)
    short = [max(0, wanted - len(ready)) for wanted, ready in zip(setting.wanted, run.ready, strict=True)]
    assert sum(short) == outcome.never


@pytest.mark.parametrize("number", range(RUNS))
def test_what_is_lost_is_poured_again_where_no_spare_takes_its_place(
    number: int, setting: Setting, rates: Rates
) -> None:
    run = Run(setting, Luck(Draws(setting, 2, number), rates))
    outcome = run.play()
    assert (outcome.lost > 0, outcome.never) == (True, 0)
    for mark, wanted in enumerate(setting.wanted):
        spares = len(setting.days_of_spares.get(mark, []))
        good = len(run.ready[mark])
        assert max(wanted, wanted + spares - run.pool.lost[mark]) <= good <= wanted + spares


def test_a_broken_block_is_poured_again_when_there_is_no_spare(setting: Setting, none: Rates) -> None:
    luck = Luck(Draws(setting, 0, 0), none)
    broken: list[int] = []

    def breaks(block: int | None) -> bool:
        if block is None or broken or block in setting.spares:
            return False
        broken.append(block)
        return True

    luck.broken = breaks  # type: ignore[method-assign]
    run = Run(setting, luck, with_spares=False)
    outcome = run.play()
    assert (outcome.lost, outcome.never) == (1, 0)
    assert [len(ready) for ready in run.ready] == list(setting.wanted)


def test_a_spare_takes_the_place_of_a_broken_block(setting: Setting, none: Rates) -> None:
    luck = Luck(Draws(setting, 0, 0), none)
    last = block_with_a_spare_in_time(setting)
    luck.broken = lambda block: block == last  # type: ignore[method-assign]
    run = Run(setting, luck)
    outcome = run.play()
    assert (outcome.lost, outcome.batches) == (1, len(setting.batches))
    assert sum(len(ready) for ready in run.ready) == setting.n_blocks - 1


def test_a_block_is_poured_again_at_once_where_its_spare_comes_too_late(setting: Setting, none: Rates) -> None:
    mark, days = next((mark, days) for mark, days in setting.days_of_spares.items() if len(days) == 1)
    pool = Pool(setting)
    pool.lose(mark, None, due=days[0] - 1, today=0)
    assert pool.waiting == [(days[0] - 1, mark)]
    pool.lose(mark, None, due=days[0], today=0)
    assert len(pool.waiting) == 1


def test_a_spare_lost_that_stood_for_a_block_is_poured_again(setting: Setting) -> None:
    pool = Pool(setting)
    spare, day = next((block, day) for block, day in setting.spares.items())
    mark = next(mark for batch in setting.batches for _, fills in batch.parts for mark, _ in blocks(fills, spare))
    for _ in setting.days_of_spares[mark]:
        pool.lose(mark, None, due=NEVER, today=0)
    pool.lose(mark, spare, due=NEVER, today=day + 2)
    assert pool.waiting == [(day + 2, mark)]


def test_what_is_lost_twice_keeps_its_day(setting: Setting, none: Rates) -> None:
    luck = Luck(Draws(setting, 0, 0), none)
    again = iter([True])
    luck.broken = lambda block: block == 0 or (block is None and next(again, False))  # type: ignore[method-assign]
    dues: list[int] = []
    run = Run(setting, luck, with_spares=False)
    lose = run.pool.lose
    run.pool.lose = lambda *lost: (dues.append(lost[2]), lose(*lost))[1]  # type: ignore[method-assign]
    assert run.play().lost == 2
    assert dues[0] == dues[1] < NEVER


def blocks(fills: Iterable[Fill], block: int) -> Iterator[tuple[int, int | None]]:
    return (pair for fill in fills for pair in fill.each() if pair[1] == block)


def block_with_a_spare_in_time(setting: Setting) -> int:
    return next(
        block
        for batch in setting.batches
        for _, fills in batch.parts
        for fill in fills
        for mark, block in fill.each()
        if block is not None and block not in setting.spares
        if any(day <= fill.due for day in setting.days_of_spares.get(mark, []))
    )


def test_a_flat_batch_is_lost_and_its_moulds_are_cleaned(demo: Plan, setting: Setting, none: Rates) -> None:
    played = flat_first(demo, setting, none)
    fills = [fill for _, fills in setting.batches[0].parts for fill in fills]
    assert played.outcome.lost == len(fills)
    assert breaches(played) == []
    poured = setting.batches[0].start + setting.batches[0].load.to_pour + setting.batches[0].load.pour
    unstripped = [event for event in played.events if event.turn and not event.turn.fills]
    assert {event.task for event in unstripped} == {"fill", "clean"}
    assert all(event.start >= poured for event in unstripped if event.task == "clean")


def flat_first(plan: Plan, setting: Setting, none: Rates) -> Told:
    played = Run(setting, luck := Luck(Draws(setting, 0, 0), none), told=(events := []))
    luck.flat = lambda batch: batch == 0  # type: ignore[method-assign]
    return Told(plan, setting, none, played, played.play(), events)


@pytest.mark.parametrize("cause", list(Cause))
def test_each_cause_alone_does_harm_and_no_good(cause: Cause, setting: Setting, harsh: Rates, none: Rates) -> None:
    calm = outcomes(setting, none, 1)[0]
    alone = outcomes(setting, harsh.only(cause))
    assert all(run.struck <= {cause} for run in alone)
    assert all(run.last_pour >= calm.last_pour for run in alone)
    assert sum(run.block_days + run.last_pour - calm.last_pour for run in alone) > 0


@pytest.mark.parametrize("cause", [Cause.BROKEN, Cause.FLAT, Cause.LOST])
def test_more_of_a_cause_does_more_harm(cause: Cause, setting: Setting, rates: Rates, harsh: Rates) -> None:
    some, much = (outcomes(setting, each.only(cause), 25) for each in (rates, harsh))
    assert sum(run.block_days for run in much) > sum(run.block_days for run in some)


def test_spares_that_are_not_there_make_more_late(setting: Setting, harsh: Rates) -> None:
    broken = harsh.only(Cause.BROKEN)
    with_spares, without = outcomes(setting, broken), outcomes(setting, broken, with_spares=False)
    assert sum(run.block_days for run in with_spares) < sum(run.block_days for run in without)


def test_more_cement_is_bought_when_it_runs_out(small_plan: Plan, small_setting: Setting, none: Rates) -> None:
    short = replace(small_setting, cement=((0, small_setting.cement[0][1]),))
    played = told(small_plan, short, none, 0, 0)
    assert played.run.state.cement.bought < 14
    assert played.outcome.never == 0
    assert played.outcome.last_pour >= played.run.state.cement.bought


def test_what_runs_out_comes_after_its_own_lead_time(small_plan: Plan, none: Rates) -> None:
    stock = small_plan.site.stock
    agent = stock.foaming_agent.model_copy(update={"lead_time_min": 30 * MINUTES_A_DAY})
    site = small_plan.site.model_copy(update={"stock": stock.model_copy(update={"foaming_agent": agent})})
    setting = setting_of(replace(small_plan, site=site), none)
    assert (setting.more_cement, setting.more_agent) == (5, 30)
    run = Run(setting, Luck(Draws(setting, 0, 0), none))
    assert not run.state.cement.has(10_000.0, 1)
    assert not run.state.agent.has(10_000.0, 1)
    assert (run.state.cement.bought, run.state.agent.bought) == (6, 31)


def test_only_those_the_plan_counts_on_are_missed(setting: Setting, rates: Rates) -> None:
    everybody = rates.model_copy(update={"people_away": 1.0})
    assert [Luck(Draws(setting, 0, 0), everybody).away_on(3, of) for of in (0, 1, setting.people)] == [
        0,
        1,
        setting.people,
    ]
    often, runs = rates.model_copy(update={"people_away": 0.1}), 400
    all_there = sum(Luck(Draws(setting, 0, n), often).away_on(0, of=2) == 0 for n in range(runs))
    assert 0.76 < all_there / runs < 0.86  # 0.9 x 0.9
