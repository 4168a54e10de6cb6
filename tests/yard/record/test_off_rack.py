"""Blocks stacked before their rack time is over are kept, and whoever typed it is told."""

from __future__ import annotations

import pytest

from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record


@pytest.fixture
def racked(record: Record) -> None:
    """Three full blocks on rack east from Tuesday 6 April 13:00 on, for a week."""
    record("poured 1", "2027-04-05 08:24")
    record("stripped gang-2/1", "2027-04-06 13:00")
    record("stripped gang-2/2", "2027-04-06 13:00")


def test_blocks_stacked_days_before_their_time_are_kept_and_told(
    record: Record, recorder: Recorder, racked: None
) -> None:
    before = len(recorder.entries)
    told = record("stacked east 2 full", "2027-04-08 18:40")
    assert len(recorder.entries) == before + 1
    assert told.warnings == (
        "2 of the blocks stacked are to stay on rack east until Tue 13 Apr. If that is not a slip, put them back, or "
        "keep them damp, covered and out of frost until then.",
    )


@pytest.mark.parametrize("at", ["2027-04-13 12:00", "2027-04-14 08:00"])
def test_blocks_stacked_on_their_day_or_later_pass(record: Record, racked: None, at: str) -> None:
    assert record("stacked east 2 full", at).warnings == ()


def test_blocks_that_a_count_found_pass_for_nobody_knows_since_when_they_lie_there(
    record: Record, racked: None
) -> None:
    record("counted east 4 full", "2027-04-14 08:00")
    assert record("stacked east 4 full", "2027-04-14 09:00").warnings == ()
