"""What changes save, solved for real on yards of a few blocks: known by hand, and the same with any workers."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cache

import pytest

from blockrun.errors import NoPlanInTime, OutOfRange
from blockrun.planner.audit import Finding
from blockrun.planner.make import make_plan
from blockrun.planner.whatif.changes import Change, another_day, more_moulds, more_people, more_places, warmer
from blockrun.planner.whatif.gains import Saved, days_saved, late_saved
from blockrun.planner.whatif.solved import Refused, Solved
from blockrun.planner.whatif.tried import Trial, Tried, try_changes
from tests.planner.why.by_hand import FROSTY, a_site, an_order
from tests.yards import a_yard

pytestmark = pytest.mark.xdist_group("tried")  # what most of these look at is tried once

MOULD, PERSON, RACK = more_moulds("gang", 1), more_people(1), more_places(10)
TWO = more_moulds("gang", 2)
NOW = Solved(4, 2, date(2027, 4, 12), date(2027, 4, 9), 5, 125.0, 5.0, None)


def answer(late: tuple[int, int], finish: tuple[int, int]) -> Solved:
    days = (date(2027, 4, day) for day in finish)
    return Solved(*late, *days, batches=5, cement_kg=125.0, bags=5.0, cost=None)


@cache
def tried(workers: int = 1) -> Tried:
    """Eight blocks in one mould of two: four days; with two moulds, two."""
    return try_changes(a_site(), an_order(8, None), workers=workers, offered=(RACK, MOULD, PERSON, TWO))


def of(result: Tried, *changes: Change) -> Trial:
    return next(trial for trial in (*result.single, *result.pairs) if set(trial.changes) == set(changes))


def test_one_more_mould_saves_two_days_and_it_is_proven() -> None:
    result = tried()
    assert isinstance(result.now, Solved)
    assert result.now.finish == date(2027, 4, 8)
    saved = result.days_saved(of(result, MOULD))
    assert saved == Saved(found=2, least=2, most=2)
    assert saved.proven


def test_more_rack_than_is_ever_full_is_proved_to_save_nothing() -> None:
    saved = tried().days_saved(of(tried(), RACK))
    assert saved is not None
    assert saved.none_possible


def test_the_best_comes_first_and_those_that_may_save_something_are_tried_in_pairs() -> None:
    """Neither one more person nor more places save anything."""
    result = tried()
    assert {trial.changes for trial in result.single[:2]} == {(MOULD,), (TWO,)}
    assert [set(pair.changes) for pair in result.pairs] == [{MOULD, TWO}]
    assert result.unsolved == ()


def test_two_processes_find_what_one_does() -> None:
    assert tried(workers=2) == tried()


@pytest.mark.parametrize("change", [MOULD, PERSON, RACK], ids=lambda change: change.said)
def test_a_change_that_only_allows_more_is_never_worse_in_a_stage_that_is_proven(change: Change) -> None:
    now, then = tried().now, of(tried(), change).answer
    assert isinstance(now, Solved)
    assert isinstance(then, Solved)
    assert then.least_late <= now.late
    assert then.stages <= now.stages
    assert then.soonest_finish <= now.finish


def test_two_changes_are_no_worse_than_either() -> None:
    for pair in tried().pairs:
        for change in pair.changes:
            both, single = pair.answer, of(tried(), change).answer
            assert isinstance(both, Solved)
            assert isinstance(single, Solved)
            assert both.stages <= single.stages


def test_a_yard_without_a_plan_is_told_with_the_change_that_gives_it_one() -> None:
    for_ever = FROSTY.__class__(FROSTY.first, ((1.0, 39.0),) * 9)
    result = try_changes(a_site(weather=for_ever), an_order(2, None), offered=(RACK, warmer(5)))
    assert isinstance(result.now, Refused)
    assert isinstance(result.single[0].answer, Solved)
    assert isinstance(result.single[1].answer, Refused)
    assert result.days_saved(result.single[0]) is None


@pytest.mark.parametrize("change", [MOULD, another_day(5)], ids=lambda change: change.said)
def test_a_plan_that_the_audit_refuses_saves_nothing_and_is_told(
    monkeypatch: pytest.MonkeyPatch, change: Change
) -> None:
    finding = Finding("one mixer, one batch", "batch 1", "batch 1 is mixed while batch 2 is.")
    as_it_is = a_site()
    monkeypatch.setattr("blockrun.planner.audited.audit", lambda site, *_: [finding] * (site != as_it_is))
    result = try_changes(as_it_is, an_order(8, None), offered=(change,))
    assert isinstance(result.now, Solved)
    (trial,) = result.single
    assert isinstance(trial.answer, Refused)
    assert trial.answer.why.startswith("our own audit refuses the one found (batch 1 is mixed while batch 2 is.)")
    assert result.days_saved(trial) is None


def stop_after(solved: int) -> tuple[Callable[[], bool], Callable[[str], None]]:
    told: list[str] = []
    return lambda: len(told) > solved, told.append


def test_what_saves_nothing_is_told_first_then_what_may_save_most_is_solved_and_on_a_stop_the_rest_is_named() -> None:
    """Twelve blocks take six days with one mould, three with two and two with three."""
    stop, tell = stop_after(4)
    result = try_changes(a_site(), an_order(12, None), offered=(MOULD, RACK, TWO), stop=stop, tell=tell)
    assert not result.cut_short
    assert {trial.changes for trial in result.single} == {(RACK,), (TWO,)}
    assert result.unsolved == ("one more gang mould",)


def test_the_yard_as_it_is_is_what_a_plan_gives() -> None:
    yard = a_yard(7, (10, 40))
    now = try_changes(yard.site, yard.order, rounds=3, offered=()).now
    assert isinstance(now, Solved)
    plan = make_plan(yard.site, yard.order, rounds=3)
    assert [now.late, now.finish, now.batches] == [stage.value for stage in plan.stages[:3]]


def test_a_yard_as_it_is_whose_search_was_stopped_is_told_as_far_as_it_got() -> None:
    heard: list[str] = []
    site, order = a_site(), an_order(8, None)
    calls = iter(range(10**9))
    result = try_changes(site, order, rounds=3, offered=(MOULD,), stop=lambda: next(calls) > 40, tell=heard.append)
    assert isinstance(result.now, Solved)
    assert result.cut_short
    assert result.unsolved == (MOULD.said,)


def test_a_stop_before_the_yard_as_it_is_is_solved_is_told() -> None:
    with pytest.raises(NoPlanInTime, match="no time to solve the yard as it is"):
        try_changes(a_site(), an_order(4, None), offered=(MOULD,), stop=lambda: True)


def test_no_worker_is_too_few() -> None:
    with pytest.raises(OutOfRange, match="workers is under 1"):
        try_changes(a_site(), an_order(4, None), workers=0)


# how sure it is, by hand


def test_what_is_truly_saved_lies_between_the_bound_before_and_the_bound_after() -> None:
    assert late_saved(NOW, answer((1, 0), (12, 9)), allows_more=False) == Saved(found=3, least=1, most=4)


def test_of_the_last_pour_nothing_is_sure_where_lateness_is_not() -> None:
    assert days_saved(NOW, answer((1, 0), (10, 9)), allows_more=True) == Saved(found=2, least=None, most=None)


def test_where_lateness_is_settled_days_are_between_bounds_too() -> None:
    now, then = answer((0, 0), (12, 11)), answer((0, 0), (9, 8))
    assert days_saved(now, then, allows_more=False) == Saved(found=3, least=2, most=4)
    assert not days_saved(now, then, allows_more=False).proven


def test_a_change_that_only_allows_more_truly_saves_nothing_at_the_least() -> None:
    assert late_saved(NOW, answer((4, 0), (12, 9)), allows_more=True) == Saved(found=0, least=0, most=4)
    now, then = answer((0, 0), (12, 9)), answer((0, 0), (11, 8))
    assert days_saved(now, then, allows_more=True) == Saved(found=1, least=0, most=4)
    assert days_saved(now, then, allows_more=False) == Saved(found=1, least=-2, most=4)


def test_a_trial_takes_the_least_from_its_changes() -> None:
    then = answer((4, 0), (12, 9))
    helps, may_not = Trial((MOULD,), then), Trial((MOULD, another_day(5)), then)
    result = Tried(NOW, (helps, may_not), (), ())
    least = [saved and saved.least for saved in map(result.late_saved, (helps, may_not))]
    assert least == [0, -2]


def test_a_day_of_the_week_more_may_make_blocks_late_for_layers_work_it_too() -> None:
    assert not another_day(5).allows_more
    assert MOULD.allows_more
