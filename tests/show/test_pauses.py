"""Why a day pours nothing. In the plan made by hand that is Wednesday, when the trays could be filled again."""

from __future__ import annotations

import dataclasses
from datetime import date, timedelta

import pandas as pd
import pytest

from blockrun.planner.plan import Plan
from blockrun.show.days import days_text
from blockrun.show.page import GLUE
from blockrun.show.pauses import Pauses
from blockrun.site import Crew, Site, Sky, Stock, Weather
from blockrun.site.weather import TypicalYear

MONDAY, WEDNESDAY = date(2027, 4, 5), date(2027, 4, 7)


def with_site(plan: Plan, **changed: object) -> Plan:
    return dataclasses.replace(plan, site=plan.site.model_copy(update=changed))


def with_tables(plan: Plan, **changed: object) -> Plan:
    return dataclasses.replace(plan, tables=dataclasses.replace(plan.tables, **changed))


def with_lows(site: Site, lows: dict[date, float]) -> Weather:
    given = [site.weather.day(date.fromordinal(site.weather.first.toordinal() + n)) for n in range(5)]
    return Weather(
        site.weather.first,
        tuple(
            (lows.get(date.fromordinal(site.weather.first.toordinal() + n), day.min_c), day.max_c)
            for n, day in enumerate(given)
        ),
    )


def why(plan: Plan) -> str:
    return Pauses(plan).why(WEDNESDAY).replace(GLUE, " ")


def test_only_working_days_before_the_last_pour_count(small_plan: Plan) -> None:
    assert Pauses(small_plan).days == {WEDNESDAY}


WITH_THE_REST = "a batch would be one more; what free moulds could take is poured with the rest on Thu 8 Apr"


def test_what_is_too_little_for_a_batch_of_its_own_waits_for_the_next(small_plan: Plan) -> None:
    """A thin block, into the tray that is free: on Thursday it goes with six others."""
    assert why(small_plan) == WITH_THE_REST


