from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from blockrun.errors import BadInput
from blockrun.yard.journal import open_journal
from blockrun.yard.ready import apart
from blockrun.yard.record import known
from blockrun.yard.record.recorder import Recorder
from blockrun.yard.record.sheet import record_sheet

DAY = date(2027, 4, 6)
SHEET = """at,what,who,remark,foam
2027-04-05 08:24,poured 1,Ana,,98g/L
13:00,stripped gang-2/1 1 broken,,corner,
13:00,stripped gang-2/2,,,
07:50,thumb gang-2/1 firm,,,
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    (tmp_path / "sheet.csv").write_text(SHEET, encoding="utf-8")
    return tmp_path / "sheet.csv"


def again(recorder: Recorder) -> Recorder:
    return Recorder(recorder.plan, recorder.path, recorder.now, recorder.written)


def test_all_rows_of_a_sheet_are_recorded_by_their_times(recorder: Recorder, sheet: Path) -> None:
    recorded = record_sheet(recorder, sheet, DAY)
    assert [entry.event.kind for entry in recorded.entries] == [
        "poured", "thumbed", "stripped", "moved", "stripped", "moved",
    ]  # fmt: skip
    assert (recorded.entries[0].event.who, recorded.entries[2].event.remark) == ("Ana", "corner")
    assert recorder.state.racks["east"].counts == {("full", "light"): 2, ("half", "light"): 1}


def test_the_same_sheet_twice_counts_once_and_rows_that_were_added_are(recorder: Recorder, sheet: Path) -> None:
    record_sheet(recorder, sheet, DAY)
    assert record_sheet(again(recorder), sheet, DAY).known
    sheet.write_text(SHEET + "13:30,note swept,,,\n", encoding="utf-8")
    record_sheet(again(recorder), sheet, DAY)
    with open_journal(recorder.path) as journal:
        assert len(journal) == 7


def test_a_row_looks_neither_through_the_whole_journal_nor_at_every_pour_again(
    recorder: Recorder, sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: Counter[str] = Counter()

    def counted(name: str, look: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *told: looked.update([name]) or look(*told)

    monkeypatch.setattr(known, "standing", counted("journal", known.standing))
    monkeypatch.setattr(apart, "speaks_against", counted("pour", apart.speaks_against))
    stacked = "2027-04-20 14:00,stacked east 1 full,,,\n2027-04-20 14:10,stacked east 1 half,,,\n"
    sheet.write_text(f"{SHEET}{stacked}", encoding="utf-8")
    record_sheet(recorder, sheet, DAY)
    assert looked == {"pour": 1}


def test_each_fault_is_told_by_row_and_column_and_nothing_is_recorded(recorder: Recorder, sheet: Path) -> None:
    rows = "25:00,note rain,,,\n13:00,stripped gang-9/1,,,\n13:10,,,,\n13:20,stripped gang-2/2 4 full broken,,,\n"
    sheet.write_text(SHEET + rows, encoding="utf-8")
    with pytest.raises(BadInput) as error:
        record_sheet(recorder, sheet, DAY)
    said = str(error.value)
    assert "sheet.csv:6:1: at: 2027-04-06 25:00: there is no such moment" in said
    assert "sheet.csv:7:7: what: there is no mould gang-9/1" in said
    assert "sheet.csv:8:7: what: is empty" in said
    assert "sheet.csv:9:7: what: nothing stands in gang-2/02" in said
    assert not recorder.path.exists()


def test_two_rows_that_say_the_same_are_two(recorder: Recorder, sheet: Path) -> None:
    sheet.write_text("at,what\n10:00,delivered cement 40\n10:00,delivered cement 40\n", encoding="utf-8")
    assert len(record_sheet(recorder, sheet, DAY).entries) == 2


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("08:24,poured 1\n09:00,poured 1\n", "batch 1 was poured already, 2027-04-06 08:24, another row of this sheet"),
        ("08:24,poured 1\n13:00,stripped gang-2/1\n12:00,stripped gang-2/1\n", "another row of this sheet: stripped"),
    ],
)
def test_what_stands_in_another_row_is_told_as_that(recorder: Recorder, sheet: Path, rows: str, said: str) -> None:
    sheet.write_text(f"at,what\n{rows}", encoding="utf-8")
    with pytest.raises(BadInput) as error:
        record_sheet(recorder, sheet, DAY)
    assert said in str(error.value)
    assert "entry 0" not in str(error.value)


def test_words_in_quotes_are_one(recorder: Recorder, sheet: Path) -> None:
    sheet.write_text('at;what\n10:00;"delivered cement 40 lot ""B 7"""\n10:10;note don\'t oil\n', encoding="utf-8")
    first, second = record_sheet(recorder, sheet, DAY).entries
    assert first.event.lot == "B 7"
    assert second.event.words == "don't oil"


def test_a_quote_that_is_not_closed_is_told(recorder: Recorder, sheet: Path) -> None:
    sheet.write_text('at;what\n10:00;note a 3" pipe\n', encoding="utf-8")
    with pytest.raises(BadInput, match=r"a quote is not closed|quotes"):
        record_sheet(recorder, sheet, DAY)


@pytest.mark.parametrize("name", ["time", "when", "At"])
def test_the_moment_has_other_names_too_and_semicolons_may_part_cells(
    recorder: Recorder, sheet: Path, name: str
) -> None:
    sheet.write_text(f"{name};what\n5 Apr 8.24;poured 1\n13.00;stripped gang-2/2\n", encoding="utf-8")
    assert [f"{one.happened:%d %H:%M}" for one in record_sheet(recorder, sheet, DAY).entries[:2]] == [
        "05 08:24", "06 13:00",
    ]  # fmt: skip


def test_a_time_in_a_workbook_is_of_the_day_that_is_told(recorder: Recorder, tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "sheet.xlsx") as book:
        page = book.add_worksheet()
        page.write_row(0, 0, ["at", "what"])
        page.write_datetime(1, 0, time(8, 24), book.add_format({"num_format": "hh:mm"}))
        page.write(1, 1, "poured 1")
    (entry,) = record_sheet(recorder, tmp_path / "sheet.xlsx", date(2027, 4, 5)).entries
    assert entry.happened == datetime.fromisoformat("2027-04-05T08:24")


def test_a_remark_that_shows_an_error_is_refused_with_its_cell(recorder: Recorder, tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "sheet.xlsx") as book:
        page = book.add_worksheet()
        page.write_row(0, 0, ["at", "what", "remark"])
        page.write_row(1, 0, ["13:30", "note swept"])
        page.write_formula("C2", "=Q9Z", None, "#NAME?")
    with pytest.raises(BadInput) as caught:
        record_sheet(recorder, tmp_path / "sheet.xlsx", DAY)
    assert (caught.value.what, caught.value.cell) == ("remark: shows the error #NAME?", "C2")


def test_cells_at_the_end_of_a_row_may_be_left_out(recorder: Recorder, sheet: Path) -> None:
    sheet.write_text(SHEET + "13:30,note swept\n", encoding="utf-8")
    assert record_sheet(recorder, sheet, DAY).entries[-1].event.kind == "note"
