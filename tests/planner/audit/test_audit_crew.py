"""Rows of batches and chores, working minutes and people."""

from datetime import date

import pandas as pd
import pytest

from blockrun.site import Absence


def test_a_batch_without_its_row_is_found(plain):
    plain.drop("tasks", batch=2)
    assert plain.said() == ["batch 2 has 0 rows in the tasks, not 1"]


def test_a_batch_with_two_rows_is_found(plain):
    plain.add("tasks", "06T08:40 06T09:09 batch 2 - - 2 4")
    assert plain.said() == ["batch 2 has 2 rows in the tasks, not 1"]


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"start": "06T08:39"}, "the row of batch 2 starts Tue 6 Apr 08:39, the batch Tue 6 Apr 08:40"),
        ({"end": "06T09:05"}, "the row of batch 2 ends Tue 6 Apr 09:05, the batch Tue 6 Apr 09:09"),
        ({"people": 1}, "batch 2 is written for 1 person, not 2"),
        ({"blocks": 3}, "the row of batch 2 says 3 blocks, but it pours 4"),
        ({"blocks": None}, "the row of batch 2 says no blocks, but it pours 4"),
        ({"mould": "gang-4/01"}, "the row of batch 2 names a mould or a base; its blocks do that"),
    ],
)
def test_a_wrong_cell_of_a_batch_row_is_found(plain, cells, said):
    plain.set("tasks", {"batch": 2}, **cells)
    assert plain.said() == [said]


def test_a_chore_left_out_is_found(plain):
    plain.tasks = plain.tasks.drop(index=1).reset_index(drop=True)
    assert plain.said() == ["on Mon 5 Apr a chore is missing (09:00 to 09:10, 1 person)"]


def test_a_chore_after_the_last_batch_is_found(plain):
    plain.add("tasks", "07T09:00 07T09:10 chore 1 - - - -")
    assert plain.said() == ["on Wed 7 Apr a chore is not asked for (09:00 to 09:10, 1 person)"]


@pytest.mark.parametrize(
    ("cells", "wrong"),
    [
        ({"start": "05T09:30", "end": "05T09:40"}, "09:30 to 09:40, 1 person"),
        ({"end": "05T09:15"}, "09:00 to 09:15, 1 person"),
        ({"people": 2}, "09:00 to 09:10, 2 people"),
    ],
)
def test_a_chore_done_otherwise_is_found(plain, cells, wrong):
    monday = plain.rows("tasks", task="chore") & (plain.tasks["start"].dt.day == 5)
    plain.set("tasks", monday, **cells)
    assert plain.said() == [
        f"on Mon 5 Apr a chore is missing (09:00 to 09:10, 1 person) and a chore is not asked for ({wrong})"
    ]


def test_no_chore_is_done_on_a_closed_day_between_two_batches(plain):
    """Tuesday is closed; what was done then and after is put off by a day. The cement still comes on Tuesday."""
    plain.change_part_of_site("calendar", closed=frozenset({date(2027, 4, 6)}))
    late = plain.tasks["start"].dt.day > 5
    plain.tasks.loc[late, ["start", "end"]] += pd.Timedelta(1, "D")
    plain.later("batches", {"batch": 2}, "start foam_at pour_from pour_to end", 1440)
    plain.later("casts", {}, "strip rack_from rack_to", 1440)
    plain.later("casts", {"batch": 2}, "poured ready", 1440)
    plain.set("materials", plain.materials["day"].dt.day == 6, day="07", cement_delivered_kg=0.0)
    plain.add("materials", "06 0 0 0 75 0 75 0.78")
    plain.say("block_days_late", value=4)
    plain.say("finish", value=date(2027, 4, 7))
    assert plain.broken() == []


@pytest.mark.parametrize("column", ["mould", "batch", "blocks"])
def test_a_chore_with_a_cell_too_many_is_found(plain, column):
    monday = plain.rows("tasks", task="chore") & (plain.tasks["start"].dt.day == 5)
    plain.set("tasks", monday, **{column: "gang-4/01" if column == "mould" else 1})
    assert plain.said() == ["the chore at Mon 5 Apr 09:00 names a mould, a base, a batch or blocks"]


WINDOWS = " (07:30-12:00, 12:30-16:30)"


@pytest.mark.parametrize(
    ("start", "end", "when", "why"),
    [
        ("08T07:25", "08T07:35", "Thu 8 Apr 07:25 to 07:35", WINDOWS),
        ("07T11:55", "07T12:05", "Wed 7 Apr 11:55 to 12:05", WINDOWS),
        ("07T12:10", "07T12:20", "Wed 7 Apr 12:10 to 12:20", WINDOWS),
        ("07T16:25", "07T16:35", "Wed 7 Apr 16:25 to 16:35", WINDOWS),
        ("07T23:55", "08T00:05", "Wed 7 Apr 23:55 to Thu 8 Apr 00:05", WINDOWS),
        ("10T10:00", "10T10:10", "Sat 10 Apr 10:00 to 10:10", ": Sat 10 Apr is not a working day"),
    ],
)
def test_work_outside_working_minutes_is_found(plain, start, end, when, why):
    wednesday = plain.rows("tasks", task="clean") & (plain.tasks["start"].dt.day == 7)
    plain.set("tasks", wednesday, start=start, end=end)
    assert plain.said() == [f"clean of gang-4/01 turn 2, {when}, is not within working minutes{why}"]


@pytest.mark.parametrize(
    ("start", "end"), [("08T07:30", "08T07:40"), ("07T11:50", "07T12:00"), ("07T16:20", "07T16:30")]
)
def test_work_may_touch_the_edges_of_working_minutes(plain, start, end):
    wednesday = plain.rows("tasks", task="clean") & (plain.tasks["start"].dt.day == 7)
    plain.set("tasks", wednesday, start=start, end=end)
    assert plain.broken() == []


def test_a_move_of_no_length_may_lie_anywhere(plain):
    """Turn 2 is stripped 11:48 to 12:00; the blocks leave the rack a week later, after the break."""
    plain.change_site(move_time_min=0.0)
    plain.strip_later("gang-4/01", 2, 158)
    wednesday = plain.rows("tasks", task="clean") & (plain.tasks["start"].dt.day == 7)
    plain.set("tasks", wednesday, start="07T12:30", end="07T12:40")
    plain.set("casts", {"turn": 2}, rack_to="14T12:30")
    moves = plain.rows("tasks", task="move")
    plain.tasks.loc[moves, "end"] = plain.tasks.loc[moves, "start"]
    assert plain.broken() == []


def test_more_people_than_are_there_are_found(plain):
    """On Tuesday 09:00 the batch takes two and the chore one; one of three is away."""
    plain.change_part_of_site("crew", absences=(Absence(day=date(2027, 4, 6), people=1),))
    assert plain.said() == ["Tue 6 Apr 09:00 needs 3 people, but 2 are there that day"]


def test_people_are_free_the_minute_a_task_ends(based):
    """Tuesday 08:10: stripping gang-1/01 ends and its move starts; cleaning the base may start then too, not before."""
    based.change_part_of_site("crew", people=2)
    based.set("tasks", {"task": "clean", "base": "slab-2/b01"}, start="06T08:02", end="06T08:10")
    assert based.broken() == []
    based.change_part_of_site("crew", people=1)
    assert based.said() == [
        "Mon 5 Apr 07:30 needs 2 people, but 1 is there that day",
        "Tue 6 Apr 08:02 needs 2 people, but 1 is there that day",
    ]
