"""How many are away on a day: a name counts once, a number adds up."""

from __future__ import annotations

from datetime import date

from blockrun.yard.absent import n_away, stretches_away
from blockrun.yard.journal.events import PersonAway


def away(first: int, last: int, *names: str, people: int = 0) -> PersonAway:
    return PersonAway(first=date(2027, 4, first), last=date(2027, 4, last), people=people or len(names), names=names)


BEN, BOTH, TWO = away(6, 8, "Ben"), away(7, 7, "ben", "Ada"), away(8, 9, people=2)


def test_a_name_counts_once_and_a_number_adds_up() -> None:
    assert [n_away([BEN, BOTH, TWO], date(2027, 4, day)) for day in range(5, 11)] == [0, 1, 2, 3, 2, 0]


def test_days_on_which_equally_many_are_away_are_one_stretch() -> None:
    found = [(first.day, last.day, people) for first, last, people in stretches_away([BEN, BOTH, away(8, 9, "Ada")])]
    assert found == [(6, 6, 1), (7, 8, 2), (9, 9, 1)]
