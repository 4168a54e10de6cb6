"""The day of ``lost``, ``away`` and ``weather`` counts wherever it stands, and is asked for where it is not plain."""

from __future__ import annotations

from datetime import date

import pytest

from blockrun.errors import BadInput
from blockrun.yard.journal.events import DayLost, PersonAway, WeatherSeen
from tests.yard.record.conftest import Record

FRIDAY = "2027-04-16 09:00"
WEDNESDAY = date(2027, 4, 14)


@pytest.mark.parametrize(
    ("words", "day", "why"),
    [
        ("lost storm on Wed 14 Apr", WEDNESDAY, "storm"),
        ("lost storm Wed 14 Apr", WEDNESDAY, "storm"),
        ("lost storm, 14 apr", WEDNESDAY, "storm"),
        ("lost the roof fell on 14.4.", WEDNESDAY, "the roof fell"),
        ("lost on Wed 14 Apr storm", WEDNESDAY, "storm"),
        ("lost on 2027-04-14", WEDNESDAY, ""),
        ("lost storm yesterday", date(2027, 4, 15), "storm"),
        ("lost storm today", date(2027, 4, 16), "storm"),
        ("lost today already too wet after yesterday", date(2027, 4, 16), "already too wet after yesterday"),
        ("lost too wet today already", date(2027, 4, 16), "too wet today already"),
        ("lost too much sun", date(2027, 4, 16), "too much sun"),
        ("lost water sat on the slab", date(2027, 4, 16), "water sat on the slab"),
        ("lost 3 fell ill", date(2027, 4, 16), "3 fell ill"),
    ],
)
def test_a_day_is_lost_that_is_told_in_front_or_behind(record: Record, words: str, day: date, why: str) -> None:
    (entry,) = record(words, FRIDAY).entries
    assert entry.event == DayLost(day=day, why=why)


@pytest.mark.parametrize(
    ("words", "said", "todo"),
    [
        ("lost roof fell on sun", "which sun?", "Write its date, such as Sun 11 Apr or Sun 18 Apr."),
        ("lost on sun", "which sun?", "Sun 11 Apr"),
        ("lost storm on wed all day", "which wed?", "Wed 14 Apr"),
        (
            "lost storm 14 apr all day",
            "is 14 apr the day?",
            "The day goes first, and one at a time, such as: Wed 14 Apr.",
        ),
        ("lost storm 13 apr to 14 apr", "is 13 apr the day?", "one at a time"),
        ("lost too wet since yesterday", "is yesterday the day?", "Or write today first."),
        ("lost storm on Fri 14 Apr", "2027-04-14 is a Wednesday", "2027-04-14"),
        ("lost storm 14 Arp", "14 Arp is no day", "12 Apr"),
        ("away Bob on sun", "which sun?", "Sun 18 Apr"),
        ("weather 3 14 on sun", "which sun?", "Sun 11 Apr"),
    ],
)
def test_a_day_that_is_not_plain_is_asked_for(record: Record, words: str, said: str, todo: str) -> None:
    with pytest.raises(BadInput) as caught:
        record(words, FRIDAY)
    assert said in str(caught.value)
    assert todo in str(caught.value)


def test_what_is_advised_for_a_bare_day_of_the_week_is_taken_where_it_stood(record: Record) -> None:
    with pytest.raises(BadInput, match="which wed") as caught:
        record("lost storm on wed", FRIDAY)
    assert "such as Wed 14 Apr or" in str(caught.value)
    (entry,) = record("lost storm on Wed 14 Apr", FRIDAY).entries
    assert isinstance(entry.event, DayLost)
    assert entry.event.day == WEDNESDAY


def test_somebody_is_away_on_a_day(record: Record) -> None:
    for words in ("away Bob on Wed 14 Apr", "away on Tue 13 Apr Bob"):
        (entry,) = record(words, FRIDAY).entries
        assert isinstance(entry.event, PersonAway)
        assert (entry.event.names, entry.event.remark) == (("Bob",), "Bob")
        assert entry.event.first.day == int(words.split(" Apr")[0][-2:])


def test_weather_is_of_a_day_on_which_it_was_seen(record: Record) -> None:
    (entry,) = record("weather 3 14 on Wed 14 Apr", FRIDAY).entries
    assert entry.event == WeatherSeen(day=WEDNESDAY, min_degc=3, max_degc=14)
