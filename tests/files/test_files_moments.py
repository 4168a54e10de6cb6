"""A moment is written in full in a table, and as somebody says it on a phone."""

from __future__ import annotations

from datetime import datetime

import pytest

from blockrun.errors import BadInput
from blockrun.files.moments import moment_meant, read_moment

NOW = datetime.fromisoformat("2027-04-13T09:30")


@pytest.mark.parametrize("text", ["2027-04-13T14:00", "2027-04-13 14:00", " 2027-04-13  14:00:00 "])
def test_a_day_and_a_time_are_a_moment(text: str) -> None:
    assert read_moment(text) == datetime.fromisoformat("2027-04-13T14:00")


@pytest.mark.parametrize("text", ["", "noon", "2027-04-13", "10:40", "13/04/2027 14:00", "2027-04-13T14:00+02:00"])
def test_what_lacks_a_day_or_a_time_is_no_moment_of_a_table(text: str) -> None:
    with pytest.raises(BadInput, match="is not a day and a time"):
        read_moment(text)


@pytest.mark.parametrize("text", ["2027-02-29 14:00", "2027-04-13 24:30"])
def test_a_moment_that_never_was_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="no such moment"):
        read_moment(text)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("10:40", datetime.fromisoformat("2027-04-13T10:40")),
        ("today 7:05", datetime.fromisoformat("2027-04-13T07:05")),
        ("Yesterday 16:00", datetime.fromisoformat("2027-04-12T16:00")),
        ("2027-04-01 08:00", datetime.fromisoformat("2027-04-01T08:00")),
    ],
)
def test_a_moment_is_meant_as_it_is_said(said: str, meant: datetime) -> None:
    assert moment_meant(said, NOW) == meant


def test_what_nobody_can_tell_says_how_to_write_it() -> None:
    with pytest.raises(BadInput, match="noon is not a day and a time") as refused:
        moment_meant("noon", NOW)
    assert refused.value.todo == "Write day and time, such as 2027-04-13 14:00; or 10:40, or yesterday 16:00."
