"""A batch poured in weather that the site lets nothing be poured in is kept and told."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC
from pathlib import Path
from typing import Any

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.journal import FILE
from blockrun.yard.record.recorder import Recorder, Typed
from tests.yard.record.conftest import NOW, Record

MONDAY = "2027-04-05 08:24"


def recorder_of(small: AsPlanned, tmp_path: Path, **curing: Any) -> Recorder:
    site = small.site.model_copy(update={"curing": small.site.curing.model_copy(update=curing)})
    return Recorder(replace(small, site=site), tmp_path / FILE, NOW, NOW.replace(tzinfo=UTC))


def test_a_pour_in_the_air_that_was_planned_with_passes(record: Record) -> None:
    assert record("poured 1", MONDAY).warnings == ()


def test_air_that_was_seen_too_cold_that_day_is_told(record: Record) -> None:
    record("weather 2 12", MONDAY)
    assert record("poured 1", MONDAY).warnings == (
        "too cold to pour: the air falls to 2 degC on Mon 5 Apr, and 5 degC is the least until the strip. Cover and "
        "warm these moulds; strip none without a thumb.",
    )


def test_a_forecast_too_cold_before_the_strip_is_told(small: AsPlanned, tmp_path: Path) -> None:
    recorder = recorder_of(small, tmp_path, least_air_c=8.5)
    (told,) = recorder.record(Typed(("poured", "2"), "b", "2027-04-07 14:09")).warnings
    assert "the air falls to 8 degC on Thu 8 Apr" in told


@pytest.mark.parametrize("most", [20.0, 20.9])
def test_a_day_too_hot_is_told(small: AsPlanned, tmp_path: Path, most: float) -> None:
    recorder = recorder_of(small, tmp_path, most_air_c=most)
    (told,) = recorder.record(Typed(("poured", "1"), "a", MONDAY)).warnings
    assert told.startswith("the site lets nothing be poured that day: the air rises to 21 degC")


def test_a_pour_before_the_weather_begins_is_not_held_against_it(record: Record) -> None:
    assert not any("cold" in told for told in record("poured 1", "2027-04-02 08:24").warnings)
