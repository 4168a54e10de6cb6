"""Which batches of a plan are set apart, by its journal, whatever number they were recorded by."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.begun.facts import FILE as BEGUN
from blockrun.planner.begun.facts import BatchPoured, Begun
from blockrun.yard.apart import batches_apart
from blockrun.yard.journal import FILE
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder, Typed

Kept = Callable[..., Recorder]
LIGHT = "2027-04-05 08:24 poured 1 --weight 730kg/m3"


@pytest.fixture
def small(small_folder: Path) -> AsPlanned:
    return load_as_planned(small_folder)


@pytest.fixture
def kept(small: AsPlanned, tmp_path: Path) -> Kept:
    def recorded(*lines: str) -> Recorder:
        now = datetime(2027, 6, 30)  # noqa: DTZ001
        recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
        for number, line in enumerate(lines):
            told, *measured = line.split(" --")
            day, time, *words = told.split()
            weights = Measured(**dict(one.split() for one in measured))
            recorder.record(Typed(tuple(words), f"key {number}", f"{day} {time}", measured=weights))
        return recorder

    return recorded


def test_a_batch_outside_its_card_is(small: AsPlanned, kept: Kept) -> None:
    assert batches_apart(small, kept(LIGHT).entries) == {1}


def test_without_a_journal_none_is(small: AsPlanned) -> None:
    assert batches_apart(small, []) == frozenset()


@pytest.mark.parametrize(
    "then",
    ["2027-04-05 09:00 passed 1 the scales were wet", "2027-04-05 09:30 rejected gang-2/1 gang-2/2 tray-1/b1 flat"],
)
def test_one_that_somebody_answers_for_or_that_is_thrown_away_is_not(small: AsPlanned, kept: Kept, then: str) -> None:
    assert batches_apart(small, kept(LIGHT, then).entries) == frozenset()


def test_a_plan_made_anew_knows_it_by_its_own_number(small: AsPlanned, kept: Kept, tmp_path: Path) -> None:
    entries = kept(LIGHT).entries
    anew = tmp_path / "anew"
    shutil.copytree(small.directory, anew)
    poured = datetime.fromisoformat("2027-04-05 08:24")
    batch = BatchPoured(number=4, plan=small.id, was=1, mixer="drum", mix="light", bags=3, poured=poured)
    begun = Begun(since=datetime.fromisoformat("2027-04-05 12:00"), batches=(batch,))
    (anew / "inputs" / BEGUN).write_text(begun.text(), encoding="utf-8")
    assert batches_apart(load_as_planned(anew), entries) == {4}


def test_of_two_pours_of_one_batch_the_one_that_is_there(small: AsPlanned, kept: Kept, tmp_path: Path) -> None:
    """The first was light and thrown away, so its number in a plan made anew is not that of the second."""
    flat = "2027-04-05 09:30 rejected gang-2/1 gang-2/2 tray-1/b1 flat"
    entries = kept(LIGHT, flat, "2027-04-05 11:00 poured 1 again --weight 880kg/m3").entries
    anew = tmp_path / "anew"
    shutil.copytree(small.directory, anew)
    batches = tuple(
        BatchPoured(
            number=number,
            plan=small.id,
            was=1,
            mixer="drum",
            mix="light",
            bags=3,
            poured=datetime.fromisoformat(f"2027-04-05 {clock}"),
        )
        for number, clock in ((1, "08:24"), (2, "11:00"))
    )
    begun = Begun(since=datetime.fromisoformat("2027-04-05 12:00"), batches=batches)
    (anew / "inputs" / BEGUN).write_text(begun.text(), encoding="utf-8")
    assert batches_apart(load_as_planned(anew), entries) == {2}
