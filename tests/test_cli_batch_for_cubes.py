"""Slabs that fill their batches leave a set of test cubes a batch of its own, and every command can show the plan."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.order import load_order
from blockrun.planner.cubes import cubes_said
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.saved import save_plan
from blockrun.site import load_site
from tests.cubes_yard import cubes_yard

GANGS = """moulds:
  - kind: gang-4
    count: 4
    cavities: 4
    cavity: 600 x 300 x 200 mm           # length x height x thickness
    stop_ends: true                      # may cast shorter blocks
    strip_time: 12 min
"""
SLABS = """moulds:
  - kind: slab
    count: 2
    cavities: 1
    cavity: 1205 x 605 x 195 mm
    saw: {kerf: 5 mm, time: 25 min}
    strip_time: 15 min
"""


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    changed = {GANGS: SLABS, "usable_volume: 180 L": "usable_volume: 160 L"}
    return cubes_yard(tmp_path_factory.mktemp("slabs"), "600,300,195", blocks=8, cubes=3, changed=changed)


@pytest.fixture(scope="module")
def made(yard: Path) -> Plan:
    return make_plan(load_site(yard / "site.yaml"), load_order(yard / "order.yaml"), rounds=0)


@pytest.fixture
def saved(made: Plan, tmp_path: Path) -> Path:
    save_plan(made, tmp_path / "plan")
    return tmp_path / "plan"


def test_a_batch_is_made_for_cubes_alone(made: Plan) -> None:
    assert sorted(set(made.tables.casts["batch"])) == [1, 2]
    assert set(made.tables.cubes["batch"]) == {3}


def test_the_plan_says_so(made: Plan) -> None:
    alone = "1 batch is made for test cubes alone, 75 L for cubes of 3.09 L: the others have no room for them."
    assert alone in made.warnings


def test_of_one_that_was_poured_it_says_nothing(made: Plan) -> None:
    """All the blocks that it gave may have been rejected since."""
    assert not any("for test cubes alone" in said for said in cubes_said(made.site, made.tables, {3}))


@pytest.mark.parametrize(
    "words",
    [
        "days DIR",
        "materials DIR",
        "check DIR --batch 3 --foam 95g/L --weight 806kg/m3",
        "thumb DIR slab/02 dents --at 2027-04-06T15:00",
        "audit DIR",
    ],
)
def test_every_command_shows_it(saved: Path, words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    result = CliRunner().invoke(app, words.replace("DIR", str(saved)).split())
    assert (result.exit_code, result.stderr) == (0, "")


def test_the_day_says_what_is_poured_of_it(saved: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    said = CliRunner().invoke(app, ["days", str(saved)]).output
    _, sheet = said.split("pour batch 3")
    assert "POUR BY 09:18, into\n      - 3 test cubes of 100 mm: set 1, mark them 1-1 to 1-3" in sheet
