"""Sheets of labels as their files describe them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from blockrun.errors import BadInput
from blockrun.show.labels import LabelSheet, load_label_sheet

CONFIG = Path(__file__).parents[3] / "configs" / "labels.yaml"
KEYS: dict[str, Any] = {
    "page_width": "210 mm", "page_height": "297 mm", "columns": "3", "rows": "8", "label_width": "64 mm",
    "label_height": "34 mm", "left": "7 mm", "top": "12 mm", "gap_across": "2 mm",
}  # fmt: skip


def described(folder: Path, **changes: str | None) -> LabelSheet:
    file = folder / "labels.yaml"
    keys = {key: value for key, value in {**KEYS, **changes}.items() if value is not None}
    file.write_text("".join(f"{key}: {value}\n" for key, value in keys.items()), encoding="utf-8")
    return load_label_sheet(file)


def test_the_sheet_to_copy_is_read() -> None:
    assert load_label_sheet(CONFIG).count == 24


def test_labels_stand_in_rows_with_their_gaps(tmp_path: Path) -> None:
    places = list(described(tmp_path, gap_down="1 mm").places_mm())
    assert places[:4] == [(7, 12), (73, 12), (139, 12), (7, 47)]
    assert len(places) == 24


def test_a_sheet_may_be_measured_in_inches(tmp_path: Path) -> None:
    inches = described(
        tmp_path, page_width="8.5 in", page_height="11 in", label_width="2 5/8 in", label_height="1 in", left="3/16 in",
        top="1/2 in", gap_across="1/8 in", rows="10",
    )  # fmt: skip
    assert list(inches.places_mm())[-1] == pytest.approx((144.4625, 241.3))
    sides = {"page_width": "8.5 in", "label_width": "2 5/8 in", "left": "7/8 in", "gap_across": "1/8 in"}
    with pytest.raises(BadInput, match=r"take 9 in, and the page is 8.5 in wide"):
        described(tmp_path, **sides)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"columns": "4"}, "4 labels of 64 mm with left: 7 mm and gap_across: 2 mm take 269 mm"),
        ({"rows": "9"}, "9 labels of 34 mm with top: 12 mm and gap_down: 0 mm take 318 mm"),
        (
            {"label_width": "300 mm", "columns": "1"},
            "1 label of 300 mm with left: 7 mm and gap_across: 2 mm takes 307 mm, and the page is 210 mm wide",
        ),
        (
            {"label_width": "300 mm", "columns": "1"},
            "1 label of 300 mm with left: 7 mm and gap_across: 2 mm takes 307 mm",
        ),
        ({"left": "16 mm"}, "take 212 mm, and the page is 210 mm wide"),
        ({"label_height": "10 mm"}, "label_height: 10 mm is out of range"),
        ({"left": "7"}, "left"),
        ({"rows": "0"}, "rows: 0 is out of range"),
        ({"top": None}, "top is missing"),
        ({"colums": "3"}, "unknown key colums"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_where_it_says_so(
    tmp_path: Path, changes: dict[str, str | None], said: str
) -> None:
    with pytest.raises(BadInput) as fault:
        described(tmp_path, **changes)
    assert said in str(fault.value)
    assert "labels.yaml:" in str(fault.value)


def test_how_many_would_fit_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="or write columns: 3"):
        described(tmp_path, columns="5")


def test_a_hair_over_the_page_is_rounding(tmp_path: Path) -> None:
    assert described(tmp_path, left="14.04 mm").columns == 3
