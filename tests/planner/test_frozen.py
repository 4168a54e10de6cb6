"""Hours under freezing that count in an age are told, with what to do, and are still counted."""

from __future__ import annotations

import re
from datetime import date

import numpy as np
import pytest

from blockrun.cure import AgeClock
from blockrun.cure.frozen import FrozenHours
from blockrun.cure.rates import age_rate
from blockrun.planner.brief import brief
from blockrun.planner.frozen import frozen_in_plan
from blockrun.planner.plan import Plan
from blockrun.planner.times import times_of
from blockrun.planner.warnings import warnings
from blockrun.show.times import times_text
from blockrun.site import Cubes, Site, Strength, Weather
from tests.cure.cubes import cubes

MONDAY = date(2027, 4, 5)


def with_air(site: Site, least_c: float, *days: tuple[float, float], **curing: object) -> Site:
    changed = site.curing.model_copy(update={"least_air_c": least_c, **curing})
    return site.model_copy(update={"curing": changed, "weather": Weather(MONDAY, days)})


@pytest.fixture
def frosty(small_plan: Plan) -> Site:
    """Nights of 4 degC of frost, and a yard that pours down to 10 degC of frost."""
    return with_air(small_plan.site, -10.0, *[(-4.0, 12.0)] * 20)


def test_hours_under_freezing_are_those_of_the_air(frosty: Site):
    """A steady day of -5 degC: all of its hours, each worth what the rule carried on says."""
    still = with_air(frosty, -10.0, (-5.0, -5.0), (10.0, 10.0))
    found = FrozenHours(still).most(np.array([0, 720]), np.array([1440, 2880]))
    assert found.hours == pytest.approx(24)
    assert found.count_h == pytest.approx(24 * float(age_rate(-5.0)))
    assert 60 * float(age_rate(-5.0)) == pytest.approx(17, abs=0.5)


def test_of_several_pours_the_one_that_sees_most_frost_is_told_wherever_it_stands(frosty: Site):
    """Five hours, then all day, then ten of a steady day of -5 degC."""
    still = with_air(frosty, -10.0, (-5.0, -5.0), (10.0, 10.0))
    found = FrozenHours(still).most(np.array([0, 0, 0]), np.array([300, 1440, 600]))
    assert found.hours == pytest.approx(24)
    assert found.count_h == pytest.approx(24 * float(age_rate(-5.0)))


def test_at_nought_exactly_an_hour_counts_and_nothing_is_said(frosty: Site):
    still = with_air(frosty, -10.0, (0.0, 0.0))
    assert FrozenHours(still).most(np.array([0]), np.array([1440])) == (0, 0)


def test_such_hours_stay_in_the_age(frosty: Site):
    """The formula of the design, in plan and audit alike."""
    still = with_air(frosty, -10.0, (-5.0, -5.0))
    assert AgeClock.of(still).age_h(0, 1440) == pytest.approx(24 * float(age_rate(-5.0)))


def test_a_plan_says_that_frost_counts_before_the_strip_and_what_to_do(frosty: Site, small_plan: Plan):
    asked = brief(frosty, small_plan.order, 30)
    (said,) = [line for line in warnings(asked, small_plan.tables, {}) if line.startswith("FROST")]
    assert said.startswith("FROST before the strip: up to ")
    assert "h at 20 degC, though ice sets nothing. Do not pour then (least_air: 0 degC)" in said
    assert "cover and warm the moulds; else strip" in said


def test_where_least_air_keeps_pours_from_frost_nothing_is_said(frosty: Site, small_plan: Plan):
    mild = with_air(frosty, 5.0, *[(6.0, 12.0)] * 20)
    assert list(frozen_in_plan(brief(mild, small_plan.order, 30), small_plan.tables)) == []
    assert all(day.frozen == () for kind in times_of(mild, None).kinds for day in kind.days)


def test_no_pour_that_least_air_allows_has_frost_before_its_strip(frosty: Site):
    """With the least at nought or over, whatever the nights: the times are of pours that see none."""
    for low in (-3.0, -0.5, 0.0, 2.0):
        site = with_air(frosty, 0.0, (8.0, 12.0), (8.0, 12.0), (low, 12.0), *[(8.0, 12.0)] * 5)
        assert all(day.frozen == () for kind in times_of(site, None).kinds for day in kind.days)


