"""A file that is saved anew while a plan is made: the plan is of what was read, and says so."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.planner.as_read import AsRead
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from tests.conftest import PLANS


@pytest.mark.parametrize("edited", [True, False])
def test_a_plan_is_saved_though_the_site_was_edited_meanwhile(
    edited: bool, small_plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inputs = Path(shutil.copytree(PLANS / "small" / "inputs", tmp_path / "inputs"))
    site_yaml = inputs / "site.yaml"

    def planned(read: Callable[[], Any], save: Callable[..., None], *_: object, **__: object) -> Plan:
        site, order, _ = read()
        files = AsRead.of(site.sources, order.sources)
        if edited:
            site_yaml.write_text(site_yaml.read_text().replace("overfill: 3 %", "overfill: 4 %"), encoding="utf-8")
        made = replace(small_plan, site=site, order=order)
        save(made, None, {}, files)
        return made

    monkeypatch.setattr("blockrun.cli.making.planned", planned)
    words = ["plan", str(site_yaml), str(inputs / "order.yaml"), "--out", str(tmp_path / "out")]
    result = CliRunner().invoke(app, words, env={"COLUMNS": "40"})
    assert result.exit_code == 0, result.output
    assert load_plan(tmp_path / "out").site.overfill == pytest.approx(0.03)
    said = " ".join(result.output.split())
    told = "site.yaml has changed since the plan began to be made. The plan is of what it was before, kept in it;"
    assert (told in said) == edited
