from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import blockrun
from blockrun.errors import BadPlan
from blockrun.planner.plan import Plan


def test_a_plan_is_read_audited_and_saved_from_python(small_folder: Path, tmp_path: Path) -> None:
    plan: Plan = blockrun.load_plan(small_folder)
    assert blockrun.audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []
    blockrun.save_plan(plan, tmp_path / "copy")
    assert len(blockrun.load_plan(tmp_path / "copy").tables.casts) == 15


def test_a_plan_that_its_audit_refuses_is_not_saved_from_python(small_folder: Path, tmp_path: Path) -> None:
    plan: Plan = blockrun.load_plan(small_folder)
    plan.tables.casts.loc[0, "strip"] = plan.tables.casts.loc[0, "poured"]
    with pytest.raises(BadPlan, match="this plan fails its audit, and is not saved"):
        blockrun.save_plan(plan, tmp_path / "copy")
    assert not (tmp_path / "copy").exists()


@pytest.mark.parametrize("swapped", [True, False])
def test_what_is_no_site_or_no_order_is_told_in_words(small_folder: Path, swapped: bool) -> None:
    site, order = (blockrun.load_plan(small_folder).site, small_folder / "inputs" / "order.yaml")
    said = "site is PosixPath, and what blockrun.load_site returns" if swapped else "order is PosixPath, and"
    with pytest.raises(TypeError, match=said):
        blockrun.make_plan(*((order, site) if swapped else (site, order)))


def test_site_and_order_are_read_from_python(small_folder: Path) -> None:
    site = blockrun.load_site(small_folder / "inputs" / "site.yaml")
    order = blockrun.load_order(small_folder / "inputs" / "order.yaml")
    assert sum(line.count for line in blockrun.takeoff(order, site.calendar)) == 11


def test_every_name_promised_is_there() -> None:
    assert all(callable(getattr(blockrun, name)) for name in blockrun.__all__)
    assert set(blockrun.__all__) <= set(dir(blockrun))


def test_a_name_not_there_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="blockrun has no 'paln'"):
        _ = blockrun.paln


def test_the_version_is_that_of_the_build_file() -> None:
    build = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8"))
    assert build["tool"]["hatch"]["version"]["path"] == "blockrun/__init__.py"
    assert "version" in build["project"]["dynamic"]
