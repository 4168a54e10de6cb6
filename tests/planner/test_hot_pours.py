"""Batches that set before they are poured are told with the plan, by the rule that days and cards go by."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from blockrun.planner.brief import brief
from blockrun.planner.hot_pours import hot_pours, hot_pours_said
from blockrun.planner.plan import Plan
from blockrun.planner.rows import rows_of
from blockrun.planner.warnings import warnings
from blockrun.show.day import Pour
from blockrun.show.diary import Diary
from blockrun.show.jobs import pour_entries
from blockrun.show.page import LIMIT
from blockrun.site import Site, Weather


def under(plan: Plan, low_c: float, high_c: float, **changes: object) -> Site:
    weather = Weather(plan.site.calendar.start, ((low_c, high_c),) * 5)
    return plan.site.model_copy(update={"weather": weather, **changes})


def said(site: Site, plan: Plan, **since: object) -> list[str]:
    return list(hot_pours_said(site, plan.tables, **since))


def test_batches_that_set_before_they_are_poured_are_told_with_the_first_and_what_to_do(small_plan: Plan) -> None:
    """Foam and pour take 14 min; of 16 min, 14 are left at 33 degC and 13 from 34 on, EN 1992-1-1 (B.10)."""
    site = under(small_plan, 33.9, 34.1, pour_life_min=16.0)
    assert said(site, small_plan) == [
        "HEAT: 4 of 4 batches cannot be poured in time, batch 1 is the first: its foam goes in on Mon 5 Apr 08:10; at "
        "34 degC a mix keeps 13 min (our choice, no standard), and foam and pour take 14 min. It is planned all the "
        "same, for no working hour of a year is cool enough for any batch of its mix. Begin earlier in the day "
        "(hours), pour faster (pour_time), or keep the slurry cool by shade and cold water and write up to which air "
        "the pour life then holds (pour_life_up_to). Check a batch with blockrun check ... --temperature."
    ]


def test_air_in_which_foam_and_pour_end_in_time_is_told_of_no_batch(small_plan: Plan) -> None:
    assert said(under(small_plan, 33.0, 33.0, pour_life_min=16.0), small_plan) == []
    assert said(under(small_plan, 20.0, 40.0), small_plan) == []
    assert said(under(small_plan, 40.0, 40.0, pour_life_min=16.0, pour_life_up_to_c=40.0), small_plan) == []


def test_it_is_among_the_notes_of_a_plan(small_plan: Plan) -> None:
    site = under(small_plan, 34.0, 34.0, pour_life_min=16.0)
    told = warnings(brief(site, small_plan.order, 30), small_plan.tables, {})
    assert said(site, small_plan)[0] in told


def test_what_began_before_a_plan_was_made_anew_is_told_no_more(small_plan: Plan) -> None:
    site, starts = under(small_plan, 34.0, 34.0, pour_life_min=16.0), sorted(small_plan.tables.batches["start"])
    assert said(site, small_plan, since=starts[-1])[0].startswith("HEAT: 1 of 1 batch cannot be poured in time, batch")
    assert said(site, small_plan, since=starts[-1] + timedelta(minutes=1)) == []


def test_in_us_units_the_air_is_in_fahrenheit(small_plan: Plan) -> None:
    (note,) = said(under(small_plan, 34.0, 34.0, pour_life_min=16.0, units="US"), small_plan)
    assert "at 93.2 degF a mix keeps" in note


def test_days_forbid_the_very_batches_that_are_told(small_plan: Plan) -> None:
    plan = replace(small_plan, site=under(small_plan, 26.0, 36.0, pour_life_min=16.0))
    told = {one.batch for one in hot_pours(plan.site, rows_of(plan.tables.batches))}
    diary = Diary(plan)
    pours = [job for day in diary.days(diary.first, diary.last) for job in day.jobs if isinstance(job, Pour)]
    forbidden = {
        int(pour.batch.batch)
        for pour in pours
        for entry in pour_entries(pour, "", plan.site)
        for part in entry.words
        if not isinstance(part, str) and part[1] == LIMIT and "CANNOT BE POURED IN TIME" in part[0]
    }
    assert told == forbidden
    assert 0 < len(told) < len(pours)
