from __future__ import annotations

import dataclasses
import json
import shutil
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import BadInput, BadPlan
from blockrun.order import digest_order, load_order, takeoff
from blockrun.planner.as_read import AsRead
from blockrun.planner.as_saved import as_text
from blockrun.planner.audit import audit
from blockrun.planner.cells import CellError, as_values
from blockrun.planner.columns import COLUMNS
from blockrun.planner.folder import check_free
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan, save_plan
from blockrun.planner.tables import PlanTables, Stage
from blockrun.site import digest_site, load_site

KEPT = [
    "batches.csv",
    "casts.csv",
    "cubes.csv",
    "inputs",
    "materials.csv",
    "plan.json",
    "run.json",
    "sawing.csv",
    "tasks.csv",
]


@pytest.fixture
def folder(small_folder: Path, tmp_path: Path) -> Path:
    """The small plan, free to be spoilt."""
    return Path(shutil.copytree(small_folder, tmp_path / "small"))


def spoil(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def with_tables(plan: Plan, **tables: pd.DataFrame) -> Plan:
    return dataclasses.replace(plan, tables=dataclasses.replace(plan.tables, **tables))


def inputs_of(plan: Plan) -> tuple[str, str]:
    """What site and order say, without where they were read from."""
    return digest_site(plan.site), digest_order(plan.order, takeoff(plan.order, plan.site.calendar))


def test_the_plan_made_by_hand_passes_the_audit(small_plan: Plan) -> None:
    plan = small_plan
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []


def test_saving_and_loading_is_identity(small_plan: Plan, tmp_path: Path) -> None:
    save_plan(small_plan, tmp_path / "again")
    again = load_plan(tmp_path / "again")
    for name in COLUMNS:
        pd.testing.assert_frame_equal(getattr(again.tables, name), getattr(small_plan.tables, name))
    assert again.stages == small_plan.stages
    assert again.warnings == small_plan.warnings
    assert again.totals == small_plan.totals
    assert inputs_of(again) == inputs_of(small_plan)


def test_all_but_the_run_is_the_same_bytes_again(small_plan: Plan, small_folder: Path, tmp_path: Path) -> None:
    save_plan(small_plan, tmp_path / "again", run={"seconds": 12.5})
    for file in sorted(small_folder.rglob("*.*")):
        again = tmp_path / "again" / file.relative_to(small_folder)
        if file.name == "run.json":
            assert json.loads(again.read_text(encoding="utf-8")) == {"seconds": 12.5}
        else:
            assert again.read_bytes() == file.read_bytes(), file.name


def test_a_plan_stands_alone_when_the_originals_are_gone(folder: Path, tmp_path: Path) -> None:
    save_plan(load_plan(folder), tmp_path / "alone")
    shutil.rmtree(folder)
    plan = load_plan(tmp_path / "alone")
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []


def test_files_of_one_name_from_two_folders_are_both_kept(small_plan: Plan, folder: Path, tmp_path: Path) -> None:
    inputs = folder / "inputs"
    for name in ("yard", "house"):
        (tmp_path / name).mkdir()
    shutil.copy(inputs / "weather.csv", tmp_path / "yard" / "data.csv")
    shutil.copy(inputs / "wall.csv", tmp_path / "house" / "data.csv")
    shutil.copy(inputs / "site.yaml", tmp_path / "site.yaml")
    shutil.copy(inputs / "order.yaml", tmp_path / "order.yaml")
    spoil(tmp_path / "site.yaml", "weather: weather.csv", "weather: yard/data.csv")
    spoil(tmp_path / "order.yaml", "wall.csv", "house/data.csv")
    site, order = load_site(tmp_path / "site.yaml"), load_order(tmp_path / "order.yaml")
    plan = dataclasses.replace(small_plan, site=site, order=order)
    save_plan(plan, tmp_path / "out")
    assert sorted(file.name for file in (tmp_path / "out" / "inputs").iterdir()) == [
        "data-2.csv", "data.csv", "order.yaml", "site.yaml",
    ]  # fmt: skip
    assert inputs_of(load_plan(tmp_path / "out")) == inputs_of(plan)


def test_an_input_changed_since_it_was_read_stops_the_saving(folder: Path, tmp_path: Path) -> None:
    plan = load_plan(folder)
    spoil(folder / "inputs" / "site.yaml", "overfill: 3 %", "overfill: 4 %")
    with pytest.raises(BadInput, match="the site has changed since the plan began to be made"):
        save_plan(plan, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_plan_is_saved_with_its_files_as_they_were_read_whatever_becomes_of_them(
    folder: Path, tmp_path: Path
) -> None:
    plan = load_plan(folder)
    files = AsRead.of(plan.site.sources, plan.order.sources)
    assert files.changed() == []
    spoil(folder / "inputs" / "site.yaml", "overfill: 3 %", "overfill: 4 %")
    (folder / "inputs" / "wall.csv").unlink()
    assert {path.name for path in files.changed()} == {"site.yaml", "wall.csv"}
    save_plan(plan, tmp_path / "out", files=files)
    assert inputs_of(load_plan(tmp_path / "out")) == inputs_of(plan)


def test_an_input_gone_since_it_was_read_stops_the_saving(folder: Path, tmp_path: Path) -> None:
    plan = load_plan(folder)
    (folder / "inputs" / "wall.csv").unlink()
    with pytest.raises(BadInput, match="cannot be read again, so nothing was saved"):
        save_plan(plan, tmp_path / "out")
    assert list(tmp_path.iterdir()) == [folder]


def test_an_existing_plan_is_replaced_only_when_asked(small_plan: Plan, folder: Path) -> None:
    (folder / "old.txt").write_text("old", encoding="utf-8")
    with pytest.raises(BadInput, match="exists already"):
        save_plan(small_plan, folder)
    assert (folder / "old.txt").exists()
    save_plan(small_plan, folder, replace=True)
    assert sorted(file.name for file in folder.iterdir()) == sorted([*KEPT, "old.txt"])


def test_a_folder_that_holds_no_plan_is_never_replaced(small_plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "letters.txt").write_text("dear", encoding="utf-8")
    with pytest.raises(BadInput, match="will not be replaced"):
        save_plan(small_plan, tmp_path, replace=True)
    with pytest.raises(BadInput, match="will not be replaced"):
        check_free(tmp_path, replace=True)
    assert [file.name for file in tmp_path.iterdir()] == ["letters.txt"]


def test_a_number_that_is_not_finite_is_never_saved(small_plan: Plan, tmp_path: Path) -> None:
    batches = small_plan.tables.batches.assign(foam_l=float("nan"))
    with pytest.raises(BadPlan, match="a value of foam_l is nan"):
        save_plan(with_tables(small_plan, batches=batches), tmp_path / "out")
    with pytest.raises(BadPlan, match="finite"):
        save_plan(dataclasses.replace(small_plan, totals={"cement_kg": float("inf")}), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_time_with_seconds_is_never_saved(small_plan: Plan, tmp_path: Path) -> None:
    tasks = small_plan.tables.tasks.copy()
    tasks["end"] = (tasks["end"] + pd.Timedelta(seconds=1)).astype("datetime64[s]")
    with pytest.raises(BadPlan, match="a value of end is not a whole minute"):
        save_plan(with_tables(small_plan, tasks=tasks), tmp_path / "out")


def test_a_table_of_other_columns_or_types_is_never_saved(small_plan: Plan, tmp_path: Path) -> None:
    batches = small_plan.tables.batches
    for wrong in (batches.drop(columns="bags"), batches.astype({"batch": "float64"}), batches[batches.columns[::-1]]):
        with pytest.raises(BadPlan, match="the table batches does not have its columns and types"):
            save_plan(with_tables(small_plan, batches=wrong), tmp_path / "out")


def test_a_stage_keeps_to_its_kind(small_plan: Plan, tmp_path: Path) -> None:
    stages = (Stage("batches", 4.5, 4, proven=False),)
    with pytest.raises(BadPlan, match="batches is a int"):
        save_plan(dataclasses.replace(small_plan, stages=stages), tmp_path / "out")


@pytest.mark.parametrize(
    ("file", "old", "new", "said", "line"),
    [
        ("casts.csv", ",false,", ",no,", "spare: no stands where true or false is due", 2),
        ("casts.csv", "2027-04-05T08:24,", "2027-04-05 08:24,", "poured: 2027-04-05 08:24 stands where a time", 2),
        ("casts.csv", "2027-04-05T08:24,", ",", "poured: nothing stands where a time", 2),
        ("casts.csv", "2027-05-04\n", "2027-13-04\n", "needed: 2027-13-04 stands where a real one is due", 2),
        ("batches.csv", ",87.5,", ",8.75e1,", "cement_kg: 8.75e1 stands where a plain decimal number is due", 2),
        ("batches.csv", ",87.5,", ",nan,", "cement_kg: nan stands where", 2),
        ("tasks.csv", "sides,1,", "sides,one,", "people: one stands where a whole number is due", 4),
        ("materials.csv", "2027-04-06,", "2027-04-06T00:00,", "day: 2027-04-06T00:00 stands where a date", 3),
        ("materials.csv", "day,", "date,", "these are not the columns of the table", 1),
    ],
)
def test_a_wrong_cell_is_shown_at_its_place(folder: Path, file: str, old: str, new: str, said: str, line: int) -> None:
    spoil(folder / file, old, new)
    with pytest.raises(BadPlan) as caught:
        load_plan(folder)
    assert said in str(caught.value)
    assert (caught.value.file, caught.value.line) == (str(folder / file), line)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"format": 1', '"format": 0', "format: input should be 1"),
        ('"format": 1', '"format": "2"', "format: input should be 1"),
        ('"seed": 0,', "", "seed: field required"),
        ('"seed": 0,', '"seed": "none",', "seed: a number is due here"),
        ('"cement_kg": 275.0', '"cement_kg": "much"', "totals.cement_kg: a number is due here"),
        ('"proven": true', '"proven": "yes"', "proven"),
        ('"value": 4,', '"value": "four",', "stages.2.value"),
        ('"cement_kg": 275.0', '"cement_kg": NaN', "finite"),
        ('"site": "inputs/site.yaml",', "", "files says nothing of the site"),
        ("{", "[", "JSON"),
    ],
)
def test_a_spoilt_plan_json_is_refused(folder: Path, old: str, new: str, said: str) -> None:
    spoil(folder / "plan.json", old, new)
    with pytest.raises(BadPlan) as caught:
        load_plan(folder)
    assert said in str(caught.value)
    assert caught.value.file == str(folder / "plan.json")


def test_inputs_changed_in_a_saved_plan_are_noticed(folder: Path) -> None:
    spoil(folder / "inputs" / "wall.csv", "full,600,300,200,4", "full,600,300,200,5")
    with pytest.raises(BadPlan, match="the order kept here is not the one the plan was made from"):
        load_plan(folder)


def test_a_table_changed_since_it_was_saved_is_named(folder: Path) -> None:
    assert load_plan(folder).changed == ()
    spoil(folder / "casts.csv", "gang-2/01", "gang-2/02")
    assert load_plan(folder).changed == ("casts.csv",)


def test_tables_as_they_were_saved_are_not_written_anew_to_be_compared(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def anew(_: PlanTables) -> dict[str, str]:
        raise AssertionError("written anew")

    monkeypatch.setattr("blockrun.planner.saved.texts_of", anew)
    assert load_plan(folder).changed == ()


def test_a_table_saved_again_with_the_same_cells_is_unchanged(folder: Path) -> None:
    text = (folder / "tasks.csv").read_text(encoding="utf-8")
    (folder / "tasks.csv").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert load_plan(folder).changed == ()


def test_rows_in_another_order_are_the_same_inputs(folder: Path) -> None:
    path = folder / "inputs" / "wall.csv"
    header, *rows = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join([header, *reversed(rows)]) + "\n", encoding="utf-8")
    assert load_plan(folder).order.name == "Garden wall"


CUBES = """mix,age_d,dry_density_kg_m3,strength_mpa
light,7,505,1.1
light,28,500,1.6
heavy,28,700,3.4
"""


def test_a_plan_is_held_to_the_mix_of_its_cubes(small_plan: Plan, folder: Path, tmp_path: Path) -> None:
    site = folder / "inputs" / "site.yaml"
    (site.parent / "cubes.csv").write_text(CUBES, encoding="utf-8")
    spoil(site, "  strip_at: 24 h\n", "  strip_at: 24 h\n  cubes: cubes.csv\n")
    save_plan(dataclasses.replace(small_plan, site=load_site(site)), tmp_path / "now")
    load_plan(tmp_path / "now")
    spoil(tmp_path / "now" / "inputs" / "cubes.csv", "light,7", "heavy,7")
    with pytest.raises(BadPlan, match="the site kept here is not the one"):
        load_plan(tmp_path / "now")


def test_a_table_without_its_rows_is_to_be_put_back_not_written_in(folder: Path) -> None:
    casts = folder / "casts.csv"
    casts.write_text(casts.read_text(encoding="utf-8").splitlines()[0] + "\n", encoding="utf-8")
    with pytest.raises(BadPlan, match="has a header and no rows") as caught:
        load_plan(folder)
    assert "put the file back as it was" in str(caught.value)
    assert "below the header" not in str(caught.value)


@pytest.mark.parametrize("file", ["casts.csv", "plan.json", "inputs/site.yaml"])
def test_a_missing_file_is_named(folder: Path, file: str) -> None:
    (folder / file).unlink()
    with pytest.raises(BadPlan) as caught:
        load_plan(folder)
    assert Path(file).name in str(caught.value) or file == "plan.json"


def test_a_folder_without_a_plan_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match="no plan is saved here") as caught:
        load_plan(tmp_path)
    assert "blockrun plan SITE ORDER" in str(caught.value)


