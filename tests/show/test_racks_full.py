"""Moulds that are old enough and stay full, because the racks have no room: over a weekend of the plan made by hand."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime

import pandas as pd
import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages

FRIDAY, MONDAY = date(2027, 4, 9), date(2027, 4, 12)


def with_places(plan: Plan, places: int) -> Plan:
    """So many places in all; on Friday night ten are taken, and Thursday's gang moulds hold two blocks each."""
    racks = (plan.site.racks[0].model_copy(update={"places": places}),)
    return dataclasses.replace(plan, site=plan.site.model_copy(update={"racks": racks}))


def kept_full(plan: Plan, day: date, thumbs: Thumbs | None = None) -> tuple[str, ...]:
    (found,) = Diary(plan, thumbs).days(day, day)
    return found.kept_full


@pytest.mark.parametrize(
    ("places", "names"),
    [(12, ()), (11, ("gang-2/01", "gang-2/02")), (10, ("gang-2/01", "gang-2/02", "tray-1/b01"))],
)
def test_what_racks_have_no_room_for_stays_in_its_mould(small_plan: Plan, places: int, names: tuple[str, ...]) -> None:
    assert kept_full(with_places(small_plan, places), FRIDAY) == names


def test_nothing_is_kept_that_is_stripped_that_day_or_while_nobody_is_there(small_plan: Plan) -> None:
    plan = with_places(small_plan, 10)
    assert kept_full(plan, MONDAY) == ()
    assert kept_full(plan, date(2027, 4, 10)) == ()


def test_nothing_is_kept_that_is_too_young(small_plan: Plan) -> None:
    """Poured on Thursday at 9:42, it is no day old at the end of it; nor is it on Friday if it was poured at 15:50."""
    plan = with_places(small_plan, 10)
    assert kept_full(plan, date(2027, 4, 8)) == ()
    casts = plan.tables.casts.copy()
    casts.loc[casts["batch"] == 4, "poured"] = pd.Timestamp("2027-04-08T15:50")
    late = dataclasses.replace(plan, tables=dataclasses.replace(plan.tables, casts=casts))
    assert kept_full(late, FRIDAY) == ("tray-1/b01",)


def test_days_and_their_pages_say_so(small_plan: Plan) -> None:
    plan = with_places(small_plan, 10)
    said = "Racks full: the blocks in gang-2/01-02, tray-1/b01 are old enough, and stay in their moulds."
    assert said in " ".join(days_text(plan, 80, FRIDAY, FRIDAY).plain.split())
    (page,) = day_pages(asked := Asked(plan, FRIDAY, FRIDAY), asked.days[0])
    assert page.data["days"][0]["kept_full"] == said


def test_a_thumb_that_put_the_strip_off_is_heard(small_plan: Plan) -> None:
    thumbs, _ = Thumbs(small_plan).press("gang-2/01", datetime.fromisoformat("2027-04-09T12:50"), "soft")
    assert "gang-2/01" not in kept_full(with_places(small_plan, 10), FRIDAY, thumbs)
