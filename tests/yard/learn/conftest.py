from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.learned import Finding, Lessons

PLANS = Path(__file__).parents[2] / "plans"


@pytest.fixture(scope="session")
def plan_named() -> Callable[[str], AsPlanned]:
    return lambda name: load_as_planned(PLANS / name)


@pytest.fixture(scope="session")
def demo() -> AsPlanned:
    """392 blocks in 60 batches: moulds without bases and with, cold days."""
    return load_as_planned(PLANS / "demo")


@pytest.fixture
def about() -> Callable[[Lessons, str], Finding]:
    """The finding about something."""
    return lambda lessons, name: next(one for one in lessons.findings if one.about == name)
