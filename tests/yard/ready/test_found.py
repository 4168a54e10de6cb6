"""Courses stay as ordered where a plan made anew casts fewer, since a count found blocks: on the plan of fifteen."""

from __future__ import annotations

import shutil
from datetime import date, datetime
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.begun.facts import FILE as BEGUN
from blockrun.planner.begun.facts import Begun
from blockrun.planner.risk.rates import Rates
from blockrun.yard.journal import Entry
from blockrun.yard.now import state_of
from blockrun.yard.ready.morning import morning_of
from blockrun.yard.status.standing import progress_of
from tests.yard.ready.conftest import POURED, STRIPPED, Ready, course

NOON = datetime.fromisoformat("2027-04-05T12:00")


@pytest.fixture
def fewer(small_folder: Path, tmp_path: Path) -> AsPlanned:
    """Three fulls fewer are cast for course 1, of four: three were found."""
    folder = Path(shutil.copytree(small_folder, tmp_path / "fewer"))
    begun = Begun(since=NOON, found=(("full", "light", 3),))
    (folder / "inputs" / BEGUN).write_text(begun.text(), encoding="utf-8")
    head, *rows = (folder / "casts.csv").read_text(encoding="utf-8").splitlines()
    gone = [row for row in rows if ",wall,1,full," in row][:3]
    (folder / "casts.csv").write_text("\n".join([head, *(row for row in rows if row not in gone)]), encoding="utf-8")
    return load_as_planned(folder)


def test_a_course_has_the_blocks_it_is_ordered_with(fewer: AsPlanned) -> None:
    entries: list[Entry] = []
    assert not state_of(entries).found
    courses = {course.course: course.blocks for course in morning_of(fewer, entries, NOON).courses}
    assert courses == {1: 5, 2: 4, 3: 2}
    assert fewer.courses["wall", 1] == {("full", "light"): 4, ("half", "light"): 1}


def test_blocks_ordered_are_those_of_the_order(fewer: AsPlanned, small_folder: Path) -> None:
    ordered = [progress_of(plan, [], NOON, Rates()).blocks.ordered for plan in (load_as_planned(small_folder), fewer)]
    assert ordered == [11, 11]


def test_what_a_count_found_is_told_as_found_and_no_pour(ready: Ready) -> None:
    morning = ready("2027-04-06 18:00", POURED, *STRIPPED, "2027-04-06 17:00 counted east 4 full")
    (some,) = course(morning, 1).some
    assert (some.poured, some.found) == ((date(2027, 4, 5),), (date(2027, 4, 6),))
    assert some.lay_from == datetime.fromisoformat("2027-05-04T17:00")  # 28 days from the count on
