"""Plans made anew that a slip of the pen has changed: what had happened and what follows from it is guarded as well."""

from __future__ import annotations

from copy import deepcopy

import pandas as pd
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_anew import EVERY, made_anew
from test_audit_fuzz import ODD, a_cell, a_table

from blockrun.planner.columns import COLUMNS, TIME

PLANS = [made_anew(yard.the_plan(), at) for yard, at in EVERY]
TIMES = [(table, column) for table, columns in COLUMNS.items() for column, kind in columns.items() if kind == TIME]

plans = st.sampled_from(PLANS).map(deepcopy)
shifts = st.integers(-3000, 3000).filter(bool)


@settings(max_examples=100, deadline=None)
@given(plans, st.sampled_from(TIMES), st.data(), shifts)
def test_no_changed_time_passes(plan, where, data, minutes):
    table, column = where
    frame = getattr(plan, table)
    filled = list(frame.index[frame[column].notna()])
    assume(filled)
    frame.loc[data.draw(st.sampled_from(filled)), column] += pd.Timedelta(minutes, "min")
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


JOBS = {"sides": "sides_off", "strip": "strip rack_from rack_to", "clean": ""}
"""Columns of a block that go with a job."""


@settings(max_examples=150, deadline=None)
@given(plans, st.sampled_from(sorted(JOBS)), st.data(), shifts)
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


@settings(max_examples=100, deadline=None)
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