def test_a_folder_that_is_not_there_says_so(tmp_path: Path) -> None:
    with pytest.raises(BadPlan, match="there is no such folder"):
        load_plan(tmp_path / "nowhere")


def test_the_folder_around_a_plan_names_the_plan_in_it(folder: Path) -> None:
    with pytest.raises(BadPlan, match="no plan is saved here") as caught:
        load_plan(folder.parent)
    assert caught.value.todo == f"Give the folder of a plan: {folder}"


@pytest.mark.parametrize("file", ["plan.json", "casts.csv"])
def test_a_file_of_a_plan_names_the_folder_it_lies_in(folder: Path, file: str) -> None:
    with pytest.raises(BadPlan, match="is a file, and a plan is saved as a folder") as caught:
        load_plan(folder / file)
    assert caught.value.todo == f"Give the folder of a plan: {folder}"


def test_a_folder_that_may_not_be_looked_into_says_so(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def locked(path: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "is_file", locked)
    with pytest.raises(BadPlan, match="cannot be opened: Permission denied"):
        load_plan(folder)


def test_a_plan_of_a_later_version_names_that_version(folder: Path) -> None:
    facts = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    facts |= {"format": 2, "blockrun": "3.1.0", "rain": "new"}
    (folder / "plan.json").write_text(json.dumps(facts), encoding="utf-8")
    with pytest.raises(BadPlan, match=r"saved by blockrun 3\.1\.0, in a form that .* does not know yet") as caught:
        load_plan(folder)
    assert "Open it with that version or a later one" in str(caught.value)


FullDisk = Callable[[int], AbstractContextManager[None]]


@pytest.mark.parametrize("room", [200, 1500])
def test_a_full_disk_saves_no_half_plan_and_keeps_the_old_one(folder: Path, full_disk: FullDisk, room: int) -> None:
    plan = load_plan(folder)
    was = {file: file.read_bytes() for file in folder.rglob("*.*")}
    with full_disk(room), pytest.raises(BadInput, match="File too large") as caught:
        save_plan(plan, folder, replace=True)
    assert "Make room on the disk" in str(caught.value)
    assert {file: file.read_bytes() for file in folder.rglob("*.*")} == was
    assert list(folder.parent.iterdir()) == [folder]


def test_a_disk_that_is_full_when_the_inputs_are_copied_is_not_taken_for_inputs_gone(
    folder: Path, full_disk: FullDisk, tmp_path: Path
) -> None:
    plan = load_plan(folder)
    site = folder / "inputs" / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8") + "#" * 20_000, encoding="utf-8")
    with full_disk(10_000), pytest.raises(BadInput, match="cannot be written: File too large"):
        save_plan(plan, tmp_path / "out")
    assert list(tmp_path.iterdir()) == [folder]


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False)))
def test_every_finite_number_reads_back_exactly_and_without_an_exponent(numbers: list[float]) -> None:
    cells = as_text(pd.Series(numbers, name="foam_l", dtype="float64"))
    assert not any("e" in cell for cell in cells)
    assert as_values("foam_l", "float64", cells) == numbers


@given(st.lists(st.datetimes(min_value=pd.Timestamp(2000, 1, 1), max_value=pd.Timestamp(2199, 12, 31))))
def test_every_minute_reads_back(moments: list[pd.Timestamp]) -> None:
    minutes = [moment.replace(second=0, microsecond=0) for moment in moments]
    cells = as_text(pd.Series(minutes, name="poured", dtype="datetime64[s]"))
    assert as_values("poured", "datetime64[s]", cells) == minutes


def test_the_first_wrong_cell_of_a_column_is_the_one_told() -> None:
    with pytest.raises(CellError, match="a whole number is due") as caught:
        as_values("turn", "int64", ["1", "2", "x", "y"])
    assert caught.value.index == 2


def test_tables_of_a_saved_plan_have_their_columns_and_types(small_plan: Plan) -> None:
    tables: PlanTables = small_plan.tables
    for name, due in COLUMNS.items():
        assert getattr(tables, name).dtypes.astype(str).to_dict() == due
