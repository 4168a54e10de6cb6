"""Working days and working minutes."""

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.site import Calendar


def calendar(**changes: object) -> Calendar:
    """Monday to Saturday, 07:30-16:30 with a break at noon, half an hour to set up and to close down."""
    values: dict[str, object] = {
        "start": date(2027, 4, 5),
        "workdays": ["mon", "tue", "wed", "thu", "fri", "sat"],
        "hours": "07:30-16:30",
        "breaks": ["12:00-12:30"],
        "closed": [date(2027, 4, 16)],
        "set_up": "30 min",
        "close_down": "30 min",
    }
    return Calendar.model_validate(values | changes)


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


@pytest.mark.parametrize(
    ("changes", "windows"),
    [
        ({}, ((480, 720), (750, 960))),
        ({"breaks": []}, ((480, 960),)),
        ({"breaks": ["12:15-12:45", "12:00-12:30"]}, ((480, 720), (765, 960))),
        ({"breaks": ["07:30-09:00"]}, ((540, 960),)),
        ({"breaks": ["15:30-16:30"]}, ((480, 930),)),
        ({"breaks": ["08:00-16:00"]}, ()),
        ({"breaks": ["07:30-08:00", "10:00-10:10"], "set_up": "0 min"}, ((480, 600), (610, 960))),
        ({"set_up": "5 h", "close_down": "5 h"}, ()),
    ],
)
def test_windows_are_the_hours_less_breaks_set_up_and_close_down(
    changes: dict[str, object], windows: tuple[tuple[int, int], ...]
):
    assert calendar(**changes).windows == windows


def test_a_changed_copy_has_its_own_windows():
    yard = calendar()
    assert yard.windows != yard.model_copy(update={"breaks": ()}).windows == ((480, 960),)


def test_sundays_and_closed_days_are_not_worked():
    yard = calendar()
    assert [yard.is_working(date(2027, 4, day)) for day in (10, 11, 16)] == [True, False, False]


@pytest.mark.parametrize(
    ("day", "n", "found"), [(5, 0, 5), (11, 0, 12), (16, 0, 17), (15, 1, 17), (9, 3, 13), (11, 1, 13)]
)
def test_working_days_are_counted_on_from_a_working_day(day: int, n: int, found: int):
    assert calendar().next_working_day(date(2027, 4, day), n) == date(2027, 4, found)


@pytest.mark.parametrize(
    ("moment", "found"),
    [
        ("05 08:00", "05 08:00"),
        ("05 07:31", "05 08:00"),
        ("05 08:00:01", "05 08:01"),
        ("05 11:59", "05 11:59"),
        ("05 12:00", "05 12:30"),
        ("05 15:59", "05 15:59"),
        ("05 16:00", "06 08:00"),
        ("10 20:00", "12 08:00"),
        ("15 16:00", "17 08:00"),
        ("16 10:00", "17 08:00"),
    ],
)
def test_the_next_working_minute_is_in_a_window(moment: str, found: str):
    assert calendar().next_working_minute(at(moment)) == at(found)


@given(st.integers(0, 60 * 24 * 40))
def test_the_next_working_minute_is_the_first_that_is_one(minutes: int):
    yard = calendar()
    moment = at("05 00:00") + timedelta(minutes=minutes)
    working = (
        later
        for later in (moment + timedelta(minutes=n) for n in range(4 * 1440))
        if yard.is_working(later.date())
        and any(start <= later.hour * 60 + later.minute < end for start, end in yard.windows)
    )
    assert yard.next_working_minute(moment) == next(working)
