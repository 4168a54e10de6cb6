"""Plans that a slip of the pen, a lost line or a bad program has changed: something is found, and nothing breaks."""

from __future__ import annotations

from copy import deepcopy

import pandas as pd
import pytest
import yard_of_slabs
import yard_with_bases
import yard_with_cubes
import yard_without_bases
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.planner.columns import COLUMNS, TIME

PLANS = (
    yard_without_bases.the_plan(),
    yard_with_bases.the_plan(),
    yard_of_slabs.the_plan(),
    yard_with_cubes.the_plan(),
)
ODD = (
    None,
    pd.NaT,
    pd.NA,
    -1,
    0,
    1,
    2,
    10**18,
    1e300,
    float("nan"),
    float("inf"),
    "",
    "A",
    "gang-4/02",
    True,
    "2027-04-06",
)

plans = st.sampled_from(PLANS).map(deepcopy)


def a_table(draw, plan) -> str:
    """One that has rows."""
    return draw(st.sampled_from([name for name in sorted(COLUMNS) if len(getattr(plan, name))]))


def a_cell(draw, frame: pd.DataFrame) -> tuple[int, str]:
    return draw(st.integers(0, len(frame) - 1)), draw(st.sampled_from(list(frame.columns)))


@settings(max_examples=80, deadline=None)
@given(plans, st.data())
def test_no_changed_time_passes(plan, data):
    times = [(table, column) for table, columns in COLUMNS.items() for column, kind in columns.items() if kind == TIME]
    table, column = data.draw(st.sampled_from(times))
    frame = getattr(plan, table)
    filled = frame.index[frame[column].notna()]
    row = data.draw(st.sampled_from(list(filled) or [None]))
    if row is None:
        return
    minutes = data.draw(st.integers(-3000, 3000).filter(bool) | st.sampled_from((None, -(10**7), 10**9)))
    frame.loc[row, column] = pd.NaT if minutes is None else frame.loc[row, column] + pd.Timedelta(minutes, "min")
    assert plan.audit()


@settings(max_examples=60, deadline=None)
@given(plans, st.data())
def test_no_lost_and_no_doubled_row_passes(plan, data):
    table = a_table(data.draw, plan)
    frame = getattr(plan, table)
    row = data.draw(st.integers(0, len(frame) - 1))
    kept = [n for n in range(len(frame)) if n != row] if data.draw(st.booleans()) else [*range(len(frame)), row]
    setattr(plan, table, frame.iloc[kept].reset_index(drop=True))
    assert plan.audit()


@settings(max_examples=150, deadline=None)
@given(plans, st.data())
def test_nothing_that_is_written_breaks_the_audit(plan, data):
    for _ in range(data.draw(st.integers(1, 3))):
        table = a_table(data.draw, plan)
        frame = getattr(plan, table)
        row, column = a_cell(data.draw, frame)
        cells = list(frame[column])
        cells[row] = data.draw(st.sampled_from(ODD) | st.sampled_from(cells))
        frame[column] = (
            pd.Series(cells, index=frame.index) if data.draw(st.booleans()) else pd.Series(cells, dtype=object)
        )
    for finding in plan.audit():
        assert finding.rule
        assert finding.where
        assert finding.said


@settings(max_examples=20, deadline=None)
@given(plans, st.data())
def test_rows_may_stand_in_any_order(plan, data):
    for table in COLUMNS:
        frame = getattr(plan, table)
        setattr(plan, table, frame.iloc[data.draw(st.permutations(range(len(frame))))])
    assert plan.audit() == []


@pytest.mark.parametrize("table", sorted(COLUMNS))
def test_an_empty_table_is_found(sawn, cubed, table):
    plan = cubed if table == "cubes" else sawn
    setattr(plan, table, getattr(plan, table).iloc[:0])
    assert plan.audit()
