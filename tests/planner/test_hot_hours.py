"""Plans in the heat: batches are made in the cool of the day, smaller, or another day.

In the small yard foam and pour take 14 min; of a pour life of 16 min, 14 are left at 33 degC and 13 from 34 on, by
EN 1992-1-1 (B.10).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest

from blockrun.cure.pour_life import pour_life_of
from blockrun.errors import NoPlanPossible
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.hot_hours import felt, hot_hours_said
from blockrun.planner.hot_pours import hot_pours
from blockrun.planner.make import make_plan
from blockrun.planner.minutes import days_from
from blockrun.planner.plan import Plan
from blockrun.planner.rows import rows_of
from blockrun.planner.why.planned_days import PlannedDays
from blockrun.site import Chore, FoamGenerator, Site, Sky, Weather
from blockrun.site.crew import Absence
from blockrun.site.weather import TypicalYear


def in_air(plan: Plan, *days: tuple[float, float], **changes: object) -> Site:
    weather = Weather(plan.site.calendar.start, days)
    return plan.site.model_copy(update={"weather": weather, "pour_life_min": 16.0, **changes})


def planned(site: Site, plan: Plan) -> Plan:
    """A plan that its audit accepts."""
    made = make_plan(site, plan.order, rounds=1)
    assert audit(made.site, made.order, made.tables, made.stages, made.totals) == []
    return made


def foam_of(plan: Plan) -> list[time]:
    return sorted(row.foam_at.time() for row in rows_of(plan.tables.batches))


def told(plan: Plan) -> list[str]:
    return [said for said in plan.warnings if said.startswith("HEAT")]


def always(celsius: float) -> Weather:
    """As in a typical year that is as warm at all hours."""
    return Weather.of_typical(TypicalYear("Fenby", (Sky(air_c=(celsius,) * 25),) * 365))


def test_in_a_hot_week_all_is_poured_in_the_cool_of_the_day(small_plan: Plan) -> None:
    """27 to 41 degC: over 33 from half past eight on, by when no foam goes in but that of the first batch of a day."""
    plan = planned(in_air(small_plan, *[(27.0, 41.0)] * 30), small_plan)
    assert hot_pours(plan.site, rows_of(plan.tables.batches)) == ()
    (first, end, keeps) = brief(plan.site, plan.order, 30).problem.days[0].hot[0]
    assert keeps == 0
    assert all(pour_life_of(plan.site, foam_at=foam).minutes >= 14 for foam in plan.tables.batches["foam_at"])
    assert foam_of(plan)[-1] <= time(first // 60, first % 60)
    (said,) = told(plan)
    hours = f"from {first // 60:02}:{first % 60:02} to {end // 60:02}:{end % 60:02}"
    assert said.startswith("HEAT: on ")
    assert f"on Mon 5 Apr no foam goes in {hours}. Begin earlier in the day (hours), pour faster" in said


def test_why_names_the_hot_hours_of_a_day(small_plan: Plan) -> None:
    plan = planned(in_air(small_plan, *[(27.0, 41.0)] * 30), small_plan)
    (hot,) = (taken for taken in PlannedDays(plan).day(date(2027, 4, 5)).taken if taken.thing == "hot hours")
    assert hot.ran_out
    assert 5 * 60 < hot.taken < hot.there == sum(end - start for start, end in plan.site.calendar.windows)


def test_the_same_yard_without_heat_would_pour_in_those_hours(small_plan: Plan) -> None:
    """So it is the heat that moved them: the plan before was told of them only after."""
    blind = planned(in_air(small_plan, *[(27.0, 41.0)] * 30, pour_life_up_to_c=41.0), small_plan)
    site = in_air(small_plan, *[(27.0, 41.0)] * 30)
    assert hot_pours(site, rows_of(blind.tables.batches))
    findings = audit(site, blind.order, blind.tables, blind.stages, blind.totals)
    assert {finding.rule for finding in findings} == {"pour life in heat"}
    assert told(blind) == []


def test_where_foam_takes_long_a_smaller_batch_is_made_in_the_heat(small_plan: Plan) -> None:
    """Of foam at 10 L a minute, big batches take longer than 34 degC leaves of 26 min, and small ones do not."""
    slow = FoamGenerator(rate_l_min=10.0, foam_density_kg_m3=95.0, agent_dilution=(1.0, 40.0))
    cool, hot = (
        planned(
            in_air(small_plan, (air, air), pour_life_min=26.0, foam_generator=slow, weather=always(air)), small_plan
        )
        for air in (20.0, 36.0)
    )
    takes = [
        max((row.pour_to - row.foam_at).total_seconds() // 60 for row in rows_of(plan.tables.batches))
        for plan in (cool, hot)
    ]
    assert takes[0] > takes[1]
    assert not hot_pours(hot.site, rows_of(hot.tables.batches))
    assert "on Mon 5 Apr foam goes in only for batches poured within 20 min from 08:00 to 16:00" in told(hot)[0]


def test_through_days_that_are_too_hot_at_every_hour_nothing_is_poured(small_plan: Plan) -> None:
    """Nine days of 36 degC at the least; nobody knows the air of those after them."""
    plan = planned(in_air(small_plan, *[(36.0, 40.0)] * 9), small_plan)
    assert plan.tables.batches["start"].min().date() == date(2027, 4, 14)
    (said,) = told(plan)
    assert said.startswith(
        "HEAT: on 7 working days up to the last pour a mix keeps too short at every hour in which a batch could be "
        "made (our choice, no standard), and"
    )


def test_where_no_hour_of_a_year_is_cool_enough_a_plan_is_made_all_the_same_and_told(small_plan: Plan) -> None:
    plan = planned(in_air(small_plan, weather=always(36.0)), small_plan)
    n_batches = len(plan.tables.batches)
    (said,) = told(plan)
    assert said.startswith(f"HEAT: {n_batches} of {n_batches} batches cannot be poured in time, batch 1 is the first")
    assert "It is planned all the same, for no working hour of a year is cool enough for any batch of its mix" in said


def test_a_mixer_too_small_for_its_smallest_batch_makes_none_in_time(small_plan: Plan) -> None:
    """It would empty it in a minute; a bag of 25 kg makes more than it holds."""
    (drum,) = small_plan.site.mixers
    tiny = drum.model_copy(
        update={"name": "tiny", "usable_volume_l": 30.0, "least_volume_l": 20.0, "bag_step": Fraction(1)}
        | {"foam_time_min": 1, "pour_time_min": 1, "left_behind_l": 0.0}
    )
    plan = planned(in_air(small_plan, weather=always(36.0), mixers=(drum, tiny)), small_plan)
    assert {batch.mixer for batch in rows_of(plan.tables.batches)} == {drum.name}
    assert "no working hour of a year is cool enough for any batch of its mix" in told(plan)[0]


def test_where_nobody_is_there_at_the_cool_hours_that_is_said(small_plan: Plan) -> None:
    """From ten on it is too hot, until the evening; until then everybody wets the racks."""
    hours = tuple(20.0 if hour <= 9 else 38.0 for hour in range(25))
    weather = Weather.of_typical(TypicalYear("Fenby", (Sky(air_c=hours),) * 365))
    opens = small_plan.site.calendar.windows[0][0]
    chore = Chore(name="wet the racks", at=(opens,), time_min=180, people=small_plan.site.crew.people)
    with pytest.raises(NoPlanPossible, match="in no hour that is cool enough to pour a batch while it keeps"):
        make_plan(in_air(small_plan, weather=weather, chores=(chore,)), small_plan.order, rounds=0)


def test_heat_that_leaves_time_for_every_batch_changes_nothing(small_plan: Plan) -> None:
    """Nor does that of days whose air is but guessed."""
    warm, mild = (
        brief(in_air(small_plan, *days, pour_life_min=25.0), small_plan.order, 30).problem
        for days in ([(24.0, 38.0)] * 9, [(10.0, 20.0)] * 9)
    )
    assert warm.days == mild.days
    assert warm.loads == mild.loads
    guessed = brief(in_air(small_plan, (24.0, 38.0)), small_plan.order, 30).problem
    assert [day.number for day in guessed.days if day.hot] == [0]


def test_days_up_to_the_last_pour_are_told_with_the_hours_of_the_first_that_is_hot(small_plan: Plan) -> None:
    site = in_air(small_plan, (10.0, 20.0), (24.0, 38.0), (24.0, 38.0))
    asked = brief(site, small_plan.order, 30)
    (one,), (two,) = (hot_hours_said(asked, date(2027, 4, on)) for on in (6, 9))
    assert one.startswith("HEAT: on 1 working day up to the last pour")
    assert two.startswith("HEAT: on 2 working days up to the last pour")
    assert "on Tue 6 Apr no foam goes in from 10:10 to 16:00" in two
    assert list(hot_hours_said(asked, date(2027, 4, 5))) == []


def said_of(site: Site, plan: Plan, until: date) -> list[str]:
    return list(hot_hours_said(brief(site, plan.order, 30), until))


def test_days_on_which_the_weather_lets_nobody_pour_are_not_told(small_plan: Plan) -> None:
    """It is not for their heat that no batch is planned in their hot hours alone."""
    curing = small_plan.site.curing.model_copy(update={"most_air_c": 35.0})
    site = in_air(small_plan, *[(24.0, 38.0)] * 9)
    assert said_of(site, small_plan, date(2027, 4, 9))
    assert said_of(site.model_copy(update={"curing": curing}), small_plan, date(2027, 4, 9)) == []


def test_heat_that_comes_after_the_last_foam_of_a_day_is_not_told(small_plan: Plan) -> None:
    """On Mondays it is over 33 degC from ten past ten on, and never on other days under it."""
    calendar = small_plan.site.calendar.model_copy(update={"last_foam": 600})
    site = in_air(small_plan, (24.0, 38.0), (36.0, 40.0), (24.0, 38.0), calendar=calendar)
    (said,) = said_of(site, small_plan, date(2027, 4, 7))
    assert said.startswith("HEAT: on 1 working day up to the last pour a mix keeps too short at every hour in which a ")
    assert "on Tue 6 Apr no foam goes in from 08:00 to 16:00. Begin" in said


def test_days_without_people_for_a_batch_are_not_told(small_plan: Plan) -> None:
    """Two are away on Wednesday, and a batch takes two of the three."""
    away = (Absence(day=date(2027, 4, 7), people=2),)
    site = in_air(small_plan, *[(24.0, 38.0)] * 3)
    few = site.model_copy(update={"crew": site.crew.model_copy(update={"absences": away})})
    all_there, some = (said_of(of, small_plan, date(2027, 4, 7))[0] for of in (site, few))
    assert all_there.startswith("HEAT: on 3 working days")
    assert some.startswith("HEAT: on 2 working days up to the last pour a mix keeps too short in the hottest hours (")


def test_days_shut_by_heat_are_told_beside_those_with_cool_hours(small_plan: Plan) -> None:
    site = in_air(small_plan, (24.0, 38.0), (36.0, 40.0), (24.0, 38.0))
    (said,) = said_of(site, small_plan, date(2027, 4, 7))
    assert said.startswith(
        "HEAT: on 2 working days up to the last pour a mix keeps too short in the hottest hours, on 1 more at every "
        "hour in which a batch could be made (our choice, no standard), and no batch is planned"
    )


def test_what_is_left_of_a_day_has_the_heat_that_is_left(small_plan: Plan) -> None:
    """From 14:00 on, what heat takes begins there; from 15:30 on nothing is poured anyway, for no foam goes in."""
    problem = brief(in_air(small_plan, (24.0, 38.0)), small_plan.order, 30).problem
    ((_, end, keeps),) = problem.days[0].hot
    at_two, at_half_past_three = (felt(next(days_from(problem.days, at)), problem.loads) for at in (14 * 60, 930))
    assert at_two.hot == ((14 * 60, end, keeps),)
    assert at_half_past_three.hot == ()


def test_where_a_slow_mixer_stands_still_the_quick_one_is_not_called_small(small_plan: Plan) -> None:
    """Foam and pour take 14 min of every batch of the drum, and 16 of every batch of the pan."""
    (drum,) = small_plan.site.mixers
    pan = drum.model_copy(update={"name": "pan", "pour_time_min": 12, "usable_volume_l": 100.0})
    site = in_air(small_plan, weather=always(32.0), mixers=(drum, pan))
    (said,) = said_of(site, small_plan, date(2027, 4, 5))
    assert "on Mon 5 Apr foam goes in only for batches poured within 14 min from 08:00 to 16:00. Begin" in said


def test_of_a_mix_that_is_poured_in_the_heat_all_the_same_no_foam_is_said_to_be_kept_out(small_plan: Plan) -> None:
    """Were no hour of a year cool enough for the second mix."""
    asked = brief(in_air(small_plan, (24.0, 38.0)), small_plan.order, 30)
    first, second = dict.fromkeys(mix for _, mix, _ in asked.loads)
    loads = (
        replace(load, hardy=mix == second) for load, (_, mix, _) in zip(asked.problem.loads, asked.loads, strict=True)
    )
    (said,) = hot_hours_said(replace(asked, problem=replace(asked.problem, loads=tuple(loads))), date(2027, 4, 5))
    assert (
        f"no batch of {first} is planned that would set before it is poured: on Mon 5 Apr no foam of {first} " in said
    )


def test_want_of_people_is_not_blamed_on_the_heat(small_plan: Plan) -> None:
    """Two of three guard the gate from morning to evening, and a batch takes two."""
    opens, closes = small_plan.site.calendar.windows[0][0], small_plan.site.calendar.windows[-1][1]
    chore = Chore(name="guard the gate", at=(opens,), time_min=closes - opens, people=2)
    site = in_air(small_plan, *[(24.0, 38.0)] * 9, chores=(chore,))
    with pytest.raises(NoPlanPossible, match="on no day are the people of a batch there"):
        make_plan(site, small_plan.order, rounds=0)


@pytest.mark.parametrize("change", ["last foam", "most air", "people"])
def test_why_names_no_hot_hours_in_which_nothing_would_be_poured_anyway(small_plan: Plan, change: str) -> None:
    """Over 33 degC from ten past ten on."""
    site = in_air(small_plan, *[(24.0, 38.0)] * 9)
    changes: dict[str, dict[str, object]] = {
        "last foam": {"calendar": site.calendar.model_copy(update={"last_foam": 600})},
        "most air": {"curing": site.curing.model_copy(update={"most_air_c": 35.0})},
        "people": {"crew": site.crew.model_copy(update={"people": 1, "absences": ()})},
    }
    before, after = (
        [taken.thing for taken in PlannedDays(replace(small_plan, site=of)).day(date(2027, 4, 5)).taken]
        for of in (site, site.model_copy(update=changes[change]))
    )
    assert "hot hours" in before
    assert "hot hours" not in after


def test_why_names_no_hot_hours_of_mixes_that_are_poured_in_them(small_plan: Plan) -> None:
    plan = planned(in_air(small_plan, weather=always(36.0)), small_plan)
    assert "hot hours" not in [taken.thing for taken in PlannedDays(plan).day(date(2027, 4, 5)).taken]
