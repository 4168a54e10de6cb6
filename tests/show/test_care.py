"""What stands overnight is kept damp, or covered from frost, on days of work and off, with chores and without."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.calendar.entries import entries_of
from blockrun.show.day import Day
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.show.overnight import Overnight
from blockrun.show.page import GLUE
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages
from blockrun.site import Weather

FIRST = date(2027, 4, 5)
"""The plan made by hand pours on 5, 6 and 8 April; the weekend is 10 and 11 April."""

FAIR = (9.0, 18.0)
FROST = (-2.0, 8.0)


def april(day: int) -> date:
    return FIRST.replace(day=day)


def with_site(plan: Plan, **changed: object) -> Plan:
    return dataclasses.replace(plan, site=plan.site.model_copy(update=changed))


def in_air(plan: Plan, air: Mapping[int, tuple[float, float]], **changed: object) -> Plan:
    """The plan without chores, in fair weather but on some days, counted from the first of April."""
    days = tuple(air.get(FIRST.day + n, FAIR) for n in range(32))
    return with_site(plan, chores=(), weather=Weather(FIRST, days), **changed)


def day_of(plan: Plan, day: int) -> Day:
    (found,) = Diary(plan).days(april(day), april(day))
    return found


def words_of(plan: Plan, day: int) -> str:
    return " ".join(days_text(plan, 80, april(day), april(day)).plain.split())


def on_paper(plan: Plan, day: int) -> str:
    asked = Asked(plan, april(day), april(day))
    pages = [sheet.data for one in asked.days for sheet in day_pages(asked, one)]
    return json.dumps(pages, ensure_ascii=False).replace(GLUE, " ")


def in_calendar(plan: Plan, day: int, kind: str) -> str:
    return "; ".join(
        " | ".join((entry.title, *entry.lines))
        for entry in entries_of(plan)
        if (entry.day, entry.kind) == (april(day), kind)
    )


def test_every_night_counts_what_stands_in_moulds_on_racks_and_young_on_the_stack(small_plan: Plan) -> None:
    nights = {day.day.day: day.overnight for day in Diary(small_plan).days(FIRST, april(19))}
    assert nights == {
        5: Overnight(5, 0, 0), 6: Overnight(5, 5, 0), 7: Overnight(5, 5, 0), 8: Overnight(5, 10, 0),
        9: Overnight(5, 10, 0), 10: Overnight(5, 10, 0), 11: Overnight(5, 10, 0), 12: Overnight(0, 15, 0),
        13: Overnight(0, 10, 5), 14: Overnight(0, 10, 5), 15: Overnight(0, 5, 10), 16: Overnight(0, 5, 10),
        17: Overnight(0, 5, 10), 18: Overnight(0, 5, 10), 19: Overnight(0, 0, 15),
    }  # fmt: skip


DAMP = "keep them damp and covered"
COME_BY = "somebody must come by, at least once a day."


def test_on_a_day_off_somebody_comes_by_to_keep_blocks_damp(small_plan: Plan) -> None:
    said = f"10 blocks on the racks and 5 in moulds overnight: {DAMP}; {COME_BY}"
    assert said in words_of(small_plan, 10)
    assert said in on_paper(small_plan, 10)
    assert in_calendar(small_plan, 10, "damp") == f"Somebody must come by: keep 15 blocks damp | {said}"


def test_heat_and_dry_wind_are_told_on_a_day_off(small_plan: Plan) -> None:
    hot = in_air(small_plan, {10: (20.0, 34.0)})
    heat = "HEAT, 34 degC: keep blocks damp and in the shade."
    assert heat in words_of(hot, 10)
    assert heat in on_paper(hot, 10)
    assert "HEAT, 34 °C" in in_calendar(hot, 10, "damp")


@pytest.mark.parametrize(("day", "chores"), [(6, False), (12, False), (12, True)])
def test_on_a_day_with_work_that_no_chore_wets_racks_blocks_are_kept_damp(
    small_plan: Plan, day: int, chores: bool
) -> None:
    plan = small_plan if chores else in_air(small_plan, {})
    words = words_of(plan, day)
    assert DAMP in words
    assert COME_BY not in words
    assert not in_calendar(plan, day, "damp")


def test_a_chore_that_wets_sees_to_it(small_plan: Plan) -> None:
    assert DAMP not in words_of(small_plan, 6)


def test_a_chore_that_does_not_wet_does_not(small_plan: Plan) -> None:
    swept = tuple(chore.model_copy(update={"name": "sweep"}) for chore in small_plan.site.chores)
    assert DAMP in words_of(with_site(small_plan, chores=swept), 6)


def test_where_nothing_stands_nothing_is_said(small_plan: Plan) -> None:
    """All blocks have left the racks on 19 April, and the first are ready on 3 May."""
    plan = in_air(small_plan, {25: (3.0, 9.0), 26: (20.0, 34.0)})
    assert not list(Diary(plan).days(april(20), april(30)))
    assert not [entry for entry in entries_of(plan) if april(19) < entry.day < date(2027, 5, 1)]


def test_heat_is_no_matter_on_a_day_on_which_blocks_are_only_ready(small_plan: Plan) -> None:
    may = date(2027, 5, 6)
    lines = days_text(in_air(small_plan, {36: (20.0, 34.0)}), 80, may, may).plain
    assert "Ready to lay" in lines
    assert "HEAT" not in lines


def test_the_eve_of_frost_has_all_covered_though_nothing_else_is_done(small_plan: Plan) -> None:
    plan = in_air(small_plan, {15: FROST})
    words = words_of(plan, 14)
    assert "16:30 cover racks and stack: -2 degC on Thu 15 Apr, coldest before it is light" in words
    assert "keep them covered, do not wet them" in words
    assert "Cover racks and stack" in on_paper(plan, 14)
    eve = in_calendar(plan, 14, "cover")
    assert eve.startswith("Frost on Thu 15 Apr: cover racks and stack | -2 °C on Thu 15 Apr")
    assert in_calendar(plan, 15, "cover").startswith("Frost: cover racks and stack")


def test_frost_on_a_day_off_is_covered_for_on_the_last_day_of_work(small_plan: Plan) -> None:
    plan = in_air(small_plan, {11: FROST})
    assert "16:30 cover moulds and racks: -2 degC on Sun 11 Apr" in words_of(plan, 9)
    sunday = words_of(plan, 11)
    assert "FROST, -2 degC" in sunday
    assert f"keep them covered, do not wet them; {COME_BY}" in sunday
    assert COME_BY in in_calendar(plan, 11, "cover")
    assert not in_calendar(plan, 11, "damp")


def test_on_a_day_on_which_all_are_away_nobody_covers(small_plan: Plan) -> None:
    crew = small_plan.site.crew.model_copy(update={"absences": ()})
    away = crew.model_copy(update={"people": 0})
    plan = in_air(small_plan, {14: FROST}, crew=away)
    assert "cover moulds" not in words_of(plan, 13)
    assert COME_BY in words_of(plan, 13)


def test_in_frost_blocks_had_better_stay_on_the_rack(small_plan: Plan) -> None:
    """Ten blocks leave the rack on 13 and 15 April, and five on the 19th."""
    plan = in_air(small_plan, {16: FROST})
    advice = "better left on the rack until it thaws, if it has room; else cover the stack"
    assert advice in words_of(plan, 15)
    assert advice in on_paper(plan, 15)
    assert advice in in_calendar(plan, 15, "move")
    assert "better left" not in words_of(plan, 13) + words_of(plan, 19)


def test_young_blocks_on_the_stack_alone_are_covered_in_frost_not_in_cold(small_plan: Plan) -> None:
    plan = in_air(small_plan, {22: FROST, 27: (3.0, 9.0)})
    assert [day.day.day for day in Diary(plan).days(april(20), april(30))] == [21, 22]
    words = words_of(plan, 21)
    assert "16:30 cover the stack: -2 degC on Thu 22 Apr" in words
    assert "Nothing to do" not in words
