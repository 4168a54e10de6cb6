from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.yard.journal import FILE
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorded, Recorder, Typed

NOW: Final = datetime.fromisoformat("2027-04-21T18:00")


@pytest.fixture(scope="session")
def small(small_folder: Path) -> AsPlanned:
    """The plan of fifteen blocks: two moulds of two cavities, one of sides with two bases."""
    return load_as_planned(small_folder)


@pytest.fixture
def recorder(small: AsPlanned, tmp_path: Path) -> Recorder:
    """At the end of Wednesday, 21 April, with nothing recorded."""
    return Recorder(small, tmp_path / FILE, NOW, NOW.replace(tzinfo=UTC))


@pytest.fixture
def in_us(small: AsPlanned, tmp_path: Path) -> Recorder:
    """The same yard with a site in US units."""
    site = small.site.model_copy(update={"units": "US"})
    return Recorder(replace(small, site=site), tmp_path / FILE, NOW, NOW.replace(tzinfo=UTC))


Record = Callable[..., Recorded]


@pytest.fixture
def record(recorder: Recorder) -> Record:
    """Type words, at a moment if told."""
    number = iter(range(1000))

    def typed(
        words: str, at: str | None = None, key: str = "", measured: Measured | None = None, remark: str = ""
    ) -> Recorded:
        said, key = tuple(words.split()), key or f"key {next(number)}"
        return recorder.record(Typed(said, key, at, remark=remark, measured=measured or Measured()))

    return typed
