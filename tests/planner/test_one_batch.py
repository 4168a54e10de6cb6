from __future__ import annotations

import json
import shutil
from datetime import datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.one_batch import load_one_batch


def test_a_batch_of_a_saved_plan(small_folder: Path) -> None:
    site, order, batch = load_one_batch(small_folder, 4)
    assert (site.name, order.name) == ("Hand yard", "Garden wall")
    assert (batch.batch, batch.mixer, batch.mix, batch.bags) == (4, "drum", "heavy", 2.5)
    assert batch.foam_at == datetime.fromisoformat("2027-04-08T09:28")


def test_a_batch_that_is_not_there_says_which_are(small_folder: Path) -> None:
    with pytest.raises(BadInput, match="no batch 5") as refused:
        load_one_batch(small_folder, 5)
    assert refused.value.todo == "It has the batches 1 to 4."


def test_a_folder_without_a_plan_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match="no plan is saved here"):
        load_one_batch(tmp_path, 1)


@pytest.mark.parametrize(
    "said", ["not json", "[]", "{}", json.dumps({"files": {"site": 1}, "references": {"site": {}}})]
)
def test_a_plan_whose_facts_are_spoilt_is_told(small_folder: Path, tmp_path: Path, said: str) -> None:
    folder = shutil.copytree(small_folder, tmp_path / "plan")
    (folder / "plan.json").write_text(said, encoding="utf-8")
    with pytest.raises(BadPlan, match="is not what says how a plan was made"):
        load_one_batch(folder, 1)


def test_a_batch_whose_row_is_spoilt_is_told_with_its_place(small_folder: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(small_folder, tmp_path / "plan")
    table = folder / "batches.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("2027-04-05T08:10", "eight"), encoding="utf-8")
    with pytest.raises(BadPlan, match="eight stands where a time such as 2027-04-05T09:10 is due") as refused:
        load_one_batch(folder, 1)
    assert refused.value.line == 2
