"""Which chores the weather of a day leaves, and when moulds and racks are covered."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.chores import FROST_TODAY, FROST_TONIGHT, RACKS_EMPTY, UNLESS_WET, chores_now
from blockrun.show.covering import covering
from blockrun.show.day import Day, Job
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.site import Sky, Weather

FROSTY = date(2027, 4, 14)
WET, TWICE = "wet the racks", (time(8, 30), time(15))


def air(*lows: float, hourly: Sequence[float] = ()) -> Weather:
    """Days from the eve of a frosty one on, each 6 degC at its warmest."""
    skies = (Sky(tuple(hourly)), *(Sky() for _ in lows[1:])) if hourly else ()
    return Weather(FROSTY - timedelta(days=1), tuple((low, 6.0) for low in lows), skies=skies)


def chore(day: date, at: time, *names: str, on_racks: int = 40) -> Job:
    start = datetime.combine(day, at)
    return Job("chore", start, start + timedelta(minutes=10), names, 1, on_racks=on_racks)


def why(weather: Weather, day: date) -> list[str]:
    return [chores_now(chore(day, at, WET), weather).why for at in TWICE]


def test_what_wets_is_left_out_on_the_eve_of_frost_and_the_rest_is_done() -> None:
    job = chore(FROSTY - timedelta(days=1), time(15), WET, "Spray the tops", "sweep", "watering")
    assert chores_now(job, air(1, 0)) == (
        ("sweep",),
        (WET, "Spray the tops", "watering"),
        FROST_TONIGHT,
        UNLESS_WET,
    )
    assert chores_now(job, air(1, 1)) == (job.names, (), "", "")


def test_of_a_day_before_a_frosty_night_only_the_afternoon_goes_unwetted() -> None:
    """The air is coldest at 3:00: what is wet in the afternoon is wet then, and at 8:30 of the next day it thaws."""
    assert why(air(1, 0, 2), FROSTY - timedelta(days=1)) == ["", FROST_TONIGHT]
    assert why(air(1, 0, 2), FROSTY) == ["", ""]


def test_nothing_is_wetted_while_it_still_freezes() -> None:
    assert why(air(1, -4, 2), FROSTY)[0] == FROST_TODAY


def test_nothing_is_wetted_in_the_morning_before_frost_that_evening() -> None:
    falling = [*(6.0,) * 20, *(-1.0,) * 5]
    assert why(air(-1, 3, hourly=falling), FROSTY - timedelta(days=1)) == [FROST_TODAY, FROST_TODAY]


def test_a_mean_of_other_days_is_no_frost() -> None:
    assert why(air(0), FROSTY) == ["", ""]


def test_racks_are_not_wetted_while_nothing_lies_on_them() -> None:
    job = chore(FROSTY, time(15), WET, "water the stacks", on_racks=0)
    assert chores_now(job, air(3, 3, 3)) == (("water the stacks",), (WET,), RACKS_EMPTY, "")


def test_on_the_first_day_no_rack_is_wetted(demo_plan: Plan) -> None:
    lines = days_text(demo_plan, 80, date(2027, 4, 5), date(2027, 4, 5)).plain.split("\n")
    assert [line for line in lines if WET in line] == [f"{at} {RACKS_EMPTY} {WET}" for at in ("08:30", "15:00")]


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


def test_the_days_leave_out_what_wets_before_frost_and_say_to_cover(demo_plan: Plan) -> None:
    lines = days_text(demo_plan, 80, FROSTY - timedelta(days=1), FROSTY).plain.split("\n")
    assert [line.partition(",")[0] for line in lines if "wet the racks" in line] == [
        "08:30 wet the racks",
        "15:00 NOT TODAY: FROST TONIGHT wet the racks",
        "08:30 wet the racks",
        "15:00 wet the racks",
    ]
    assert "07:30 cover racks and stack: 0 degC today" in lines
