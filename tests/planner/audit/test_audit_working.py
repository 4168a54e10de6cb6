"""Working minutes, counted by hand: work 07:30-12:00 and 12:30-16:30, Monday to Friday, Thursday the 8th closed."""

from datetime import date

import pytest

from blockrun.planner.audit.working import DAY, WorkingTime, windows_of
from blockrun.site import Calendar

WORKING = WorkingTime(
    start=date(2027, 4, 5),  # a Monday
    workdays=frozenset(range(5)),
    closed=frozenset({date(2027, 4, 8)}),
    windows=((450, 720), (750, 990)),
)
MONDAY, WEDNESDAY, FRIDAY, NEXT_MONDAY = 0, 2, 4, 7


@pytest.mark.parametrize(
    ("breaks", "windows"),
    [
        ((), ((450, 990),)),
        (((720, 750),), ((450, 720), (750, 990))),
        (((750, 780), (720, 760)), ((450, 720), (780, 990))),  # they overlap
        (((420, 480), (980, 1020)), ((480, 980),)),  # they lie in set-up and close-down in part
        (((720, 750), (750, 990)), ((450, 720),)),
        (((0, 1440),), ()),
    ],
)
def test_windows_are_the_hours_less_breaks_set_up_and_close_down(breaks, windows):
    calendar = Calendar(
        start=date(2027, 4, 5),
        workdays=frozenset({0}),
        hours=(420, 1020),
        breaks=breaks,
        set_up_min=30,
        close_down_min=30,
    )
    assert windows_of(calendar) == windows


@pytest.mark.parametrize(
    ("minute", "first"),
    [
        (MONDAY * DAY + 0, MONDAY * DAY + 450),
        (MONDAY * DAY + 450, MONDAY * DAY + 450),
        (MONDAY * DAY + 719, MONDAY * DAY + 719),
        (MONDAY * DAY + 720, MONDAY * DAY + 750),
        (WEDNESDAY * DAY + 990, FRIDAY * DAY + 450),
        (FRIDAY * DAY + 1000, NEXT_MONDAY * DAY + 450),
    ],
)
def test_the_first_working_minute(minute, first):
    assert WORKING.first_minute(minute) == first


@pytest.mark.parametrize(
    ("day", "later", "found"),
    [(MONDAY, 0, MONDAY), (3, 0, FRIDAY), (WEDNESDAY, 1, FRIDAY), (FRIDAY, 1, NEXT_MONDAY), (-2, 0, 0), (-3, 1, 0)],
)
def test_working_days_on(day, later, found):
    assert WORKING.working_day(day, later) == found


def test_no_day_before_the_start_is_worked():
    assert not WORKING.is_working(-3)  # Friday 2 April
    assert WORKING.working_day(-3) == -3  # but a course may be needed then


def test_a_task_lies_in_one_stretch_or_has_no_length():
    assert WORKING.holds(450, 720)
    assert not WORKING.holds(449, 460)
    assert not WORKING.holds(710, 760)
    assert not WORKING.holds(3 * DAY + 500, 3 * DAY + 510)
    assert WORKING.holds(725, 725)


def test_moments_are_said_as_in_the_yard():
    assert WORKING.minute_text(DAY + 520) == "Tue 6 Apr 08:40"
    assert WORKING.day_text(300) == "Sun 30 Jan 2028"
