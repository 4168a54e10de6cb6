"""Charts by hand: places, heights, marks."""

from __future__ import annotations

from datetime import date, datetime
from typing import Final

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.report.charts import Amounts, Span, Table, amounts, bands, lanes
from blockrun.show.report.days import GUTTER, Days
from blockrun.show.report.lives import Lives

MONDAY: Final = date(2027, 4, 5)
NONE: Final = Table("none", (), ())


@pytest.fixture
def week(small_plan: Plan) -> Days:
    return Days(MONDAY, 7, small_plan.site.calendar)


def at(day: int, hour: int) -> datetime:
    return datetime.fromisoformat(f"2027-04-{day:02}T{hour:02}:00")


def test_noon_lies_in_the_middle_of_its_day(week: Days) -> None:
    assert week.x(at(6, 12)) == GUTTER + 1.5 * week.day_width
    assert week.of(date(2027, 4, 6)) == GUTTER + week.day_width


def test_days_on_which_nobody_works_are_shaded(week: Days) -> None:
    assert week.closed() == [week.of(day) for day in week.each() if day.weekday() > 4]


def test_many_days_name_months_and_few_name_mondays(small_plan: Plan, week: Days) -> None:
    assert [tick.text for tick in week.ticks()] == ["Mon 5 Apr"]
    year = Days(MONDAY, 300, small_plan.site.calendar)
    assert [tick.text for tick in year.ticks()][:3] == ["May", "Jun", "Jul"]
    assert "Jan 2028" in [tick.text for tick in year.ticks()]


def test_a_lane_has_a_bar_from_start_to_end(week: Days) -> None:
    chart = lanes("Moulds", "", week, [("gang-4/01", [Span(at(5, 12), at(7, 12), "full")]), ("gang-4/02", [])], NONE)
    (bar,) = chart.bars
    assert (bar.x, bar.width, bar.words) == (week.x(at(5, 12)), round(2 * week.day_width, 1), "full")
    assert [level.text for level in chart.levels] == ["gang-4/01", "gang-4/02"]


def test_a_long_name_keeps_its_end(week: Days) -> None:
    chart = lanes("Moulds", "", week, [("a-mould-with-a-long-name/07", [])], NONE)
    assert chart.levels[0].text == "a-mould…-name/07"


def test_bars_are_as_high_as_their_amounts_and_marked_where_it_ran_out(week: Days) -> None:
    a_day = {MONDAY: 5.0, date(2027, 4, 6): 10.0, date(2027, 4, 7): 0.0}
    chart = amounts("Rack", "", week, Amounts(a_day, "place", 10, frozenset({date(2027, 4, 6)})), NONE)
    half, full = chart.bars
    assert (half.alert, full.alert) == (False, True)
    assert full.height == 2 * half.height
    assert full.y == chart.levels[1].y
    assert full.words == "Tue 6 Apr: 10 places, all there is"


def test_one_of_a_thing_is_said_in_the_singular(week: Days) -> None:
    chart = amounts("Mixer drum", "", week, Amounts({MONDAY: 1.0}, "batch", None), NONE)
    assert (chart.bars[0].words, chart.levels[1].text) == ("Mon 5 Apr: 1 batch", "1 batch")


def test_an_amount_of_a_unit_is_said_with_its_sign(week: Days) -> None:
    chart = amounts("Agent left", "", week, Amounts({MONDAY: 12.5}, "L", None), NONE)
    assert chart.bars[0].words == "Mon 5 Apr: 12.5 L"


def test_bands_fill_the_height_and_lie_on_one_another(small_plan: Plan) -> None:
    known = Lives(small_plan.tables.casts)
    drawn = bands(known, Days(known.first, known.n_days, small_plan.site.calendar))
    assert [band.state for band in drawn.bands] == [5, 4, 3, 2, 1, 0]
    assert [level.text for level in drawn.levels] == ["0", "7", "15"]
    floor, seven, top = (level.y for level in drawn.levels)
    assert (floor - seven) / (floor - top) == pytest.approx(7 / 15, abs=0.001)
    assert all(band.path.startswith("M") and band.path.endswith("z") for band in drawn.bands)


def test_of_a_single_block_no_half_is_named(small_plan: Plan) -> None:
    known = Lives(small_plan.tables.casts.head(1))
    drawn = bands(known, Days(known.first, known.n_days, small_plan.site.calendar))
    assert [level.text for level in drawn.levels] == ["0", "1"]
