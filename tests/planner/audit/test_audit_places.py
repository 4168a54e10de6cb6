"""Where to look at what was found: rows as a spreadsheet counts them, the header being row 1."""

import pytest

from blockrun.planner.audit.places import rows_said


def places(plan):
    return {finding.rule: finding.place for finding in plan.audit()}


def test_a_block_is_a_row_of_casts(based):
    based.later("casts", {"cast": 4}, "ready", 1)
    assert places(based) == {"block times": "casts.csv row 5"}


def test_a_batch_is_a_row_of_batches(plain):
    plain.set("batches", {"batch": 2}, foam_l=88.6)
    assert places(plain) == {"batch weights": "batches.csv row 3"}


def test_a_job_is_its_own_row_of_tasks(plain):
    plain.set("tasks", {"task": "strip", "mould": "gang-4/01"}, people=2)
    rows = [n for n, task in enumerate(plain.tasks["task"], start=2) if task == "strip"]
    assert [finding.place for finding in plain.audit() if finding.rule == "job cells"] == [
        f"tasks.csv row {row}" for row in rows
    ]


def test_materials_of_a_day_are_a_row_of_theirs(plain):
    plain.materials.loc[1, "cement_left_kg"] += 1
    assert places(plain) == {"materials table": "materials.csv row 3"}


def test_stages_and_totals_stand_in_the_plan_itself(plain):
    plain.say("batches", value=3)
    assert places(plain)["stage values"] == "plan.json"


def test_a_name_that_nothing_has_is_shown_where_it_is_used(plain):
    plain.casts.loc[0, "mark"] = "fool"
    assert places(plain)["known names"] == "casts.csv row 2"


def test_what_no_row_is_nearer_to_than_another_has_no_place(plain):
    plain.drop("casts", cast=1)
    assert "ordered blocks" in places(plain)
    assert places(plain)["ordered blocks"] == ""


@pytest.mark.parametrize(
    ("indices", "said"),
    [
        ([2], "casts.csv row 4"),
        ([0, 1, 2, 5], "casts.csv rows 2-4, 7"),
        ([0, 2, 4, 6], "casts.csv rows 2, 4, 6 and more"),
    ],
)
def test_rows_are_said_in_short(indices, said):
    assert rows_said("casts", indices) == said
