"""The table of thumb tests from before the journal is read as it was kept, and says where a hand has made it wrong."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import BadInput
from blockrun.planner.thumb_table import NAMES, ThumbTest, read_thumbs

ONE = ThumbTest(
    pressed=datetime.fromisoformat("2027-04-06T12:30"),
    mould="gang-2/01",
    base="",
    turn=1,
    batches=(1, 2),
    mix="light",
    poured=datetime.fromisoformat("2027-04-05T08:24"),
    age_h=23.72,
    thumb="dents",
    strip_planned=datetime.fromisoformat("2027-04-06T12:50"),
    strip_now=datetime.fromisoformat("2027-04-06T13:10"),
    note="cold",
)
ROW = "2027-04-06T12:30,gang-2/01,,1,1 2,light,2027-04-05T08:24,23.72,dents,2027-04-06T12:50,2027-04-06T13:10,cold"


def written(folder: Path, *rows: str) -> Path:
    file = folder / "thumbs.csv"
    file.write_text("\n".join((",".join(NAMES), *rows)) + "\n", encoding="utf-8")
    return file


def test_a_row_is_a_whole_test(tmp_path: Path) -> None:
    assert read_thumbs(written(tmp_path, ROW)) == [ONE]


@given(st.permutations([ROW.replace("T12:30", f"T{hour}:30") for hour in (12, 13, 14, 15)]))
def test_rows_may_come_in_any_order(tmp_path_factory: pytest.TempPathFactory, rows: list[str]) -> None:
    found = read_thumbs(written(tmp_path_factory.mktemp("kept"), *rows))
    assert [test.pressed.hour for test in found] == [12, 13, 14, 15]


def test_no_file_and_no_rows_hold_no_test(tmp_path: Path) -> None:
    assert read_thumbs(tmp_path / "thumbs.csv") == []
    assert read_thumbs(written(tmp_path)) == []


def test_a_row_that_stands_twice_counts_once(tmp_path: Path) -> None:
    assert len(read_thumbs(written(tmp_path, ROW, ROW))) == 1


def test_two_thumbs_at_one_minute_are_two_tests_the_softer_last(tmp_path: Path) -> None:
    found = read_thumbs(written(tmp_path, ROW.replace("dents", "soft"), ROW))
    assert [test.thumb for test in found] == ["dents", "soft"]


def test_a_sheet_saved_with_semicolons_and_a_comma_in_its_age_is_read(tmp_path: Path) -> None:
    file = tmp_path / "thumbs.csv"
    file.write_text(f"{';'.join(NAMES)}\n{ROW.replace('23.72', '23_72').replace(',', ';').replace('_', ',')}\n")
    assert read_thumbs(file)[0].age_h == 23.72


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ("2027-04-06T12:30", "6.4.27 12:30", "pressed: 6.4.27 12:30 is not a day and a time"),
        ("2027-04-06T12:30", "2027-04-05T08:00", "pressed: lies before the pour"),
        ("gang-2/01", "", "mould: is empty"),
        ("23.72", "-3", "age_h_at_20degC: -3 is not an age in hours"),
        ("dents", "hard", "thumb: hard is not what a thumb shows"),
        ("1 2", "1 x", "batches: x is not a number of a turn or a batch"),
    ],
)
def test_a_bad_cell_is_told_with_its_place(tmp_path: Path, was: str, now: str, said: str) -> None:
    file = written(tmp_path, ROW.replace("dents", "firm"), ROW.replace(was, now))
    with pytest.raises(BadInput) as refused:
        read_thumbs(file)
    assert str(refused.value).startswith(f"{file}:3:{ROW.index(was) + 1}: {said}")


def test_a_row_that_is_no_test_at_all_is_one_fault(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refused:
        read_thumbs(written(tmp_path, "garbage" + "," * 11, ROW))
    (fault,) = refused.value.all()
    assert fault.line == 2
    assert "not a thumb test: 10 of its cells are wrong" in fault.what


def test_all_bad_cells_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refused:
        read_thumbs(
            written(tmp_path, ROW.replace("dents", "hard").replace("23.72", "old"), ROW.replace(",1,", ",one,"))
        )
    assert [fault.line for fault in refused.value.all()] == [2, 2, 3]
