"""The last foam of a day that is hot in the afternoon, and what such days say of heat.

In the small yard foam and pour take 14 min; of a pour life of 16 min, 13 are left from 34 degC on, by EN 1992-1-1
(B.10). Its last foam is at 15:00.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.cure.pour_life import hot_stretches
from blockrun.planner.plan import Plan
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.show.last_foam import last_foam_said
from blockrun.show.page import GLUE
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages
from blockrun.site import Sky, Weather

MONDAY = date(2027, 4, 5)


def hour_by_hour(plan: Plan, cool_c: float, hot_c: float, first: int, last: int, **changes: object) -> Plan:
    """The plan in air that is hot at some full hours and cool at the others, every day."""
    air_c = tuple(hot_c if first <= hour <= last else cool_c for hour in range(25))
    weather = Weather(MONDAY, ((cool_c, hot_c),) * 30, skies=(Sky(air_c=air_c),) * 30)
    return replace(plan, site=plan.site.model_copy(update={"weather": weather, "pour_life_min": 16.0, **changes}))


def last_foam(plan: Plan, day: date = MONDAY) -> str:
    diary = Diary(plan)
    (of_day,) = diary.days(day, day)
    return last_foam_said(of_day, plan.site)


def words_of(plan: Plan) -> str:
    return " ".join(days_text(plan, 80, MONDAY, MONDAY).plain.replace(GLUE, " ").split())


def test_where_heat_lasts_to_the_evening_the_last_foam_is_before_it(small_plan: Plan) -> None:
    """Cool at 10, 40 degC at 11: hot from half past ten or so."""
    plan = hour_by_hour(small_plan, 20.0, 40.0, 11, 24)
    ((first, end),) = hot_stretches(plan.site, plan.site.weather.day(MONDAY), 14)
    assert (10 * 60 + 30 < first < 11 * 60, end) == (True, 16 * 60)
    last = f"{(first - 1) // 60:02}:{(first - 1) % 60:02}"
    assert last_foam(plan) == last
    assert f"LAST FOAM {last}" in words_of(plan)
    assert f"no foam goes in from {first // 60:02}:{first % 60:02} to 16:00, for the quickest batch" in words_of(plan)


def test_the_page_of_the_day_says_the_same(small_plan: Plan) -> None:
    plan = hour_by_hour(small_plan, 20.0, 40.0, 11, 24)
    asked = Asked(plan)
    monday = next(day for day in asked.days if day.day == MONDAY)
    (page,) = day_pages(asked, monday)
    assert page.data["days"][0]["last_foam"] == last_foam(plan) < "11:00"


@pytest.mark.parametrize(("first", "last"), [(11, 13), (0, 24), (16, 24)])
def test_heat_that_is_over_by_then_lasts_all_day_or_comes_later_ends_no_foam_sooner(
    small_plan: Plan, first: int, last: int
) -> None:
    assert last_foam(hour_by_hour(small_plan, 20.0, 33.9 if first == 16 else 40.0, first, last)) == "15:00"


def test_cool_hours_after_the_heat_are_left_for_foam_and_those_of_heat_are_told(small_plan: Plan) -> None:
    plan = hour_by_hour(small_plan, 20.0, 40.0, 10, 13)
    assert last_foam(plan) == "15:00"
    assert "LAST FOAM 15:00" in words_of(plan)
    assert "no foam goes in from 09:4" in words_of(plan)


def test_where_the_pour_life_holds_in_cool_air_alone_the_day_tells_of_heat_under_30_degrees(small_plan: Plan) -> None:
    plan = hour_by_hour(small_plan, 18.0, 29.0, 11, 24, pour_life_up_to_c=22.0)
    assert "HEAT, 29 degC: pour in the cool hours, use cool water; at the hottest the mix keeps" in words_of(plan)
    assert last_foam(plan) < "11:00"


def test_such_air_is_no_heat_on_a_day_without_a_pour(small_plan: Plan) -> None:
    """Blocks need no shade at 29 degC."""
    plan = hour_by_hour(small_plan, 18.0, 29.0, 11, 24, pour_life_up_to_c=22.0)
    wednesday = date(2027, 4, 7)
    assert "HEAT" not in days_text(plan, 80, wednesday, wednesday).plain
