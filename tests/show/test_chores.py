"""Which chores the weather of a day leaves, and when moulds and racks are covered."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.chores import chores_in, covering
from blockrun.show.day import Day
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.site import DayWeather, Sky

FROST, COLD, MILD = (DayWeather(low, 12.0, True, sky=Sky()) for low in (-1.0, 3.0, 8.0))
FROSTY = date(2027, 4, 14)


def test_in_frost_what_wets_is_left_out_and_the_rest_is_done() -> None:
    names = ("wet the racks", "Spray the tops", "sweep", "watering")
    assert chores_in(FROST, names) == (("sweep",), ("wet the racks", "Spray the tops", "watering"))
    assert chores_in(COLD, names) == (names, ())


def test_a_mean_of_other_days_is_no_frost() -> None:
    assert chores_in(dataclasses.replace(FROST, forecast=False), ("wet the racks",)).left_out == ()


def day_of(plan: Plan, day: date) -> Day:
    (found,) = Diary(plan).days(day, day)
    return found


@pytest.mark.parametrize(
    ("day", "at"),
    [(date(2027, 4, 9), None), (date(2027, 4, 10), "16:30"), (date(2027, 4, 12), "07:30"), (FROSTY, "07:30")],
)
def test_all_is_covered_first_of_all_on_a_cold_day_and_last_of_all_before_one(
    demo_plan: Plan, day: date, at: str | None
) -> None:
    """Monday 12 April falls to 3 degC, and nobody is there on Sunday."""
    told = covering(day_of(demo_plan, day), demo_plan.site)
    assert (told and told.at) == (datetime.fromisoformat(f"{day}T{at}") if at else None)


def test_the_days_leave_out_what_wets_in_frost_and_say_to_cover(demo_plan: Plan) -> None:
    lines = days_text(demo_plan, 80, FROSTY, FROSTY).plain.split("\n")
    assert [line for line in lines if "wet the racks" in line] == [
        "08:30 NOT TODAY: FROST wet the racks",
        "15:00 NOT TODAY: FROST wet the racks",
    ]
    assert "07:30 cover moulds and racks: 0 degC today" in lines
