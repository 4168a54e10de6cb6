from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.begun.facts import FILE as BEGUN
from blockrun.planner.begun.facts import BatchPoured, Begun
from blockrun.planner.progress import Progress
from blockrun.planner.risk.rates import Rates
from blockrun.yard.journal import FILE
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder, Typed
from blockrun.yard.status.standing import progress_of

PLANS: Final = Path(__file__).parents[2] / "plans"

Status = Callable[..., Progress]


@pytest.fixture(scope="session")
def small() -> AsPlanned:
    """The plan of fifteen blocks: pours on Monday 5, Tuesday 6 and, two of them, Thursday 8 April."""
    return load_as_planned(PLANS / "small")


@pytest.fixture(scope="session")
def demo() -> AsPlanned:
    """The plan of the demo yard: 60 batches, 22 of them from Monday 5 to Thursday 8 April, the next on the 17th."""
    return load_as_planned(PLANS / "demo")


@pytest.fixture
def anew(tmp_path: Path) -> AsPlanned:
    """The plan of fifteen blocks as if made anew after its first batch, which the plan before, 1234, had as its 7th."""
    folder = Path(shutil.copytree(PLANS / "small", tmp_path / "anew"))
    poured = datetime.fromisoformat("2027-04-05T08:24")
    before = BatchPoured(number=1, plan="1234", was=7, mixer="drum", mix="light", bags=3.5, poured=poured)
    (folder / "inputs" / BEGUN).write_text(Begun(since=poured, batches=(before,)).text(), encoding="utf-8")
    return load_as_planned(folder)


@pytest.fixture
def status(small: AsPlanned, tmp_path: Path) -> Status:
    """How the job stands at a moment, after some things were recorded: ``2027-04-05 08:24 poured 1 --foam 98g/L``."""

    def at(moment: str, *recorded: str, plan: AsPlanned = small, rates: Rates | None = None) -> Progress:
        now = datetime(2027, 6, 30)  # noqa: DTZ001
        recorder = Recorder(plan, tmp_path / FILE, now, now.replace(tzinfo=UTC))
        for number, line in enumerate(recorded):
            told, *measured = line.split(" --")
            day, time, *words = told.split()
            weights = dict(one.split() for one in measured)
            key = f"{len(recorder.entries)} {number}"
            recorder.record(Typed(tuple(words), key, f"{day} {time}", measured=Measured(**weights)))
        return progress_of(plan, recorder.entries, datetime.fromisoformat(moment), rates or Rates())

    return at


POURED: Final = "2027-04-05 08:24 poured 1"
STRIPPED: Final = tuple(f"2027-04-06 13:00 stripped {name}" for name in ("gang-2/1", "gang-2/2", "tray-1/b1"))
SECOND: Final = "2027-04-06 14:09 poured 2"
