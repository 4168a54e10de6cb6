"""Rows of a plan's tables as plain values."""

from __future__ import annotations

from datetime import datetime

import pandas as pd

from blockrun.planner.rows import grouped, rows_of

FRAME = pd.DataFrame(
    {
        "cast": [3, 1, 2],
        "course": pd.array([2, None, 2], dtype="Int64"),
        "mould": ["gang-2/01", "", "gang-2/01"],
        "sides_off": pd.to_datetime(["2027-04-05 08:30", None, "2027-04-05 09:00"]),
    }
)


def test_rows_keep_their_order_and_what_is_empty_is_none() -> None:
    assert [tuple(row) for row in rows_of(FRAME)] == [
        (3, 2, "gang-2/01", datetime.fromisoformat("2027-04-05T08:30")),
        (1, None, "", None),
        (2, 2, "gang-2/01", datetime.fromisoformat("2027-04-05T09:00")),
    ]


def test_alike_rows_are_together_the_first_of_each_first() -> None:
    groups = grouped(rows_of(FRAME), lambda row: row.course)
    assert [(course, [row.cast for row in rows]) for course, rows in groups.items()] == [(2, [3, 2]), (None, [1])]
