"""A search goes on no longer than there is something to find, or than it may, however many rounds it has."""

from __future__ import annotations

import pytest

from blockrun.optimiser.best import Best
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.quick.second import Second
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.search import Search
from tests.optimiser.small import YARD

FOR_EVER = 1 << 30


@pytest.fixture
def rounds(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Numbers of the rounds that were played; no test waits for a third one."""
    played: list[int] = []
    play_on = Search._play_on

    def noted(of: Search, second: Second, number: int, last: int, share: float) -> None:
        played.append(number)
        assert len(played) < 3
        play_on(of, second, number, last, share)

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
    monkeypatch.setattr(Tries, "short", lambda _, days: short)
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: False), lambda _: None, 0).run()
    assert rounds == [0]
