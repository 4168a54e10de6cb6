"""Foam and wet mix are told by their density, or by what the container of the cards weighs."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.planner.as_planned import AsPlanned
from blockrun.site import Buckets
from blockrun.yard.journal import FILE
from blockrun.yard.journal.events import Poured
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder, Typed
from tests.yard.record.conftest import NOW, Record

MONDAY = "2027-04-05 08:24"


def densities(event: object) -> tuple[float | None, float | None]:
    assert isinstance(event, Poured)
    return event.foam_g_l, event.wet_density_kg_m3


def test_a_mass_is_of_the_container_of_the_cards_and_that_is_said(record: Record) -> None:
    told = record("poured 1", MONDAY, measured=Measured(foam="0.95kg", weight="8,1kg"))
    assert densities(told.entries[0].event) == (pytest.approx(95), pytest.approx(810))
    assert told.said[0].endswith("08:24 (0.95kg of foam and 8.1kg of mix weighed in 10 L).")


def test_a_density_is_as_it_is_told(record: Record) -> None:
    told = record("poured 1", MONDAY, measured=Measured(foam="95g/L", weight="810kg/m3"))
    assert densities(told.entries[0].event) == (95, 810)
    assert told.said[0].endswith("08:24.")


def test_a_container_may_be_told_with_it(record: Record) -> None:
    told = record("poured 1", MONDAY, measured=Measured(foam="950g/10L", weight="16.2kg/20L"))
    assert densities(told.entries[0].event) == (pytest.approx(95), pytest.approx(810))
    assert "950g of foam weighed in 10 L; 16.2kg of mix weighed in 20 L" in told.said[0]


def test_the_bucket_of_the_site_is_taken_off(small: AsPlanned, tmp_path: Path) -> None:
    site = small.site.model_copy(update={"buckets": Buckets(mix_l=12, empty_kg=0.6)})
    recorder = Recorder(replace(small, site=site), tmp_path / FILE, NOW, NOW.replace(tzinfo=UTC))
    told = recorder.record(Typed(("poured", "1"), "a", MONDAY, remark="stiff", measured=Measured(weight="10.32kg")))
    assert densities(told.entries[0].event) == (None, pytest.approx(810))
    assert told.said[0].endswith("(10.32kg of mix weighed in 12 L, 0.6 kg of it the bucket, stiff).")


def test_of_a_batch_thrown_away_too(record: Record) -> None:
    told = record("thrown 1 flat", MONDAY, measured=Measured(foam="0.4kg"))
    assert told.said[0].endswith("(flat, 0.4kg of foam weighed in 10 L).")


@pytest.mark.parametrize("typed", ["810", "8.1L", "light"])
def test_what_is_neither_is_refused_and_both_ways_are_named(record: Record, recorder: Recorder, typed: str) -> None:
    with pytest.raises(BadInput, match="--weight: ") as refused:
        record("poured 1", MONDAY, measured=Measured(weight=typed))
    assert "or what the full container weighs, such as 8.6kg" in (refused.value.todo or "")
    assert not recorder.entries
