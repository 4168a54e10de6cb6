from __future__ import annotations

from pathlib import Path

import pytest

from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.saved import load_plan
from blockrun.yard.replan.kept import Kept

PLANS = Path(__file__).parents[2] / "plans"


def kept(name: str) -> Kept:
    """A plan that lies among the tests."""
    return Kept(load_as_planned(PLANS / name), load_plan(PLANS / name))


@pytest.fixture(scope="session")
def small_kept() -> Kept:
    return kept("small")


@pytest.fixture(scope="session", params=["small", "demo", "slabs"])
def any_kept(request: pytest.FixtureRequest) -> Kept:
    return kept(request.param)


@pytest.fixture(scope="session")
def slabs_kept() -> Kept:
    return kept("slabs")
