"""Many runs: the same numbers whoever plays them, and what they are counted to."""

from __future__ import annotations

import re
import sys
import warnings
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import replace
from itertools import count, product
from threading import Event

import numpy as np
import pandas as pd
import pytest

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.plan import Plan, never
from blockrun.planner.risk.counted import Chance, Risk
from blockrun.planner.risk.rates import Cause, Rates
from blockrun.planner.wanted import wanted
from blockrun.yard.answers import _slack, count_risk, reached
from blockrun.yard.luck import Draws, Luck
from blockrun.yard.run import Run
from blockrun.yard.setting import NEVER, Setting
from blockrun.yard.spares import fewest, needed
from blockrun.yard.sweep import AT_ONCE, Played, calm, play, sweep
from blockrun.yard.workers import workers

RUNS = 3 * AT_ONCE - 7


def swept(setting: Setting, rates: Rates, executor: Executor | None, seed: int = 4, runs: int = RUNS) -> list[Played]:
    return sweep(setting, rates, seed, runs, executor, never, lambda done: None)


@pytest.fixture(scope="module")
def played_here(small_setting: Setting, harsh: Rates) -> list[Played]:
    return swept(small_setting, harsh, None)


def test_the_same_seed_gives_the_same_runs(small_setting: Setting, harsh: Rates, played_here: list[Played]) -> None:
    assert swept(small_setting, harsh, None) == played_here
    assert swept(small_setting, harsh, None, seed=5) != played_here


def test_a_run_is_the_same_whichever_are_played_with_it(
    small_setting: Setting, harsh: Rates, played_here: list[Played]
) -> None:
    assert swept(small_setting, harsh, None, runs=11) == played_here[:11]
    assert play(small_setting, harsh, 4, range(20, 22)) == played_here[20:22]


def test_two_workers_play_the_same_runs(small_setting: Setting, harsh: Rates, played_here: list[Played]) -> None:
    with workers(2) as executor:
        assert executor is not None
        assert swept(small_setting, harsh, executor) == played_here


def test_a_cluster_plays_the_same_runs(small_setting: Setting, harsh: Rates, played_here: list[Played]) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of the cluster's own, on machines that are slow or have other work
        from distributed import LocalCluster

        with (
            LocalCluster(
                n_workers=2,
                threads_per_worker=1,
                processes=False,
                protocol="tcp://",
                host="127.0.0.1",
                dashboard_address=None,
            ) as cluster,
            workers(1, cluster.scheduler_address) as executor,
        ):
            assert executor is not None
            assert swept(small_setting, harsh, executor) == played_here


