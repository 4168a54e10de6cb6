from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.record.planned import answered, items, open_now, to_crush
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

TUESDAY = date(2027, 4, 6)


def asked(plan: AsPlanned, recorder: Recorder, day: date) -> list[str]:
    now = (open_now(item, recorder.state, plan) for item in items(plan, day))
    return [" ".join(item.words) for item in now if item is not None]


def test_a_day_is_asked_by_the_clock_and_only_what_may_have_been(
    small: AsPlanned, recorder: Recorder, record: Record
) -> None:
    assert asked(small, recorder, TUESDAY) == ["poured 2"]
    record("poured 1", "2027-04-05 08:24")
    everything = ["sides tray-1/b01", "stripped gang-2/01", "stripped gang-2/02", "stripped tray-1/b01", "poured 2"]
    assert asked(small, recorder, TUESDAY) == everything
    record("sides tray-1/1", "2027-04-06 08:05")
    record("stripped gang-2/1", "2027-04-06 13:00")
    assert asked(small, recorder, TUESDAY) == ["stripped gang-2/02", "stripped tray-1/b01", "poured 2"]


def test_a_base_that_was_filled_in_the_place_of_another_is_asked_about(
    small: AsPlanned, recorder: Recorder, record: Record
) -> None:
    record("poured 1 tray-1/b1=tray-1/b2", "2027-04-05 08:24")
    everything = ["sides tray-1/b02", "stripped gang-2/01", "stripped gang-2/02", "stripped tray-1/b02", "poured 2"]
    assert asked(small, recorder, TUESDAY) == everything
    item = open_now(items(small, TUESDAY)[0], recorder.state, small)
    assert item is not None
    assert item.asked == "Tue 6 Apr 08:05 sides off tray-1/b02"
    record("stripped tray-1/b2", "2027-04-06 13:00")
    assert "stripped tray-1/b02" not in asked(small, recorder, TUESDAY)


def test_what_leaves_a_rack_on_a_day_is_asked_about_once_when_the_last_of_it_may(
    small: AsPlanned, recorder: Recorder, record: Record
) -> None:
    day = date(2027, 4, 13)
    assert asked(small, recorder, day) == []
    record("poured 1", "2027-04-05 08:24")
    record("stripped gang-2/01", "2027-04-06 13:00")
    record("stripped gang-2/02", "2027-04-06 13:20")
    (item,) = (one for one in items(small, day) if one.words == ("stacked", "east"))
    now = open_now(item, recorder.state, small)
    assert now is not None
    assert now.asked == "Tue 13 Apr 13:20 4 blocks off rack east, stacked"
    record("stacked east", f"{now.at:%Y-%m-%d %H:%M}")
    assert asked(small, recorder, day) == []


def test_cubes_that_nobody_told_of_are_to_crush_on_their_day(
    small: AsPlanned, recorder: Recorder, record: Record, tmp_path: Path
) -> None:
    rows = "batch,cubes,volume_l,set,marked,crush\n1,2,2.06,1,1-1 to 1-2,2027-04-12\n1,2,2.06,1,1-3 to 1-4,2027-05-03\n"
    folder = Path(shutil.copytree(small.directory, tmp_path / "plan"))
    (folder / "cubes.csv").write_text(rows, encoding="utf-8")
    recorder.plan = plan = replace(small, directory=folder)

    def said(day: date) -> list[str]:
        return list(to_crush(plan, day, recorder.entries))

    assert said(date(2027, 4, 12)) == []  # their batch was not poured
    record("poured 1", "2027-04-05 08:24")
    assert said(date(2027, 4, 12)) == [
        "Cubes 1-1 to 1-2 of batch 1 are to be crushed. Of each, with what is written on it: blockrun record DIR test "
        "cube 1 LOAD marked WORDS"
    ]
    assert said(date(2027, 4, 13)) == []
    for marked in ("1-1", "1-2"):
        record(f"test cube 1 6kN marked {marked}", "2027-04-12 15:00")
    assert said(date(2027, 4, 12)) == []


def test_a_plan_without_cubes_has_none_to_crush(small: AsPlanned, recorder: Recorder) -> None:
    assert list(to_crush(small, date(2027, 4, 12), recorder.entries)) == []


@pytest.mark.parametrize(
    ("answer", "words", "at"),
    [
        ("", "stripped gang-2/01", "2027-04-06 13:00"),
        ("Yes", "stripped gang-2/01", "2027-04-06 13:00"),
        ("10:40", "stripped gang-2/01", "2027-04-06 10:40"),
        ("1 broken", "stripped gang-2/01 1 broken", "2027-04-06 13:00"),
        ("9:40 1 broken to west", "stripped gang-2/01 1 broken to west", "2027-04-06 9:40"),
    ],
)
def test_an_answer_tells_what_was_not_as_planned(small: AsPlanned, answer: str, words: str, at: str) -> None:
    item = next(item for item in items(small, TUESDAY) if item.words == ("stripped", "gang-2/01"))
    told = answered(item, answer, "key")
    assert told is not None
    assert (" ".join(told.words), told.at) == (words, at)


def test_no_records_nothing(small: AsPlanned) -> None:
    assert answered(items(small, TUESDAY)[0], "N", "key") is None
