from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest
from hypothesis import settings

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan

settings.register_profile("blockrun", deadline=None)  # the machines that run these tests have other work too
settings.load_profile("blockrun")

PLANS: Final = Path(__file__).parent / "plans"


@pytest.fixture(scope="session")
def small_folder() -> Path:
    """A saved plan made by hand: fifteen blocks, four batches, two kinds of mould, one with bases."""
    return PLANS / "small"


@pytest.fixture(scope="session")
def small_plan(small_folder: Path) -> Plan:
    return load_plan(small_folder)
