"""What a plan would refuse is told all at once, at its place, by whoever asks."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from blockrun import load_order, load_site
from blockrun.errors import BadInput
from blockrun.planner.inputs import check_inputs, faults_of_inputs
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.wanted import wanted


@pytest.fixture
def faults(small_folder: Path, tmp_path: Path):
    """What is wrong with the small yard and its order once these words of its files are others."""
    inputs = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))

    def of(*changes: tuple[str, str, str]) -> list[BadInput]:
        for file, old, new in changes:
            text = (inputs / file).read_text(encoding="utf-8")
            assert old in text
            (inputs / file).write_text(text.replace(old, new, 1), encoding="utf-8")
        site, order = load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml")
        return [fault for found in faults_of_inputs(site, order, wanted(site, order)) for fault in found.all()]

    return of


DENSITY = ("order.yaml", "name: light, oven_dry_density: 600 kg/m3")


def placed(fault: BadInput) -> tuple[str, int | None]:
    return Path(fault.file or "").name, fault.line


def test_sound_inputs_have_none(faults) -> None:
    assert faults() == []


def test_faults_of_moulds_stock_and_mixes_are_told_together(faults) -> None:
    found = faults(
        ("wall.csv", "thin,600,300,100", "thin,600,300,90"),
        ("site.yaml", "2027-04-08, bags", "2027-04-01, bags"),
        (*DENSITY, "name: light, oven_dry_density: 2600 kg/m3"),
    )
    assert [placed(fault)[0] for fault in found] == ["wall.csv", "site.yaml", "order.yaml"]
    assert len(BadInput.of(found).all()) == 3


def test_a_mix_that_is_nearly_all_foam_has_its_density_blamed_and_not_the_bag_step(faults) -> None:
    (fault,) = faults((*DENSITY, "name: light, oven_dry_density: 60 kg/m3"))
    assert placed(fault) == ("order.yaml", 4)
    assert "Is the oven_dry_density right? At 60 kg/m3 dry, 96 % of the mix is foam" in fault.todo
    assert "bag_step" not in fault.todo


def test_a_bag_step_too_coarse_for_a_usual_mix_is_blamed_itself(faults) -> None:
    coarse = faults(("site.yaml", "bag_step: 1/2", "bag_step: 8"))
    assert {fault.todo for fault in coarse} == {"Write a smaller bag_step, or take a mixer that holds more."}


def test_a_mix_that_cannot_be_made_is_told_with_its_line_by_whoever_needs_it(small_folder: Path, tmp_path: Path):
    site = load_site(small_folder / "inputs" / "site.yaml")
    text = (small_folder / "inputs" / "order.yaml").read_text(encoding="utf-8")
    (tmp_path / "order.yaml").write_text(text.replace("600 kg/m3", "2600 kg/m3"), encoding="utf-8")
    order = load_order(tmp_path / "order.yaml", files={"wall.csv": small_folder / "inputs" / "wall.csv"})
    with pytest.raises(BadInput, match="no room for foam") as caught:
        mix_proportions(site, order)
    assert placed(caught.value) == ("order.yaml", 4)


def test_a_plan_is_refused_with_every_fault_once(small_folder: Path, tmp_path: Path):
    inputs = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
    table = (inputs / "wall.csv").read_text(encoding="utf-8")
    (inputs / "wall.csv").write_text(table.replace("thin,600", "thin,650").replace("half,290", "half,790"))
    site, order = load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml")
    with pytest.raises(BadInput) as caught:
        check_inputs(site, order, wanted(site, order))
    assert [fault.value for fault in caught.value.all()] == ["half", "thin"]
