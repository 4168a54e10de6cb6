from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.as_planned import found_name, load_as_planned
from blockrun.planner.begun.facts import FILE, BatchPoured, Begun
from blockrun.planner.label_code import plan_id
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan


def test_it_says_what_the_tables_say(small_folder: Path, small_plan: Plan) -> None:
    casts = load_as_planned(small_folder).casts
    rows = small_plan.tables.casts
    for name in ("part", "mark", "mix", "spare", "mould", "base", "turn", "cavity", "batch", "rack"):
        assert [getattr(cast, name) for cast in casts] == rows[name].tolist()
    for name in ("poured", "strip", "rack_to", "ready"):
        assert [getattr(cast, name) for cast in casts] == [moment.to_pydatetime() for moment in rows[name]]
    assert [cast.course or 0 for cast in casts] == rows["course"].fillna(0).tolist()
    assert [cast.needed is None for cast in casts] == rows["needed"].isna().tolist()


def test_moulds_and_bases_that_no_pour_fills_are_known_too(small_folder: Path) -> None:
    names = load_as_planned(small_folder).moulds
    assert names == {"gang-2/01", "gang-2/02", "tray-1/01", "tray-1/b01", "tray-1/b02"}


def test_a_batch_poured_before_the_plan_was_made_is_recorded_by_the_plan_of_then(
    small_folder: Path, tmp_path: Path
) -> None:
    folder = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    poured = datetime.fromisoformat("2027-04-05T08:24")
    before = BatchPoured(number=1, plan="1234", was=7, mixer="drum", mix="light", bags=3.5, poured=poured)
    (folder / "inputs" / FILE).write_text(Begun(since=poured, batches=(before,)).text(), encoding="utf-8")
    plan = load_as_planned(folder)
    assert (plan.recorded_as(1), plan.recorded_as(2)) == (("1234", 7), (plan.id, 2))


def test_domes_are_told_by_the_order(small_folder: Path) -> None:
    plans = small_folder.parent
    assert load_as_planned(plans / "drawn").domes == {"oven"}
    assert load_as_planned(small_folder).domes == frozenset()


@pytest.mark.parametrize("written", ["gang-2/1", "GANG-2/01", "gang-2/01"])
def test_a_name_may_be_written_short(written: str) -> None:
    assert found_name(written, ["gang-2/01", "gang-2/11"]) == "gang-2/01"


def test_a_name_that_is_none_is_not_found() -> None:
    assert found_name("eastt", ["east", "west"]) is None


def test_a_mould_of_a_kind_that_is_gone_is_told(small_folder: Path) -> None:
    with pytest.raises(BadInput, match="has no moulds gang-9"):
        load_as_planned(small_folder).kind_of("gang-9/01")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("2027-04-06T13:00,east", "soon,east", "2:62: strip: soon stands where a time such as 2027-04-05T09:10 is due"),
        (",2027-05-04\n", "\n", "2:134: the row ends after 18 cells, and 19 are due, the empty ones too"),
    ],
)
def test_a_table_that_was_spoilt_is_told_at_its_place(
    tmp_path: Path, small_folder: Path, old: str, new: str, told: str
) -> None:
    plan = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    casts = plan / "casts.csv"
    casts.write_text(casts.read_text("utf-8").replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BadPlan, match=f"casts.csv:{told}") as by_days:
        load_plan(plan)
    with pytest.raises(BadPlan, match=f"casts.csv:{told}") as by_record:
        load_as_planned(plan)
    assert str(by_record.value) == str(by_days.value)


def test_a_folder_without_a_plan_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match="no plan is saved here"):
        load_as_planned(tmp_path)


def test_it_is_told_from_other_plans_as_its_labels_tell_it(small_folder: Path, small_plan: Plan) -> None:
    assert load_as_planned(small_folder).id == plan_id(small_plan)


@pytest.mark.parametrize(("old", "new"), [("1,drum,light", "9,drum,light"), ("1,drum,light", "1,drum,lean")])
def test_batches_that_do_not_fit_its_blocks_or_mixes_are_told(
    small_folder: Path, tmp_path: Path, old: str, new: str
) -> None:
    folder = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    table = folder / "batches.csv"
    table.write_text(table.read_text().replace(old, new, 1))
    with pytest.raises(BadPlan, match="the tables of the plan do not fit together"):
        _ = load_as_planned(folder).uses
