"""A moment is written in full, or as somebody says it on a phone."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from blockrun.errors import BadInput
from blockrun.files.days import Span, day_meant
from blockrun.files.moments import is_clock, moment_meant

NOW = datetime.fromisoformat("2027-04-13T09:30")
THIS_YEAR = Span.of_year(NOW.date())


@pytest.mark.parametrize("text", ["2027-04-13T14:00", "2027-04-13 14:00", " 2027-04-13  14:00:00 "])
def test_a_day_and_a_time_are_a_moment(text: str) -> None:
    assert moment_meant(text, NOW, THIS_YEAR) == datetime.fromisoformat("2027-04-13T14:00")


@pytest.mark.parametrize("text", ["2027-02-29 14:00", "2027-04-13 24:30"])
def test_a_moment_that_never_was_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="there is no such"):
        moment_meant(text, NOW, THIS_YEAR)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("10:40", datetime.fromisoformat("2027-04-13T10:40")),
        ("today 7:05", datetime.fromisoformat("2027-04-13T07:05")),
        ("Yesterday 16:00", datetime.fromisoformat("2027-04-12T16:00")),
        ("2027-04-01 08:00", datetime.fromisoformat("2027-04-01T08:00")),
        ("2027-04-01T08:00", datetime.fromisoformat("2027-04-01T08:00")),
        ("2027-04-08 16.00", datetime.fromisoformat("2027-04-08T16:00")),
        ("9.40", datetime.fromisoformat("2027-04-13T09:40")),
        ("8 Apr 16:00", datetime.fromisoformat("2027-04-08T16:00")),
        ("8 April, 16.00", datetime.fromisoformat("2027-04-08T16:00")),
        ("Apr 8 16:00", datetime.fromisoformat("2027-04-08T16:00")),
        ("9.4.2027 08:05", datetime.fromisoformat("2027-04-09T08:05")),
        ("Fri 9 Apr 08:05", datetime.fromisoformat("2027-04-09T08:05")),
        ("friday 9. april 2027 08:05", datetime.fromisoformat("2027-04-09T08:05")),
    ],
)
def test_a_moment_is_meant_as_it_is_said(said: str, meant: datetime) -> None:
    assert moment_meant(said, NOW, THIS_YEAR) == meant


def test_what_nobody_can_tell_says_how_to_write_it() -> None:
    with pytest.raises(BadInput, match="noon is not a day and a time") as refused:
        moment_meant("noon", NOW, THIS_YEAR)
    assert (
        refused.value.todo
        == 'Write day and time, such as 2027-04-13 14:00; or "13 Apr 14:00", 10:40, "yesterday 16:00".'
    )


OVER_NEW_YEAR = Span(date(2027, 11, 1), date(2028, 2, 20))


@pytest.mark.parametrize(("said", "meant"), [("20 Dec", date(2027, 12, 20)), ("Mon 10 Jan", date(2028, 1, 10))])
def test_a_day_without_its_year_is_the_one_of_the_plan(said: str, meant: date) -> None:
    assert day_meant(said, date(2029, 4, 1), OVER_NEW_YEAR) == meant


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("20.12.", date(2027, 12, 20)),
        ("10.1.", date(2028, 1, 10)),
        ("10. 1.", date(2028, 1, 10)),
        ("Mon 10.01.", date(2028, 1, 10)),
        ("20.12.27", date(2027, 12, 20)),
        ("3.4.28", date(2028, 4, 3)),
    ],
)
def test_a_day_may_be_written_with_points(said: str, meant: date) -> None:
    assert day_meant(said, date(2029, 4, 1), OVER_NEW_YEAR) == meant


def test_a_day_with_points_and_a_time_is_a_moment() -> None:
    assert (
        moment_meant("16.4. 7:52", NOW, THIS_YEAR)
        == moment_meant("16.4. 7.52", NOW, THIS_YEAR)
        == datetime.fromisoformat("2027-04-16T07:52")
    )


@pytest.mark.parametrize("said", ["31.4.", "16.13.", "Fri 15.4."])
def test_a_day_with_points_that_never_was_is_refused(said: str) -> None:
    with pytest.raises(BadInput):
        day_meant(said, NOW.date(), THIS_YEAR)


def test_a_year_of_two_digits_that_is_none_of_those_here_is_asked_about() -> None:
    with pytest.raises(BadInput, match=r"27\.04\.05: 2005 is none of the years here") as refused:
        day_meant("27.04.05", NOW.date(), THIS_YEAR)
    assert refused.value.todo == "Write the year in full, such as 27.4.2027."


def test_a_day_that_may_be_in_several_years_is_refused() -> None:
    with pytest.raises(BadInput, match="8 Apr may be in several years") as refused:
        day_meant("8 Apr", date(2028, 6, 1), Span(date(2027, 3, 1), date(2028, 6, 1)))
    assert refused.value.todo == "Write 2027-04-08 or 2028-04-08."


def test_a_weekday_that_is_another_is_refused() -> None:
    with pytest.raises(BadInput, match="Fri 8 Apr: 2027-04-08 is a Thursday") as refused:
        moment_meant("Fri 8 Apr 08:05", NOW, THIS_YEAR)
    assert refused.value.todo == "Write 2027-04-09 or 2027-04-08, whichever is meant."


def test_a_weekday_tells_which_year_is_meant() -> None:
    assert day_meant("Thu 8 Apr", NOW.date(), Span(date(2027, 3, 1), date(2028, 6, 1))) == date(2027, 4, 8)


@pytest.mark.parametrize("said", ["31 Feb", "Feb 30 2027", "2027-02-29"])
def test_a_day_of_no_calendar_is_refused(said: str) -> None:
    with pytest.raises(BadInput, match="there is no such day"):
        day_meant(said, NOW.date(), THIS_YEAR)


@pytest.mark.parametrize(
    "said", ["", "rain", "8/4", "2 full", "may", "8 apples", "ago 8 Apr", "5.4", "16.04", "3.5", "1.5.2"]
)
def test_other_words_are_no_day(said: str) -> None:
    assert day_meant(said, NOW.date(), THIS_YEAR) is None


@pytest.mark.parametrize(
    ("text", "is_one"), [("7:50", True), ("07:50:00", True), ("7.50", True), ("1 May 7:50", False)]
)
def test_a_time_alone_is_told_from_a_moment(text: str, is_one: bool) -> None:
    assert is_clock(text) is is_one
