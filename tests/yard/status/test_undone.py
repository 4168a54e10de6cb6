"""Strips and sides that nobody recorded: hand-checked on the plan of fifteen blocks.

Of batch 1 the plan takes the sides of tray-1 off on Tuesday 6 April in the morning and strips three moulds at 13:00.
"""

from __future__ import annotations

from datetime import date, datetime

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.progress import Undone
from blockrun.yard.ready.ripe import Ripe
from tests.yard.status.conftest import POURED, STRIPPED, Status

DAY = date(2027, 4, 6)
EARLY = "2027-04-06 07:58 thumb gang-2/1 soft"


def test_strips_that_nobody_recorded_are_told_in_the_evening(status: Status) -> None:
    places = ("gang-2/01", "gang-2/02", "tray-1/b01")
    assert status("2027-04-06 17:00", POURED).undone == tuple(Undone("strip", place, DAY, True) for place in places)


def test_what_was_recorded_or_is_not_due_is_not_told(status: Status) -> None:
    assert status("2027-04-06 00:00", POURED).undone == ()
    assert status("2027-04-06 17:00", *STRIPPED).undone == ()


def test_sides_that_are_still_on_are_told_until_the_strip_is_due(status: Status, small: AsPlanned) -> None:
    off = min(cast.sides_off for cast in small.casts if cast.sides_off is not None)
    assert status(f"{off:%Y-%m-%d %H:%M}", POURED).undone == (Undone("sides", "tray-1/b01", off.date(), True),)


def test_what_a_thumb_puts_off_was_not_forgotten(status: Status) -> None:
    undone = status("2027-04-06 17:00", POURED, "2027-04-06 12:30 thumb gang-2/1 soft").undone
    assert {one.place for one in undone if not one.is_old_enough} == {"gang-2/01"}


def test_a_strip_that_a_thumb_puts_off_is_told_at_once_with_its_new_time(status: Status) -> None:
    (waits,) = status("2027-04-06 08:00", POURED, "2027-04-06 07:55 sides tray-1/1", EARLY).undone
    assert (waits.job, waits.place, waits.due, waits.is_old_enough) == ("strip", "gang-2/01", DAY, False)
    assert waits.until is not None
    assert waits.until > datetime.fromisoformat("2027-04-06T12:50")
    assert waits.by_thumb


def test_a_strip_that_a_thumb_leaves_as_planned_is_not_told(status: Status) -> None:
    firm = EARLY.replace("soft", "firm")
    assert status("2027-04-06 08:00", POURED, "2027-04-06 07:55 sides tray-1/1", firm).undone == ()


def test_sides_that_a_thumb_puts_off_are_told_beside_the_strip(status: Status, monkeypatch: pytest.MonkeyPatch) -> None:
    sides = {False: datetime.fromisoformat("2027-04-06T06:00"), True: datetime.fromisoformat("2027-04-06T09:00")}
    monkeypatch.setattr(Ripe, "sides", lambda _, here: sides[bool(here.thumbs)])
    strip, off = status("2027-04-06 07:00", POURED, "2027-04-06 06:50 thumb tray-1/1 soft").undone
    assert (strip.job, strip.by_thumb) == ("strip", True)
    assert off == Undone("sides", "tray-1/b01", DAY, is_old_enough=False, until=sides[True], by_thumb=True)


def test_once_it_is_due_the_new_time_is_told_still(status: Status) -> None:
    early = status("2027-04-06 08:00", POURED, EARLY).undone
    late = status("2027-04-06 13:00").undone
    assert [one for one in early if one.job == "strip"] == [one for one in late if one.place == "gang-2/01"]


def test_what_is_in_no_plan_is_not_due(status: Status) -> None:
    extra = "2027-04-05 09:00 poured extra tray-1/1 on tray-1/b2 thin mix light"
    assert status("2027-04-09 17:00", extra).undone == ()


def test_days_of_work_on_which_all_are_away_are_told(status: Status, small: AsPlanned) -> None:
    crew = small.site.crew.people
    parts = (f"2027-04-06 07:00 away {crew - 1}", "2027-04-06 07:01 away 1 2027-04-06 to 2027-04-08")
    assert status("2027-04-06 08:00", *parts).nobody == (DAY,)
    assert status("2027-04-07 08:00").nobody == ()


def test_the_whole_crew_is_told_from_a_few(status: Status, small: AsPlanned) -> None:
    crew = small.site.crew.people
    told = (f"2027-04-06 07:00 away {crew}", "2027-04-06 07:01 away 1 2027-04-07")
    assert [one.everybody for one in status("2027-04-06 08:00", *told).away] == [True, False]
