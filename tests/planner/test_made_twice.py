"""A plan made from files, saved, loaded, and made again."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from blockrun.errors import OutOfRange
from blockrun.order import load_order
from blockrun.planner import Plan, make_plan
from blockrun.planner.audit import audit
from blockrun.planner.columns import COLUMNS
from blockrun.planner.saved import load_plan, save_plan
from blockrun.site import load_site


def made(small_folder: Path, rounds: int = 0) -> Plan:
    inputs = small_folder / "inputs"
    return make_plan(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), rounds=rounds)


@pytest.fixture(scope="module")
def once(small_folder: Path) -> Plan:
    return made(small_folder)


def test_a_plan_is_the_same_when_loaded(once: Plan, tmp_path: Path) -> None:
    save_plan(once, tmp_path / "plan")
    again = load_plan(tmp_path / "plan")
    for name in COLUMNS:
        pd.testing.assert_frame_equal(getattr(again.tables, name), getattr(once.tables, name))
    assert (again.stages, again.warnings, again.totals) == (once.stages, once.warnings, once.totals)
    assert audit(again.site, again.order, again.tables, list(again.stages), again.totals) == []


def test_a_plan_made_twice_is_the_same_bytes_but_for_the_run(once: Plan, small_folder: Path, tmp_path: Path) -> None:
    save_plan(once, tmp_path / "one", run={"seconds": 1})
    save_plan(made(small_folder), tmp_path / "two", run={"seconds": 2})
    kept = [
        {file.relative_to(folder): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
        for folder in (tmp_path / "one", tmp_path / "two")
    ]
    runs = [files.pop(Path("run.json")) for files in kept]
    assert kept[0] == kept[1]
    assert len(kept[0]) >= 9
    assert runs[0] != runs[1]


def test_less_than_no_rounds_are_refused(small_folder: Path) -> None:
    with pytest.raises(OutOfRange, match="rounds is under 0"):
        made(small_folder, rounds=-1)


def test_looking_ahead_is_no_worse_than_the_plan_made_by_hand(small_folder: Path, small_plan: Plan) -> None:
    ahead = made(small_folder, rounds=1)
    assert [stage.value for stage in ahead.stages] <= [stage.value for stage in small_plan.stages]
