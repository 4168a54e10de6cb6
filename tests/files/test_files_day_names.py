"""Days and moments in words."""

from datetime import date, datetime

from blockrun.files.day_names import clock, day_name, full_day_name, moment_name, short_day_name


def test_days_are_named_without_a_locale() -> None:
    assert day_name(date(2027, 4, 6)) == "Tue 6 Apr"
    assert full_day_name(date(2027, 4, 6)) == "Tue 6 Apr 2027"
    assert short_day_name(date(2027, 4, 6)) == "6 Apr"


def test_clock_times_have_two_digits_each() -> None:
    assert clock(datetime.fromisoformat("2027-04-06T07:05")) == "07:05"
    assert clock(7 * 60 + 5) == "07:05"


def test_a_moment_is_its_day_and_its_clock_time() -> None:
    assert moment_name(datetime.fromisoformat("2027-04-06T07:05")) == "Tue 6 Apr 07:05"
