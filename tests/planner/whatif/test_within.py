"""Changes within a time: an answer for each first, a better one where there is time for all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from blockrun.planner.whatif import within
from blockrun.planner.whatif.changes import more_moulds
from blockrun.planner.whatif.tried import Tried, try_changes
from tests.planner.why.by_hand import a_site, an_order

MOULD = more_moulds("gang", 1)
ASKED = a_site(), an_order(4, None)

pytestmark = pytest.mark.xdist_group("within a time")  # what all the work comes to is worked out once


@cache
def without_a_time(rounds: int) -> Tried:
    return try_changes(*ASKED, rounds=rounds, offered=(MOULD,))


def tried_within(stop: Callable[[], bool], rounds: int = 3) -> tuple[Tried, list[str]]:
    told: list[str] = []
    result = within.try_changes_within(*ASKED, rounds=rounds, workers=1, stop=stop, tell=told.append, offered=(MOULD,))
    return result, told


@pytest.fixture
def work(monkeypatch: pytest.MonkeyPatch) -> list[tuple[int, bool]]:
    """The rounds of each try, and whether it came to its end."""
    done: list[tuple[int, bool]] = []

    def tracked(*of: object, **how: object) -> Tried:
        result = try_changes(*of, **how)  # type: ignore[arg-type]
        done.append((how["rounds"], result.is_whole))  # type: ignore[arg-type]
        return result

    monkeypatch.setattr(within, "try_changes", tracked)
    return done


def test_where_there_is_time_for_all_of_it_the_answer_is_that_of_all_the_work(work: list[tuple[int, bool]]) -> None:
    result, told = tried_within(lambda: False)
    assert work == [(0, True), (3, True)]
    assert result == without_a_time(3)
    assert told[-1].startswith("once more, with more work: ")


@pytest.mark.parametrize("heard", [1, 2, 3])
def test_where_time_is_over_in_the_second_try_the_first_one_stands(heard: int) -> None:
    told: list[str] = []
    again: Callable[[], bool] = lambda: sum("once more" in words for words in told) >= heard  # noqa: E731
    result = within.try_changes_within(*ASKED, rounds=3, workers=1, stop=again, tell=told.append, offered=(MOULD,))
    assert again()
    assert result == replace(without_a_time(0), is_quick=True)


def test_where_time_is_over_in_the_first_try_there_is_no_second(work: list[tuple[int, bool]]) -> None:
    told: list[str] = []
    result = within.try_changes_within(
        *ASKED, rounds=3, workers=1, stop=lambda: len(told) > 2, tell=told.append, offered=(MOULD,)
    )
    assert work == [(0, False)]
    assert result.unsolved == (MOULD.said,)


def test_no_more_work_than_is_asked_for(work: list[tuple[int, bool]]) -> None:
    tried_within(lambda: False, rounds=0)
    assert work == [(0, True)]
