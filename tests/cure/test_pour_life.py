from __future__ import annotations

from datetime import datetime, time

import pytest

from blockrun.cure.hazards import HOT_C
from blockrun.cure.pour_life import PourLife, pour_life_in, pour_life_of
from blockrun.planner.plan import Plan
from blockrun.site import Site, Weather


def under(site: Site, *days: tuple[float, float]) -> Site:
    return site.model_copy(update={"weather": Weather(site.calendar.start, days)})


def test_over_30_degrees_a_mix_keeps_as_much_shorter_as_it_ages_faster_than_at_30(small_plan: Plan) -> None:
    # EN 1992-1-1 (B.10): exp(-4000/303 + 4000/313) = 1.525 between 30 and 40 degC
    site = small_plan.site.model_copy(update={"pour_life_min": 10_000.0})
    assert pour_life_in(site, 40).minutes == pytest.approx(10_000 / 1.525, rel=1e-3)
    assert pour_life_in(site, HOT_C).minutes == 10_000


def test_up_to_30_degrees_the_pour_life_is_that_of_the_yard_and_nothing_jumps_there(small_plan: Plan) -> None:
    site = small_plan.site
    assert [pour_life_in(site, celsius).minutes for celsius in (-5, 10, 20, 29.9)] == [site.pour_life_min] * 4
    assert pour_life_in(site, HOT_C + 0.01).minutes == site.pour_life_min - 1  # whole minutes where heat cuts it
    minutes = [pour_life_of(site, slurry_c=celsius).minutes for celsius in (29, 30, 31, 32, 33, 34, 35)]
    assert minutes == [25, 25, 23, 22, 21, 21, 20]


def test_a_cool_hour_of_a_hot_day_cuts_nothing(small_plan: Plan) -> None:
    """22 to 38 degC: 25.7 at half past seven, 38 at three."""
    site = under(small_plan.site, (22.0, 38.0))
    day = site.calendar.start
    assert pour_life_of(site, foam_at=datetime.combine(day, time(7, 30))) == PourLife(25.0)
    hot = pour_life_of(site, foam_at=datetime.combine(day, time(15)))
    assert (hot.minutes, hot.hot_c, hot.measured) == (17, pytest.approx(38.0), False)


def test_slurry_that_was_measured_goes_by_30_degrees_however_warm_the_air_that_the_yard_allows(
    small_plan: Plan,
) -> None:
    """Cold water and shade are why the life holds in 38 degC air; slurry at 36 had neither. EN: 25 min / 1.29."""
    shaded = small_plan.site.model_copy(update={"pour_life_up_to_c": 38.0})
    assert pour_life_of(shaded, slurry_c=36) == PourLife(19, 36, measured=True)
    assert pour_life_in(shaded, 36) == PourLife(25.0)


def test_slurry_goes_by_the_air_of_a_yard_whose_pour_life_holds_in_cooler_air_alone(small_plan: Plan) -> None:
    cool = small_plan.site.model_copy(update={"pour_life_up_to_c": 22.0})
    assert pour_life_of(cool, slurry_c=26).minutes == pour_life_in(cool, 26).minutes < 25


def test_the_air_of_a_guessed_day_cuts_nothing(small_plan: Plan) -> None:
    site = under(small_plan.site, *[(22.0, 38.0)] * 2)
    guessed = datetime.combine(site.calendar.start, time(15)).replace(day=20)
    assert pour_life_of(site, foam_at=guessed) == PourLife(25.0)


def test_a_batch_is_in_time_to_the_very_minute() -> None:
    assert PourLife(14).leaves_time_to_pour(14)
    assert not PourLife(13).leaves_time_to_pour(14)
