from __future__ import annotations

from datetime import date

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.record.planned import answered, is_open, items
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

TUESDAY = date(2027, 4, 6)


def asked(plan: AsPlanned, recorder: Recorder, day: date) -> list[str]:
    return [" ".join(item.words) for item in items(plan, day) if is_open(item, recorder.state, plan)]


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
