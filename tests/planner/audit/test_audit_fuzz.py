"""Plans that a slip of the pen, a lost line or a bad program has changed: something is found, and nothing breaks.

In those made anew what had happened, and what follows from it, is guarded as well.
"""

from __future__ import annotations

from copy import deepcopy

import pandas as pd
import pytest
import yard_of_slabs
import yard_with_bases
import yard_with_cubes
import yard_without_bases
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_anew import EVERY, made_anew

from blockrun.planner.columns import COLUMNS, TIME

FIRST = (
    yard_without_bases.the_plan(),
    yard_with_bases.the_plan(),
    yard_of_slabs.the_plan(),
    yard_with_cubes.the_plan(),
)
ANEW = [made_anew(yard.the_plan(), at) for yard, at in EVERY]
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

TIMES = [(table, column) for table, columns in COLUMNS.items() for column, kind in columns.items() if kind == TIME]

anew = st.sampled_from(ANEW).map(deepcopy)
plans = st.sampled_from(FIRST).map(deepcopy) | anew
shifts = st.integers(-3000, 3000).filter(bool)


def a_table(draw, plan) -> str:
    """One that has rows."""
    return draw(st.sampled_from([name for name in sorted(COLUMNS) if len(getattr(plan, name))]))


def a_cell(draw, frame: pd.DataFrame) -> tuple[int, str]:
    return draw(st.integers(0, len(frame) - 1)), draw(st.sampled_from(list(frame.columns)))


@settings(max_examples=180, deadline=None)
@given(plans, st.sampled_from(TIMES), st.data(), shifts | st.sampled_from((None, -(10**7), 10**9)))
def test_no_changed_time_passes(plan, where, data, minutes):
    table, column = where
    frame = getattr(plan, table)
    filled = list(frame.index[frame[column].notna()])
    assume(filled)
    row = data.draw(st.sampled_from(filled))
    frame.loc[row, column] = pd.NaT if minutes is None else frame.loc[row, column] + pd.Timedelta(minutes, "min")
    assert plan.audit()


@settings(max_examples=120, deadline=None)
@given(plans, st.data())
def test_no_lost_and_no_doubled_row_passes(plan, data):
    table = a_table(data.draw, plan)
    frame = getattr(plan, table)
    row = data.draw(st.integers(0, len(frame) - 1))
    kept = [n for n in range(len(frame)) if n != row] if data.draw(st.booleans()) else [*range(len(frame)), row]
    setattr(plan, table, frame.iloc[kept].reset_index(drop=True))
    assert plan.audit()


JOBS = {"sides": "sides_off", "strip": "strip rack_from rack_to", "clean": ""}
"""Columns of a block that go with a job."""


@settings(max_examples=150, deadline=None)
@given(anew, st.sampled_from(sorted(JOBS)), st.data(), shifts)
def test_no_job_moves_within_what_had_happened_nor_into_it(plan, job, data, minutes):
    rows = plan.tasks[plan.tasks["task"] == job]
    assume(len(rows))
    row = rows.loc[data.draw(st.sampled_from(list(rows.index)))]
    assume(row["end"] <= plan.begun.since or row["start"] + pd.Timedelta(minutes, "min") < plan.begun.since)
    pair = {"mould": row["mould"], "base": row["base"]}
    if job != "clean":
        plan.later("casts", {**pair, JOBS[job].split()[0]: row["end"]}, JOBS[job], minutes)
    if job == "strip":
        plan.later("tasks", {**pair, "task": "move", "start": row["end"]}, "start end", minutes)
    plan.later("tasks", {**pair, "task": job, "end": row["end"]}, "start end", minutes)
    assert {finding.rule for finding in plan.audit()} & {"jobs as done", "nothing planned before", "readable cells"}


@settings(max_examples=250, deadline=None)
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


@settings(max_examples=40, deadline=None)
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
