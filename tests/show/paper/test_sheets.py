"""Who prints a whole season at once is told what that takes, and how to print a week."""

from __future__ import annotations

from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.paper import sheets
from blockrun.show.paper.asked import Asked


def test_many_days_at_once_are_told_with_how_to_print_a_week(demo_plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    assert sheets.long_said(Asked(demo_plan)) == ""
    monkeypatch.setattr(sheets, "SOON_PRINTED", 2)
    said = sheets.long_said(Asked(demo_plan))
    assert said.startswith("Pages of ")
    assert said.endswith("those of a week take seconds: add --from 2027-04-05 --to 2027-04-11")
    assert sheets.long_said(Asked(demo_plan, date(2027, 4, 5), date(2027, 4, 6))) == ""
    assert sheets.long_said(Asked(demo_plan), ("blocks", "materials")) == ""
