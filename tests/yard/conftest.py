from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Broken, Cause, ColdSnaps, Rates
from blockrun.planner.saved import load_plan
from blockrun.yard.given import setting_of
from blockrun.yard.setting import Setting

PLANS: Final = Path(__file__).parents[1] / "plans"


@pytest.fixture(scope="session")
def demo() -> Plan:
    return load_plan(PLANS / "demo")


@pytest.fixture(scope="session")
def slabs() -> Plan:
    return load_plan(PLANS / "slabs")


@pytest.fixture(scope="session")
def rates() -> Rates:
    """As by default."""
    return Rates()


@pytest.fixture(scope="session")
def harsh() -> Rates:
    """A yard in which everything goes wrong all the time."""
    return Rates(
        broken=Broken(at_strip=0.05, when_moved=0.03),
        flat_batches=0.15,
        cold_snaps=ColdSnaps(chance=0.15, colder_c=7.0),
        people_away=0.15,
        days_lost=0.12,
    )


@pytest.fixture(scope="session")
def none() -> Rates:
    """Nothing goes wrong."""
    return Rates().without(*Cause)


@pytest.fixture(scope="session")
def setting(demo: Plan, rates: Rates) -> Setting:
    return setting_of(demo, rates)


@pytest.fixture(scope="session")
def small_setting(small_plan: Plan, rates: Rates) -> Setting:
    return setting_of(small_plan, rates)
