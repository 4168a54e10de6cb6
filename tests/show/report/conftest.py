from __future__ import annotations

from pathlib import Path
from typing import Final

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.show.report.page import report_page
from tests.show.report.read import Page, rows_of_casts

DRAWN: Final = Path(__file__).parents[2] / "plans" / "drawn"


@pytest.fixture(scope="session")
def drawn_plan() -> Plan:
    """A saved plan of a list, a straight wall, a building with a pier, and a dome, late; names that must be escaped."""
    return load_plan(DRAWN)


@pytest.fixture(scope="session")
def drawn_casts() -> list[dict[str, str]]:
    """Its rows of casts.csv, as text."""
    return rows_of_casts(DRAWN)


@pytest.fixture(scope="session")
def drawn_page(drawn_plan: Plan) -> Page:
    return Page(report_page(drawn_plan))


@pytest.fixture(scope="session")
def solid_page(drawn_plan: Plan) -> Page:
    return Page(report_page(drawn_plan, solid=True))
