"""What can be done in a morning: hand-checked on the plan of fifteen blocks."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.morning import Morning
from blockrun.planner.old_enough import OldEnough
from blockrun.planner.saved import load_plan
from blockrun.planner.thumbs.turns import Thumbs
from tests.yard.ready.conftest import POURED, STRIPPED, Ready, course, moment

# strip


def test_a_mould_may_be_stripped_as_soon_as_the_plan_reckoned(ready: Ready) -> None:
    morning = ready("2027-04-06 12:00", POURED)
    assert [mould.place for mould in morning.moulds] == ["gang-2/01", "gang-2/02", "tray-1/b01"]
    assert {mould.strip_from for mould in morning.moulds} == {moment("2027-04-06T12:45")}
    assert [mould.rack for mould in morning.moulds] == ["east", "east", "east"]
    assert morning.moulds[1].blocks == (("full", 1), ("half", 1))


def test_sides_are_told_while_they_are_on(ready: Ready) -> None:
    sides = {mould.place: mould.sides_from for mould in ready("2027-04-06 07:00", POURED).moulds}
    assert sides["gang-2/01"] is None
    assert sides["tray-1/b01"] is not None
    assert sides["tray-1/b01"] < moment("2027-04-06T12:45")
    off = ready("2027-04-06 09:00", "2027-04-06 08:05 sides tray-1/1")
    assert {mould.sides_from for mould in off.moulds} == {None}


def test_the_air_that_was_seen_counts_before_the_forecast(ready: Ready) -> None:
    as_forecast = ready("2027-04-06 12:00", POURED).moulds[0].strip_from
    colder = ready("2027-04-06 12:00", "2027-04-06 07:00 weather 2 8 yesterday").moulds[0].strip_from
    assert as_forecast is not None
    assert colder is not None
    assert colder > as_forecast
    seen = ready("2027-04-06 12:00", "2027-04-06 07:05 weather 10 21 yesterday")
    assert (seen.moulds[0].strip_from, seen.seen_until) == (as_forecast, date(2027, 4, 5))


@pytest.mark.parametrize(
    ("time", "shows"), [("08:00", "dents"), ("12:00", "soft"), ("11:30", "firm"), ("12:45", "dents")]
)
def test_thumbs_move_a_strip_as_they_do_by_the_command_for_one(
    ready: Ready, small_folder: Path, time: str, shows: str
) -> None:
    moulds = ready("2027-04-06 13:30", POURED, f"2027-04-06 {time} thumb gang-2/1 {shows}").moulds
    (mould,) = (mould for mould in moulds if mould.place == "gang-2/01")
    thumbs, _ = Thumbs(load_plan(small_folder)).press("gang-2/1", moment(f"2027-04-06T{time}"), shows)  # type: ignore[arg-type]
    (told,) = thumbs.thumbed.values()
    ripe = told.strip.ripe
    expected = ripe if ripe <= moment("2027-04-06T13:30") else told.may_strip
    assert mould.strip_from == expected


def test_thumbs_keep_sides_on_that_are_still_on(ready: Ready) -> None:
    def sides(morning: Morning) -> datetime | None:
        return next(mould.sides_from for mould in morning.moulds if mould.place == "tray-1/b01")

    as_reckoned, soft = sides(ready("2027-04-06 07:00", POURED)), "2027-04-06 09:30 thumb tray-1/1 soft"
    put_off = sides(ready("2027-04-06 09:31", soft))
    assert as_reckoned is not None
    assert put_off is not None
    assert put_off >= moment("2027-04-06T09:30") > as_reckoned


def test_only_what_happened_until_then_counts(ready: Ready) -> None:
    assert ready("2027-04-05 08:00", POURED).moulds == ()
    assert len(ready("2027-04-06 12:59", *STRIPPED).moulds) == 3


# off the rack, stacked


def test_blocks_leave_a_rack_after_their_time_there(ready: Ready) -> None:
    (rack,) = ready("2027-04-13 12:59", POURED, *STRIPPED).racks
    assert (rack.name, rack.leave, rack.stay, rack.next_off) == ("east", (), 5, moment("2027-04-13T13:00"))
    (rack,) = ready("2027-04-13 13:00").racks
    assert (rack.leave, rack.stay, rack.next_off) == ((("full", 3), ("half", 1), ("thin", 1)), 0, None)


def test_blocks_that_lie_beside_their_mould_are_told(ready: Ready) -> None:
    morning = ready("2027-04-06 14:00", POURED, "2027-04-06 13:00 stripped gang-2/1 stays")
    assert morning.beside == (("gang-2/01", (("full", 2),)),)


def test_no_block_leaves_a_rack_on_a_day_that_is_lost(ready: Ready) -> None:
    (rack,) = ready("2027-04-13 12:00", POURED, *STRIPPED, "2027-04-12 10:00 lost 2027-04-13 storm").racks
    assert rack.next_off == moment("2027-04-14T08:00")


# courses


def test_a_course_is_told_by_where_its_blocks_are_and_what_it_lacks(ready: Ready) -> None:
    one = course(ready("2027-04-07 07:30", POURED, *STRIPPED), 1)
    assert (one.blocks, one.laid, one.ready, one.needed) == (5, 0, 0, date(2027, 5, 4))
    (some,) = one.some
    assert (some.where, some.blocks, some.poured) == (
        "on the east rack", (("full", 3), ("half", 1)), (date(2027, 4, 5),),
    )  # fmt: skip
    assert some.lay_from == moment("2027-05-03T08:24")
    assert one.missing is not None
    assert (one.missing.blocks, one.missing.poured) == ((("full", 1),), (date(2027, 4, 6),))
    assert (one.is_whole, one.whole_from) == (False, None)


def test_the_course_that_is_needed_first_is_served_first(ready: Ready) -> None:
    morning = ready("2027-04-07 07:30", POURED, *STRIPPED)
    assert [one.course for one in morning.courses] == [1, 2, 3]
    assert course(morning, 2).some == ()


def test_a_course_is_whole_once_its_last_block_may_be_laid(ready: Ready) -> None:
    second = ("2027-04-06 14:09 poured 2 gang-2/1 gang-2/2", "2027-04-08 08:10 stripped gang-2/1")
    morning = ready("2027-05-04 07:30", POURED, *STRIPPED, *second)
    assert course(morning, 1).ready == 4
    assert morning.next_whole == course(morning, 1)
    assert course(morning, 1).whole_from == moment("2027-05-04T14:09")
    assert course(ready("2027-05-04 14:09"), 1).is_whole


def test_the_next_course_to_be_whole_has_none_under_it_that_is_not(ready: Ready) -> None:
    """Course 3, of two thin blocks, is cast whole before course 1 is, for somebody poured one more."""
    extra = "2027-04-06 14:00 poured extra tray-1/1 on tray-1/b2 thin mix light"
    morning = ready("2027-04-14 07:30", POURED, *STRIPPED, extra)
    assert course(morning, 3).whole_from is not None
    assert (course(morning, 3).after, course(morning, 1).after, morning.next_whole) == (1, None, None)


def test_what_is_laid_is_no_longer_wanted(ready: Ready) -> None:
    morning = ready("2027-05-04 07:30", POURED, *STRIPPED, "2027-05-03 09:00 laid wall 1 3 full 1 half")
    assert (course(morning, 1).laid, course(morning, 1).blocks) == (4, 5)


def test_a_course_that_is_laid_is_told_no_longer(ready: Ready) -> None:
    second = (
        "2027-04-06 14:09 poured 2 gang-2/1",
        "2027-04-08 08:10 stripped gang-2/1",
        "2027-05-05 09:00 laid wall 1",
    )
    assert [one.course for one in ready("2027-05-05 10:00", POURED, *STRIPPED, *second).courses] == [2, 3]


def test_broken_blocks_are_missing_and_in_no_pour_where_the_plan_has_no_more(ready: Ready) -> None:
    pours = ("2027-04-06 14:09 poured 2", "2027-04-08 08:10 stripped tray-1/b2 1 broken")
    morning = ready("2027-04-09 07:30", POURED, *STRIPPED, *pours)
    missing = course(morning, 3).missing
    assert missing is not None
    assert (missing.blocks, missing.poured) == ((("thin", 1),), (date(2027, 4, 8),))


def test_of_missing_blocks_those_that_no_pour_brings_are_told(ready: Ready) -> None:
    """Batches 1 and 2 were each to fill a tray too, and only batch 3 has a thin block yet."""
    pours = ("2027-04-05 08:24 poured 1 gang-2/1", "2027-04-06 14:09 poured 2 gang-2/2")
    missing = course(ready("2027-04-07 07:30", *pours), 3).missing
    assert missing is not None
    assert (missing.blocks, missing.poured) == ((("thin", 2),), (date(2027, 4, 8),))
    assert missing.unplanned == (("thin", 1),)


def test_a_ring_of_a_dome_is_one(ready: Ready, small: AsPlanned, tmp_path: Path) -> None:
    order = tmp_path / "order.yaml"
    order.write_text("parts:\n  - dome: wall\n  - list: other.csv\n", encoding="utf-8")
    dome = replace(small, order={"": order})
    assert {one.ring for one in ready("2027-04-07 07:30", POURED, plan=dome).courses} == {True}
    assert {one.ring for one in ready("2027-04-07 07:30").courses} == {False}


def test_entries_that_cannot_have_been_are_told(ready: Ready) -> None:
    morning = ready("2027-04-06 14:00", POURED, *STRIPPED, "2027-04-06 13:30 undo 1")
    assert "2: nothing stands in gang-2/01" in morning.clashes


def test_moulds_with_their_own_heat_go_by_its_clock(ready: Ready, small: AsPlanned, small_folder: Path) -> None:
    heated = small.site.model_copy(update={"curing": small.site.curing.model_copy(update={"heat": "modelled"})})
    saved = replace(load_plan(small_folder), site=heated)
    moulds = ready("2027-04-09 12:00", POURED, plan=replace(small, site=heated)).moulds
    poured = moment(POURED.removesuffix(" poured 1"))
    due = {mould.place: OldEnough(saved).strip(mould.place.replace("b01", "01"), poured) for mould in moulds}
    assert {mould.place: mould.strip_from for mould in moulds} == due
    assert moulds[0].strip_from != moment("2027-04-06T12:45")


def test_every_block_of_a_course_is_laid_ready_somewhere_or_missing(ready: Ready) -> None:
    pours = (
        "2027-04-06 14:09 poured 2",
        "2027-04-08 08:10 stripped gang-2/1 1 broken",
        "2027-05-03 09:00 laid wall 2 full",
    )
    for when in ("2027-04-07 07:30", "2027-05-03 12:00", "2027-05-11 12:00"):
        for one in ready(when, *(() if when != "2027-04-07 07:30" else (POURED, *STRIPPED, *pours))).courses:
            missing = 0 if one.missing is None else one.missing.count
            assert one.blocks == one.laid + one.ready + sum(some.count for some in one.some) + missing
