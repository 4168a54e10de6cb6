"""A search goes on no longer than there is something to find, or than it may, however many rounds it has."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from blockrun.optimiser.best import Best
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.quick.second import Second
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.rounds import Length, Round
from blockrun.optimiser.search import Search
from tests.optimiser.small import YARD

FOR_EVER = 1 << 30


@pytest.fixture
def rounds(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Numbers of the rounds that were played; no test waits for a third one."""
    played: list[int] = []
    play_on = Search._play_on

    def noted(of: Search, second: Second, now: Round, share: float) -> None:
        played.append(now.number)
        assert len(played) < 3
        play_on(of, second, now, share)

    monkeypatch.setattr(Search, "_play_on", noted)
    return played


def test_a_search_ends_when_all_is_proven(monkeypatch: pytest.MonkeyPatch, rounds: list[int]) -> None:
    monkeypatch.setattr(Best, "reached", lambda _, stages=4: True)
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: False), lambda _: None, FOR_EVER).run()
    assert rounds == []


def test_a_search_that_is_to_stop_begins_no_further_round(monkeypatch: pytest.MonkeyPatch, rounds: list[int]) -> None:
    monkeypatch.setattr(Best, "reached", lambda _, stages=4: False)
    known: list[object] = []
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: bool(known)), known.append, FOR_EVER).run()
    assert rounds == [0]


@pytest.mark.parametrize("short", [True, False])
def test_a_search_without_rounds_plays_on_once(
    monkeypatch: pytest.MonkeyPatch, rounds: list[int], *, short: bool
) -> None:
    monkeypatch.setattr(Best, "reached", lambda _, stages=4: False)
    monkeypatch.setattr(Tries, "length", lambda _, days: Length.SHORT if short else Length.LONG)
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: False), lambda _: None, 0).run()
    assert rounds == [0]


def of_a_search(**known: Any) -> list[Round]:
    """All rounds of a search that was asked for three, unless said otherwise, and finds nothing on the way."""
    of = {"asked": 3, "length": Length.SHORT, "in_time": True, "proven": False} | known
    first = Round(0, **of)
    rounds = [replace(first, number=number) for number in range(20)]
    return [now for now in rounds if now.number <= now.last]


@pytest.mark.parametrize(
    ("known", "last"),
    [
        ({"length": Length.A_GLANCE}, 18),
        ({"length": Length.SHORT}, 18),
        ({"length": Length.A_GLANCE, "in_time": False}, 9),
        ({"length": Length.SHORT, "in_time": False}, 3),
        ({"length": Length.SOME_SECONDS}, 6),
        ({"length": Length.LONG}, 3),
        ({"length": Length.LONG, "sooner": 2}, 4),
        ({"length": Length.LONG, "sooner": 3}, 4),
        ({"length": Length.SOME_SECONDS, "sooner": 5}, 7),
        ({"proven": True}, 3),
        ({"proven": True, "sooner": 4}, 7),
        ({"in_time": False}, 3),
        ({"shortened": True}, 1),
    ],
)
def test_there_are_more_rounds_where_they_are_short_and_after_a_sooner_day(known: dict[str, Any], last: int) -> None:
    assert [now.number for now in of_a_search(**known)] == list(range(last + 1))


@pytest.mark.parametrize("length", Length)
def test_every_other_round_looks_for_a_sooner_day_and_of_several_never_the_last(length: Length) -> None:
    found = of_a_search(length=length)
    assert [now.chases for now in found] == [now.number % 2 == 0 and now != found[-1] for now in found]
    assert [now.chases for now in of_a_search(length=length, asked=0)] == [True]


def test_where_no_batch_can_be_saved_each_round_but_the_last_looks_for_a_sooner_day() -> None:
    *before, last = of_a_search(fewest=True)
    assert all(now.chases for now in before)
    assert not last.chases
    assert not any(now.chases for now in of_a_search(fewest=True, proven=True))


@pytest.mark.parametrize("known", [{"in_time": False}, {"proven": True}])
def test_no_sooner_day_is_looked_for_where_there_is_none_or_something_is_late(known: dict[str, Any]) -> None:
    assert not any(now.chases for now in of_a_search(**known))


def test_in_long_rounds_batches_are_bounded_once_the_last_day_seems_to_stand() -> None:
    long = Length.LONG
    assert [now.last_day_stands for now in of_a_search(length=long)] == [False, False, True, True]
    assert [now.last_day_stands for now in of_a_search(length=long, sooner=3)] == [False, False, False, True, True]
    assert all(now.last_day_stands for now in of_a_search(length=long, proven=True))
    assert all(now.last_day_stands for now in of_a_search(length=Length.SOME_SECONDS))
    for_hours = of_a_search(length=long, asked=FOR_EVER, sooner=10)
    assert [now.last_day_stands for now in for_hours[12:14]] == [False, True]


def test_laps_come_late_however_many_rounds_there_are() -> None:
    of_rack = [now.may_have_laps(by_day=False) for now in of_a_search(length=Length.SOME_SECONDS)]
    assert of_rack == [False] * 2 + [True] * 5
    assert next(now.number for now in of_a_search(asked=FOR_EVER) if now.may_have_laps(by_day=False)) == 8


def test_laps_of_a_day_come_soon_in_short_rounds_and_are_left_out_now_and_then() -> None:
    may = [now.may_have_laps(by_day=True) for now in of_a_search(asked=FOR_EVER)[:9]]
    assert may == [False, False, True, True, False, True, True, False, True]
    longer = of_a_search(asked=FOR_EVER, length=Length.SOME_SECONDS)
    assert not any(now.may_have_laps(by_day=True) for now in longer)


@pytest.mark.parametrize("asked", [0, 1, 2, 3, FOR_EVER])
@pytest.mark.parametrize("length", Length)
@pytest.mark.parametrize("known", [{}, {"shortened": True}, {"in_time": False}])
def test_bounds_that_lead_on_to_others_leave_a_round_for_these(
    asked: int, length: Length, known: dict[str, Any]
) -> None:
    found = of_a_search(asked=asked, length=length, **known)
    due = next(now.number for now in found if now.is_due(0, leads_on=True))
    assert due <= 2
    # the last day may be proven by then, and there are no more rounds than were asked for
    proven = of_a_search(asked=asked, length=length, **known | {"proven": True})
    assert due < proven[-1].number or proven[-1].number == 0


def test_of_a_late_order_bounds_are_waited_for_so_soon_that_they_may_be_asked_for_once_more() -> None:
    late = of_a_search(length=Length.LONG, in_time=False)
    assert [now.is_due(0, leads_on=True) for now in late] == [False, True, True, True]
    assert late[2].is_due(2, leads_on=True)


def test_the_last_bounds_of_long_rounds_are_waited_for_at_the_end() -> None:
    assert [now.is_due(3, leads_on=False) for now in of_a_search(length=Length.LONG, sooner=2)][3:] == [False, True]
    assert [now.is_due(3, leads_on=False) for now in of_a_search(length=Length.SOME_SECONDS)][3:5] == [False, True]
    assert [now.is_due(5, leads_on=False) for now in of_a_search(length=Length.SOME_SECONDS)][5:] == [True, True]
