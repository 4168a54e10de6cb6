"""A list at a moment, after some things were recorded, on the plan of fifteen blocks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.morning import CourseNow, Morning
from blockrun.yard.journal import FILE
from blockrun.yard.ready.morning import morning_of
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder, Typed

Ready = Callable[..., Morning]


@pytest.fixture(scope="session")
def small(small_folder: Path) -> AsPlanned:
    return load_as_planned(small_folder)


@pytest.fixture
def ready(small: AsPlanned, tmp_path: Path) -> Ready:
    """The list at a moment, after some things were recorded: ``2027-04-05 08:24 poured 1 --weight 806kg/m3``."""
    keys = (f"key {number}" for number in range(1000))

    def at(moment: str, *recorded: str, plan: AsPlanned = small) -> Morning:
        now = datetime(2027, 6, 30)  # noqa: DTZ001
        recorder = Recorder(plan, tmp_path / FILE, now, now.replace(tzinfo=UTC))
        for line in recorded:
            told, *measured = line.split(" --")
            day, time, *words = told.split()
            weights = Measured(**dict(one.split() for one in measured))
            recorder.record(Typed(tuple(words), next(keys), f"{day} {time}", measured=weights))
        return morning_of(plan, recorder.entries, datetime.fromisoformat(moment))

    return at


POURED = "2027-04-05 08:24 poured 1"
STRIPPED = tuple(f"2027-04-06 13:00 stripped {name}" for name in ("gang-2/1", "gang-2/2", "tray-1/b1"))


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def course(morning: Morning, number: int) -> CourseNow:
    return next(one for one in morning.courses if one.course == number)
