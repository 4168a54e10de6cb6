"""Good plans, fresh for each test; each test breaks one thing in one of them."""

import pytest
import yard_of_slabs
import yard_with_bases
import yard_with_cubes
import yard_without_bases
from written_plan import WrittenPlan


@pytest.fixture
def plain() -> WrittenPlan:
    return yard_without_bases.the_plan()


@pytest.fixture
def based() -> WrittenPlan:
    return yard_with_bases.the_plan()


@pytest.fixture
def sawn() -> WrittenPlan:
    return yard_of_slabs.the_plan()


@pytest.fixture
def cubed() -> WrittenPlan:
    return yard_with_cubes.the_plan()