def test_a_yard_that_lays_by_strength_hears_of_frost_on_the_rack(frosty: Site, small_plan: Plan):
    """Mild until the strip, then frost: least_air says nothing of racks."""
    air = ((8.0, 12.0),) * 4 + ((-4.0, 6.0),) * 30
    crushed = Cubes(tuple(cubes([(density, age) for density in (600.0, 750.0, 900.0) for age in (1, 3, 7, 28)])))
    site = with_air(frosty, 5.0, *air, lay_at_min=Strength(0.8), cubes=crushed)
    said = list(frozen_in_plan(brief(site, small_plan.order, 30), small_plan.tables))
    (laying,) = [line for line in said if line.startswith("FROST before laying: up to ")]
    assert "Keep the racks warmer; else lay" in laying
    assert "only after cubes kept beside the blocks were crushed" in laying


def test_laying_by_the_calendar_counts_no_hours(frosty: Site, small_plan: Plan):
    asked = brief(frosty, small_plan.order, 30)
    assert not any("laying" in line for line in frozen_in_plan(asked, small_plan.tables))


def test_with_modelled_heat_no_figure_is_made_up_for_the_corners(frosty: Site, small_plan: Plan):
    warm = with_air(frosty, -10.0, *[(-4.0, 12.0)] * 20, heat="modelled")
    (said,) = frozen_in_plan(brief(warm, small_plan.order, 30), small_plan.tables)
    assert "corners are near the air, and ice sets nothing" in said
    assert "count as" not in said


def test_the_table_of_times_says_it_by_day_within_forty_columns_in_both_units(frosty: Site):
    for units, freezing in (("SI", "0 degC"), ("US", "32 degF")):
        site = frosty.model_copy(update={"units": units})
        text = times_text(site, times_of(site, None, MONDAY, MONDAY), 40).plain
        words = " ".join(text.replace("\u00a0", " ").split())
        assert f"h under {freezing} count as" in words
        assert f"(least_air: {freezing})" in words
        assert max(map(len, text.splitlines())) <= 40


def test_a_strip_whose_age_holds_frost_is_marked_and_told_without_it(frosty: Site):
    text = times_text(frosty, times_of(frosty, None, MONDAY, MONDAY), 40).plain.replace("\u00a0", " ")
    hours = [one for kind in times_of(frosty, None, MONDAY, MONDAY).kinds for one in kind.days[0].hours]
    assert all(one.icy and one.thawed and one.thawed >= one.strip for one in hours)
    rows = [line for line in text.splitlines() if re.match(r"\d\d\S* +\w{3} \d\d:", line)]
    assert rows
    assert all("*" in row for row in rows)
    assert "* Counting no hour under freezing the strip is" in " ".join(text.split())


def test_the_strip_without_frost_is_that_of_a_clock_that_stands_still_in_it(frosty: Site):
    """A day of -5 degC, then 20 degC: 24 h are over a day after it, to the hours of the change between the days."""
    still = with_air(frosty, -10.0, (-5.0, -5.0), *[(20.0, 20.0)] * 9)
    ice, clock = FrozenHours(still), AgeClock.of(still)
    thawed = ice.thawed(0, 24.0)
    assert thawed is not None
    assert clock.age_h(0, thawed) - 24 == pytest.approx(ice.most(np.array([0]), np.array([thawed])).count_h, abs=0.02)
    assert thawed > clock.when(0, 24.0)


def test_what_never_thaws_has_no_such_strip(frosty: Site):
    still = with_air(frosty, -20.0, *[(-5.0, -5.0)] * 9)
    assert FrozenHours(still).thawed(0, 24.0) is None
    hours = [one for kind in times_of(still, None, MONDAY, MONDAY).kinds for one in kind.days[0].hours]
    assert {(one.icy, one.thawed) for one in hours} == {(True, None)}


def test_a_strip_without_frost_has_no_mark(frosty: Site):
    mild = with_air(frosty, 5.0, *[(6.0, 12.0)] * 20)
    assert "*" not in times_text(mild, times_of(mild, None, MONDAY, MONDAY), 40).plain
