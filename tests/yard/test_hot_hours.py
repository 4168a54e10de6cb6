"""Runs in the heat: what is late waits for the cool of a day, as plans do; what is planned in time is not moved.

In the small yard foam and pour take 14 min; of a pour life of 16 min, 14 are left at 33 degC and 13 from 34 on, by
EN 1992-1-1 (B.10).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Rates
from blockrun.site import FoamGenerator, Site, Sky, Weather
from blockrun.site.weather import TypicalYear
from blockrun.units import MINUTES_A_DAY
from blockrun.yard.given import setting_of
from blockrun.yard.setting import Setting
from tests.yard.rules import Told, breaches, told

SLOW = FoamGenerator(rate_l_min=10.0, foam_density_kg_m3=95.0, agent_dilution=(1.0, 40.0))
"""With it big batches take longer than 34 degC leaves of 26 min, and small ones do not."""


def in_air(plan: Plan, *days: tuple[float, float], **changes: object) -> Site:
    weather = Weather(plan.site.calendar.start, days)
    return plan.site.model_copy(update={"weather": weather, "pour_life_min": 16.0, **changes})


def always(celsius: float) -> Weather:
    return Weather.of_typical(TypicalYear("Fenby", (Sky(air_c=(celsius,) * 25),) * 365))


@pytest.fixture(scope="module")
def hot(small_plan: Plan) -> Plan:
    """Made for 27 to 41 degC: over 33 from half past eight on."""
    return make_plan(in_air(small_plan, *[(27.0, 41.0)] * 60), small_plan.order, rounds=1)


def batches(of: Told) -> list[int]:
    return sorted(event.start for event in of.events if event.task == "batch")


def planned_starts(setting: Setting) -> list[int]:
    return sorted(batch.start for batch in setting.batches)


def test_with_nothing_going_wrong_a_plan_in_the_heat_is_played_to_the_minute(hot: Plan, none: Rates) -> None:
    setting = setting_of(hot, none)
    played = told(hot, setting, none, 0, 0)
    assert batches(played) == planned_starts(setting)
    assert played.outcome.block_days == hot.stages[0].value
    assert breaches(played) == []
    assert played.outcome.never == 0


@pytest.mark.parametrize("number", range(12))
def test_whatever_goes_wrong_no_batch_is_poured_that_would_set_before(hot: Plan, harsh: Rates, number: int) -> None:
    played = told(hot, setting_of(hot, harsh), harsh, 3, number)
    assert breaches(played) == []
    assert played.outcome.never == 0


def test_a_run_that_did_not_know_of_the_heat_would_pour_in_it(hot: Plan, harsh: Rates) -> None:
    setting = setting_of(hot, harsh)
    blind = replace(setting, days=tuple(replace(day, hot=({}, {})) for day in setting.days))
    found = [breach for number in range(12) for breach in breaches(told(hot, blind, harsh, 3, number))]
    assert found
    assert {breach.partition(":")[0] for breach in found} == {"pour_life_in_heat"}


def test_a_batch_that_is_late_for_the_cool_of_a_day_is_poured_on_the_next(hot: Plan, none: Rates) -> None:
    """Nobody is there before nine on the first day, by when it is too hot until the evening."""
    setting = setting_of(hot, none)
    first = planned_starts(setting)[0]
    opens = first // MINUTES_A_DAY * MINUTES_A_DAY + 9 * 60
    late = replace(setting, before=replace(setting.before, opens=opens))
    played = told(hot, late, none, 0, 0)
    assert breaches(played) == []
    assert batches(played)[0] // MINUTES_A_DAY == first // MINUTES_A_DAY + 1


def test_in_a_snap_hours_are_cool_enough_that_are_not_in_the_air_as_forecast(hot: Plan, harsh: Rates) -> None:
    """Of 7 degC less, 34 are the most."""
    as_forecast, in_a_snap = setting_of(hot, harsh).days[0].hot
    (takes,) = as_forecast
    assert 0 < in_a_snap.get(takes, 0).bit_count() < as_forecast[takes].bit_count() / 2


def test_where_no_hour_of_a_year_is_cool_enough_runs_pour_as_planned(
    small_plan: Plan, none: Rates, harsh: Rates
) -> None:
    plan = make_plan(in_air(small_plan, weather=always(36.0)), small_plan.order, rounds=0)
    setting = setting_of(plan, none)
    assert batches(told(plan, setting, none, 0, 0)) == planned_starts(setting)
    harmed = told(plan, setting, harsh, 1, 0).outcome
    assert harmed.struck
    assert harmed.never == 0


@pytest.mark.parametrize("n_moulds", [2, 6])
def test_what_is_left_of_a_day_goes_into_smaller_batches_where_heat_allows_no_big_ones(
    small_plan: Plan, none: Rates, n_moulds: int
) -> None:
    """Planned for a first day at 20 degC, which nobody comes on, with 40 degC at all hours of the year after it.

    With moulds for all that is left at once it is still poured in as many batches as the heat asks for.
    """
    days = [Sky(air_c=(40.0,) * 25)] * 365
    days[small_plan.site.calendar.start.timetuple().tm_yday - 1] = Sky(air_c=(20.0,) * 25)
    weather = Weather.of_typical(TypicalYear("Fenby", tuple(days)))
    site = in_air(small_plan, pour_life_min=26.0, foam_generator=SLOW, weather=weather)
    setting = setting_of(plan := make_plan(site, small_plan.order, rounds=1), none)
    (big,) = {batch.load.bags for batch in setting.batches if batch.day == 0}
    assert all(batch.load.bags < big for batch in setting.batches if batch.day > 0)
    kinds = (replace(setting.kinds[0], count=n_moulds), *setting.kinds[1:])
    evening = replace(setting.before, opens=MINUTES_A_DAY - 60)
    played = told(plan, replace(setting, before=evening, kinds=kinds), none, 0, 0)
    assert played.outcome.never == 0
    assert max(event.load.bags for event in played.events if event.load) < big
    assert breaches(played) == []