def test_moulds_of_the_next_pour_are_full_though_another_is_free(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    casts.loc[casts["mark"].eq("thin") & casts["batch"].eq(3), "poured"] += pd.Timedelta(days=4)
    plan = with_tables(small_plan, casts=casts)
    assert why(plan) == "the moulds for what is poured next, on Thu 8 Apr, are full or not clean"


@pytest.mark.parametrize(("days", "said"), [(0, "what is poured next, on Thu 8 Apr, is all in time"), (-1, "")])
def test_with_moulds_free_what_is_in_time_may_wait_and_of_the_rest_nothing_is_said(
    small_plan: Plan, days: int, said: str
) -> None:
    casts = small_plan.tables.casts
    casts = casts[casts["batch"] != 2].assign(needed=casts["ready"].dt.normalize() + pd.Timedelta(days=days))
    assert why(with_tables(small_plan, casts=casts)) == said


def test_nothing_is_said_of_a_day_that_pours(small_plan: Plan) -> None:
    plan = with_site(small_plan, crew=Crew(people=1))
    assert Pauses(plan).why(date(2027, 4, 6)) == ""


@pytest.mark.parametrize(("people", "there"), [(1, "1 is"), (0, "nobody is")])
def test_too_few_people_for_the_mixer(small_plan: Plan, people: int, there: str) -> None:
    plan = with_site(small_plan, crew=small_plan.site.crew.model_copy(update={"people": people + 1}))
    assert plan.site.crew.on(WEDNESDAY) == people
    assert why(plan) == f"the drum needs 2 people, and {there} here"


def test_air_too_cold_on_the_day(small_plan: Plan) -> None:
    plan = with_site(small_plan, weather=with_lows(small_plan.site, {WEDNESDAY: 2.5}))
    assert why(plan) == "the air falls to 2.5 degC, and 5 degC is the least"


def test_air_too_cold_before_the_strip(small_plan: Plan) -> None:
    plan = with_site(small_plan, weather=with_lows(small_plan.site, {date(2027, 4, 8): -1}))
    assert why(plan) == (
        "the air falls to -1 degC on Thu 8 Apr, before freshly poured blocks can be stripped, and 5 degC is the least"
    )


def test_air_too_cold_after_the_strip_is_no_reason(small_plan: Plan) -> None:
    plan = with_site(small_plan, weather=with_lows(small_plan.site, {date(2027, 4, 9): -1}))
    assert "Fri" not in why(plan)


def in_the_heat(plan: Plan, *on: date, other_c: float = 20.0) -> Plan:
    """41 degC at the least on some days: foam and pour take 14 of the 16 min that a mix keeps in the cool."""
    days = tuple((41.0, 43.0) if MONDAY + timedelta(days=n) in on else (other_c, other_c) for n in range(30))
    return with_site(plan, weather=Weather(MONDAY, days), pour_life_min=16.0)


def test_a_day_that_is_too_hot_at_every_hour(small_plan: Plan) -> None:
    assert why(in_the_heat(small_plan, WEDNESDAY)) == "too hot at every hour to pour a mix while it keeps"


def test_heat_is_no_reason_where_a_mix_keeps_or_some_hour_is_cool(small_plan: Plan) -> None:
    assert why(in_the_heat(small_plan)) == WITH_THE_REST
    hot = in_the_heat(small_plan, WEDNESDAY)
    assert why(with_site(hot, pour_life_min=60.0)) == WITH_THE_REST
    noon = Weather(MONDAY, ((20.0, 43.0),) * 30)
    assert why(with_site(hot, weather=noon)) == WITH_THE_REST


def test_heat_is_no_reason_where_a_mix_is_poured_in_it_for_want_of_any_cooler_hour(small_plan: Plan) -> None:
    always = Weather.of_typical(TypicalYear("Fenby", (Sky(air_c=(41.0,) * 25),) * 365))
    assert why(with_site(small_plan, weather=always, pour_life_min=16.0)) == WITH_THE_REST


def test_every_mould_still_wanted_is_full(small_plan: Plan) -> None:
    casts = small_plan.tables.casts
    plan = with_tables(small_plan, casts=casts[casts["mark"] != "thin"])
    assert why(plan) == (
        "the moulds for what is still to cast are full or not clean; the first is free Thu 8 Apr 08:22"
    )


def test_racks_without_a_place_are_said_beside_full_moulds(small_plan: Plan) -> None:
    casts = small_plan.tables.casts
    plan = with_tables(small_plan, casts=casts[casts["mark"] != "thin"])
    racks = (small_plan.site.racks[0].model_copy(update={"places": 4}),)
    assert why(with_site(plan, racks=racks)).endswith("; all 4 places on the racks are taken")


def test_cement_that_is_still_to_come(small_plan: Plan) -> None:
    materials = small_plan.tables.materials.copy()
    materials["cement_left_kg"] = 12.5
    assert why(with_tables(small_plan, materials=materials)) == (
        "waiting for cement: the smallest batch takes 1 bag, what is left is 0.5; more comes Thu 8 Apr"
    )


def test_agent_that_never_comes(small_plan: Plan) -> None:
    materials = small_plan.tables.materials.copy()
    materials["agent_left_l"] = 0.02
    agent = small_plan.site.stock.foaming_agent.model_copy(update={"deliveries": ()})
    stock = Stock.model_construct(cement=small_plan.site.stock.cement, foaming_agent=agent)
    plan = with_tables(with_site(small_plan, stock=stock), materials=materials)
    assert why(plan) == ("waiting for foaming agent: 20 mL is left, too little for a batch; none is on its way")


def test_the_sheet_says_why_nothing_is_poured(demo_plan: Plan) -> None:
    words = " ".join(days_text(demo_plan, 40).plain.split())
    assert "No pour: the air falls to 1 degC, and 5 degC is the least." in words
    assert "No pour: the air falls to 3 degC on Mon 12 Apr, before freshly poured blocks can be stripped" in words


def with_limits(plan: Plan, air: tuple[float, float], rain_mm: float) -> Plan:
    """The plan with a most_air of 30 degC and a rain_stops of 5 mm, and this weather every day."""
    curing = plan.site.curing.model_copy(update={"most_air_c": 30.0, "rain_stops_mm": 5.0})
    return with_site(
        plan, curing=curing, weather=Weather(plan.site.weather.first, (air,) * 5, skies=(Sky(rain_mm=rain_mm),) * 5)
    )


def test_air_too_hot_and_rain(small_plan: Plan) -> None:
    plan = with_limits(small_plan, (12.0, 31.5), 12.0)
    assert why(plan) == (
        "the air rises to 31.5 degC, and 30 degC is the most; 12 mm of rain, and more than 5 mm stops the pour"
    )


def test_air_and_rain_within_their_limits_are_no_reason(small_plan: Plan) -> None:
    assert why(with_limits(small_plan, (12.0, 30.0), 5.0)) == WITH_THE_REST
