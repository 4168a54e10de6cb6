"""What is laid in a course that can hardly be meant is kept and told. Age is told first, and is no matter here."""

from __future__ import annotations

import pytest

from tests.yard.record.conftest import Record

LATER = "2027-04-20 14:00"


@pytest.fixture
def stacked(record: Record) -> None:
    """Batches 1 and 2 are out of their moulds: five full, three half and two thin."""
    record("poured 1", "2027-04-05 08:24")
    record("stripped gang-2/1 gang-2/2 tray-1/b1", "2027-04-06 13:10")
    record("poured 2", "2027-04-06 14:09")
    record("stripped gang-2/1 gang-2/2 tray-1/b2", "2027-04-08 08:10")


def told(record: Record, words: str) -> tuple[str, ...]:
    return record(words, LATER).warnings[1:]


def test_a_course_laid_with_nothing_of_those_under_it_is_told(record: Record, stacked: None) -> None:
    said = "nothing of wall courses 1 and 2 is laid by what is recorded. Is it another course?"
    assert told(record, "laid wall 3 1 thin") == (said,)


def test_one_laid_with_nothing_of_the_one_under_it_is_told(record: Record, stacked: None) -> None:
    record("laid wall 1 2 full", LATER)
    said = "nothing of wall course 2 is laid by what is recorded. Is it another course?"
    assert told(record, "laid wall 3 1 thin") == (said,)


def test_one_laid_upon_part_of_another_passes(record: Record, stacked: None) -> None:
    record("laid wall 1 1 full", LATER)
    assert told(record, "laid wall 2 1 full") == ()


def test_one_laid_where_nobody_told_the_courses_passes(record: Record, stacked: None) -> None:
    record("laid wall 2 full", LATER)
    assert told(record, "laid wall 2 1 full") == ()
