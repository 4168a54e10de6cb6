from __future__ import annotations

import dataclasses
import shutil
from pathlib import Path

import pytest

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.planner.sound import load_sound_plan, save_sound_plan


@pytest.fixture
def spoilt(small_folder: Path, tmp_path: Path) -> Path:
    """A saved plan in which somebody typed another rack."""
    folder = Path(shutil.copytree(small_folder, tmp_path / "my plan"))
    casts = (folder / "casts.csv").read_text(encoding="utf-8")
    (folder / "casts.csv").write_text(casts.replace(",east,", ",west,", 1), encoding="utf-8")
    return folder


def test_a_plan_in_which_nothing_is_wrong_is_the_one_that_was_saved(small_folder: Path) -> None:
    sound, saved = load_sound_plan(small_folder), load_plan(small_folder)
    assert sound.tables.casts.equals(saved.tables.casts)
    assert sound.stages == saved.stages


def test_a_plan_that_fails_its_audit_says_what_is_wrong_and_what_to_do(spoilt: Path) -> None:
    with pytest.raises(BadPlan, match=r"this plan fails its audit, and nothing is made of it: .*west") as caught:
        load_sound_plan(spoilt)
    assert caught.value.file == str(spoilt)
    assert f"blockrun audit '{spoilt}'" in str(caught.value)


def test_only_the_first_thing_wrong_is_told_and_the_others_are_counted(spoilt: Path) -> None:
    batches = (spoilt / "batches.csv").read_text(encoding="utf-8").replace(",87.5,", ",97.5,")
    (spoilt / "casts.csv").write_bytes(((spoilt / "casts.csv").read_bytes()).replace(b",west,", b",east,"))
    (spoilt / "batches.csv").write_text(batches, encoding="utf-8")
    with pytest.raises(BadPlan, match=r"; and [1-9][0-9]* more") as caught:
        load_sound_plan(spoilt)
    assert caught.value.what.count("97.5") == 1


def test_a_plan_that_fails_its_audit_is_not_saved_either(spoilt: Path, tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match=r"this plan fails its audit, and is not saved: .*west") as caught:
        save_sound_plan(load_plan(spoilt), tmp_path / "copy")
    assert caught.value.todo == "See all that is wrong with blockrun.audit."
    assert not (tmp_path / "copy").exists()


def test_tables_that_no_file_may_hold_are_told_as_that(small_plan: Plan, tmp_path: Path) -> None:
    tables = dataclasses.replace(small_plan.tables, casts=small_plan.tables.casts.drop(columns="mould"))
    with pytest.raises(BadPlan, match="the table casts does not have its columns"):
        save_sound_plan(dataclasses.replace(small_plan, tables=tables), tmp_path / "copy")


def test_a_sound_plan_is_saved_and_its_place_is_taken_when_python_says_so(small_plan: Plan, tmp_path: Path) -> None:
    save_sound_plan(small_plan, tmp_path / "copy", run={"seconds": 2})
    with pytest.raises(BadInput, match="exists already") as caught:
        save_sound_plan(small_plan, tmp_path / "copy")
    assert caught.value.todo == "Give another name, or say replace=True."
    save_sound_plan(small_plan, tmp_path / "copy", replace=True)
    assert load_plan(tmp_path / "copy").stages == small_plan.stages


def test_what_is_no_plan_is_told_as_ever(tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match="no plan is saved here"):
        load_sound_plan(tmp_path)
