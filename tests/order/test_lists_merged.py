"""Block lists as builders lay them out: merged cells and units over the sides change nothing of what is ordered."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import BadInput
from blockrun.order import OrderLine, load_order, takeoff

ORDER = """\
order: Store
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
parts:
  - list: blocks.xlsx
"""
SIDES = ("length", "height", "thickness")
MM = {"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}
Group = tuple[tuple[int, int], list[tuple[int, int]]]
"""Height and thickness of rows in eighths of an inch, and of each its length and count."""
GROUPS = st.lists(
    st.tuples(
        st.tuples(st.integers(8, 160), st.integers(8, 160)),
        st.lists(st.tuples(st.integers(8, 400), st.integers(1, 99)), min_size=1, max_size=4),
    ),
    min_size=1,
    max_size=4,
)


def cells_of(groups: list[Group], unit: str) -> Iterator[tuple[int, int, int, object]]:
    """First row, last row, column and value: a mark for each length; height, thickness and course of each group."""
    side, row = 3.175 / MM[unit], 3
    for course, ((height, thickness), rows) in enumerate(groups, 1):
        last = row + len(rows) - 1
        for column, value in ((2, height * side), (3, thickness * side), (5, course)):
            yield row, last, column, value
        for number, (length, count) in enumerate(rows, row):
            for column, value in ((0, f"B{course}-{length}"), (1, length * side), (4, count)):
                yield number, number, column, value
        row = last + 2


def lines_of(folder: Path, groups: list[Group], unit: str, *, merged: bool) -> list[OrderLine]:
    """The lines of a list whose groups share cells and whose sides share a unit, or of the same list unmerged."""
    sides = SIDES if merged else tuple(f"{side}_{unit}" for side in SIDES)
    header = [(1 if merged else 2, 2, column, name) for column, name in ((0, "mark"), (4, "count"), (5, "course"))]
    with xlsxwriter.Workbook(folder / "blocks.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(2, 1, sides)
        if merged:
            sheet.merge_range(0, 0, 0, 5, "Blocks of the store")
            sheet.merge_range(1, 1, 1, 3, f"Size ({unit})")
        for row, last, column, value in [*header, *cells_of(groups, unit)]:
            if merged and row != last:
                sheet.merge_range(row, column, last, column, value)
            else:
                sheet.write_column(row, column, [value] * (last - row + 1))
    (folder / "order.yaml").write_text(ORDER)
    return takeoff(load_order(folder / "order.yaml"))


@given(GROUPS, st.sampled_from(sorted(MM)))
def test_unmerging_by_hand_and_other_units_give_the_same_lines(
    tmp_path_factory: pytest.TempPathFactory, groups: list[Group], unit: str
) -> None:
    folder = tmp_path_factory.mktemp("list")
    plain = lines_of(folder, groups, "mm", merged=False)
    assert sum(line.count for line in plain) == sum(count for _, rows in groups for _, count in rows)
    assert lines_of(folder, groups, unit, merged=True) == plain
    assert lines_of(folder, groups, unit, merged=False) == plain


def test_a_merged_row_of_totals_is_refused_by_its_name(tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "blocks.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["mark", *(f"{side}_mm" for side in SIDES), "count"])
        sheet.write_row(1, 0, ["A", 600, 300, 200, 3])
        sheet.merge_range(2, 0, 2, 3, "Total")
        sheet.write(2, 4, 3)
    (tmp_path / "order.yaml").write_text(ORDER)
    with pytest.raises(BadInput, match=r"blocks\.xlsx:A3: .*Total cannot be mark and length_mm"):
        load_order(tmp_path / "order.yaml")
