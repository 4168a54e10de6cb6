"""A search goes on no longer than there is something to find, or than it may, however many rounds it has."""

from __future__ import annotations

import itertools

import pytest

from blockrun.optimiser.best import Best
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.search import Search
from tests.optimiser.small import YARD

FOR_EVER = 1 << 30


def looked_at(monkeypatch: pytest.MonkeyPatch, *, reached: bool) -> None:
    """The best plan is proven or not; it is no more than the times of one round that a search may ask."""
    asked = itertools.count()

    def answer(_: Best, stages: int = 4) -> bool:
        assert stages
        assert next(asked) < 4
        return reached

    monkeypatch.setattr(Best, "reached", answer)


def test_a_search_ends_when_all_is_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    looked_at(monkeypatch, reached=True)
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: False), lambda _: None, FOR_EVER).run()


def test_a_search_that_is_to_stop_begins_no_further_round(monkeypatch: pytest.MonkeyPatch) -> None:
    looked_at(monkeypatch, reached=False)
    known: list[object] = []
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: bool(known)), known.append, FOR_EVER).run()


@pytest.mark.parametrize("short", [True, False])
def test_a_search_without_rounds_plays_on_once(monkeypatch: pytest.MonkeyPatch, *, short: bool) -> None:
    rounds: list[int] = []
    monkeypatch.setattr(Best, "reached", lambda _, stages=4: False)
    monkeypatch.setattr(Tries, "short", lambda _, days: short)
    monkeypatch.setattr(Search, "_play_on", lambda _, second, number, last, share: rounds.append(number))
    assert Search(YARD, Limits(YARD), Effort(1.0, lambda: False), lambda _: None, 0).run()
    assert rounds == [0]
