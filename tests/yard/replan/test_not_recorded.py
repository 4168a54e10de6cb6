"""Batches that should have been poured and were not, as far as anybody recorded."""

from __future__ import annotations

from datetime import date, datetime

from blockrun.yard.now import State
from blockrun.yard.replan.kept import Kept
from blockrun.yard.replan.why import not_recorded

EVENING = datetime.fromisoformat("2027-04-06T18:00")


def test_those_of_a_lost_day_are_known_not_to_be(small_kept: Kept) -> None:
    assert not_recorded(small_kept, State(), EVENING) == (1, 2)
    assert not_recorded(small_kept, State(lost={date(2027, 4, 6)}), EVENING) == (1,)