def test_an_address_that_nobody_answers_at_says_what_to_start(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("blockrun.yard.workers._PATIENCE", "1s")
    with (
        pytest.raises(BadInput, match=re.escape("no scheduler answers at tcp://127.0.0.1:1")) as fault,
        workers(1, "tcp://127.0.0.1:1"),
    ):
        pass
    assert "dask scheduler" in str(fault.value)


@pytest.mark.parametrize("address", ["nonsense", "tcp://", "127.0.0.1"])
def test_what_is_no_address_is_refused_at_once(address: str) -> None:
    with pytest.raises(BadInput, match="is not the address of a scheduler"), workers(1, address):
        pass


def test_without_the_extra_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(BadInput, match="not installed") as fault, workers(1, "tcp://127.0.0.1:8786"):
        pass
    assert "pip install 'blockrun[cluster]'" in str(fault.value)


def test_stopped_it_hands_over_the_runs_played_so_far(
    small_setting: Setting, harsh: Rates, played_here: list[Played]
) -> None:
    asked = count()
    some = sweep(small_setting, harsh, 4, RUNS, None, lambda: next(asked) >= 2, lambda done: None)
    assert some == played_here[: 2 * AT_ONCE]


def test_stopped_it_waits_for_runs_that_have_begun_and_counts_them(
    small_setting: Setting, harsh: Rates, played_here: list[Played], monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, asked = Event(), Event()

    def slow(setting: Setting, rates: Rates, seed: int, runs: range) -> list[Played]:
        begun.set()
        assert asked.wait(60)
        return play(setting, rates, seed, runs)

    def stop() -> bool:
        assert begun.wait(60)
        asked.set()
        return True

    monkeypatch.setattr("blockrun.yard.sweep.play", slow)
    with ThreadPoolExecutor(1) as executor:
        assert sweep(small_setting, harsh, 4, RUNS, executor, stop, lambda done: None) == played_here[:AT_ONCE]


def test_a_cause_switched_off_leaves_the_others_their_numbers(setting: Setting, harsh: Rates) -> None:
    one = play(setting, harsh, 0, range(1))[0]
    for nth, cause in enumerate(Cause):
        assert one.without[nth].struck <= set(Cause) - {cause}
    alone = [Run(setting, Luck(Draws(setting, 0, 0), harsh.only(cause))).play() for cause in Cause]
    assert alone[0] == one.broken


# what is counted


def counted_of(plan: Plan, rates: Rates, runs: int = 20) -> Risk:
    found = count_risk(plan, rates, runs=runs, seed=0, executor=None, stop=never, tell=lambda said: None)
    assert found is not None
    return found


def test_without_any_risk_all_is_as_the_plan_says(demo: Plan, none: Rates) -> None:
    risk = counted_of(demo, none, 2)
    finish = demo.stages[1].value
    assert risk.in_time.share == 1
    assert (risk.block_days.planned, risk.block_days.mean, risk.block_days.worst) == (0, 0, 0)
    assert (risk.last_pour.planned, risk.last_pour.worst) == (finish, finish)
    assert (risk.slack, risk.spares.wanted, risk.never.runs) == (0, {}, 0)
    assert all((cost.block_days, cost.days) == (0, 0) for cost in risk.costs)


def test_a_plan_that_is_late_by_itself_is_held_to_the_days_it_promises(small_plan: Plan, none: Rates) -> None:
    risk = counted_of(small_plan, none, 2)
    assert (risk.in_time.held, risk.block_days.planned, risk.is_planned_late) == (2, 2, True)
    assert risk.slack == 1
    courses = [course for part in risk.parts for course in part.courses]
    assert [(course.chance.held, course.planned) for course in courses] == [(2, 0), (0, 1)]
    assert [part.chance.held for part in risk.parts] == [2] * len(risk.parts)
    assert all(cost.chance.held == 2 for cost in risk.costs)


def test_where_all_days_are_lost_a_plan_that_is_late_is_later_than_it_promises(small_plan: Plan, none: Rates) -> None:
    risk = counted_of(small_plan, none.model_copy(update={"days_lost": 1.0}), 2)
    assert risk.in_time.held == 0
    assert risk.spares.wanted == {}


def test_courses_need_as_many_days_as_nine_in_ten_runs_ask_for(demo: Plan, harsh: Rates) -> None:
    risk = counted_of(demo, harsh)
    assert risk.slack == max(part.slack or 0 for part in risk.parts) > 0
    for part in risk.parts:
        assert (part.slack or 0) >= max(course.slack or 0 for course in part.courses)
        assert part.chance.held <= min(course.chance.held for course in part.courses)
    held = [cost.chance.held for cost in risk.costs]
    assert held == sorted(held, reverse=True)


def test_what_is_never_cast_has_no_slack_and_no_last_pour(demo: Plan, none: Rates) -> None:
    risk = counted_of(demo, none.model_copy(update={"days_lost": 1.0}), 2)
    ordered = sum(line.count for line in wanted(demo.site, demo.order) if line.part)
    assert (risk.never.runs, risk.never.blocks) == (2, ordered)
    assert (risk.in_time.held, risk.slack, {part.slack for part in risk.parts}) == (0, None, {None})
    assert (risk.last_pour.median, risk.last_pour.worst) == (None, None)
    lost = next(cost for cost in risk.costs if cost.cause is Cause.LOST)
    assert (lost.chance.held, lost.days > 100, lost.batches) == (2, True, -demo.stages[2].value)  # type: ignore[operator]


def test_a_run_in_ten_that_never_casts_all_leaves_nine_their_slack() -> None:
    assert _slack([0] * 8 + [3, NEVER]) == 3
    assert _slack([0] * 8 + [NEVER, NEVER]) is None


def test_courses_know_their_marks(demo: Plan, none: Rates) -> None:
    assert counted_of(demo, none, 1).parts[0].courses[0].marks == ("plinth", "plinth-end")


def test_two_courses_of_one_day_know_the_mark_they_share(small_setting: Setting) -> None:
    shared = replace(small_setting, marks=("full", "half"), needs=(((3, 0), (3, 1)), ((3, 1),)))
    assert (shared.marks_of(0), shared.marks_of(1)) == (("full",), ("full", "half"))


def test_a_plan_that_was_changed_by_hand_is_refused(small_plan: Plan, rates: Rates) -> None:
    tables = small_plan.tables
    unknown = replace(small_plan, tables=replace(tables, casts=tables.casts.assign(mark="unknown")))
    with pytest.raises(BadPlan, match="do not fit together"):
        counted_of(unknown, rates)
    later = tables.batches.assign(start=tables.batches["start"] + pd.Timedelta(days=3))
    with pytest.raises(BadPlan, match="does not end as it says"):
        counted_of(replace(small_plan, tables=replace(tables, batches=later)), rates)


def test_nothing_played_is_nothing_counted(small_plan: Plan, rates: Rates) -> None:
    told = count_risk(small_plan, rates, runs=5, seed=0, executor=None, stop=lambda: True, tell=lambda said: None)
    assert told is None


def test_what_nine_in_ten_stay_within() -> None:
    assert reached(range(1, 11)) == 9
    assert reached([0] * 9 + [7]) == 0
    assert reached([0] * 8 + [7] * 2) == 7
    assert reached([3]) == 3
    assert reached([1, 2, 3, 4], 0.5) == 2


@pytest.mark.parametrize(
    ("held", "runs", "low", "high"),
    [
        # Newcombe, Statistics in Medicine 17 (1998), 857-872, table I, method 3 (score), from memory
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_intervals_are_those_of_wilson(held: int, runs: int, low: float, high: float) -> None:
    chance = Chance(held, runs)
    assert (chance.low, chance.high) == (pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))


def test_all_or_none_of_the_runs_has_an_end_at_the_edge() -> None:
    assert (Chance(20, 20).low, Chance(20, 20).high) == (pytest.approx(1 - 0.1611, abs=5e-5), 1.0)


# spares


def test_no_fewer_spares_will_do() -> None:
    """Against all that there are: two marks, up to five spares of each."""
    random = np.random.default_rng(3)
    for _ in range(40):
        asked = random.poisson((0.6, 0.2), (60, 2))
        found = fewest(asked)
        enough = [
            sum(spares)
            for spares in product(range(6), repeat=2)
            if (asked > np.array(spares)).any(axis=1).mean() < 0.05
        ]
        assert found is not None
        assert found.total() == min(enough)


def test_where_no_number_of_spares_is_enough_there_is_none() -> None:
    assert fewest(np.full((10, 1), 100)) is None


def test_a_spare_that_breaks_is_cast_in_vain() -> None:
    good = np.array([[[False, True, True]], [[True, True, True]], [[False, False, False]]])
    assert needed(np.array([[1], [2], [0]]), good).tolist() == [[2], [2], [0]]
    assert needed(np.array([[0], [0], [1]]), good).tolist() == [[0], [0], [4]]


def test_calm_is_the_plan(small_setting: Setting, harsh: Rates) -> None:
    assert calm(small_setting, harsh).struck == frozenset()
