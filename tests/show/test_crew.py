"""Who is said to do what, of four people."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Literal

from blockrun.mix import Proportions
from blockrun.planner.left_over import Left
from blockrun.show.crew import AS_FREE, people_said
from blockrun.show.day import Job, Pour, SlabsSawn
from blockrun.show.page import GLUE


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-07T{clock}")


def job(task: Literal["strip", "clean", "chore"], start: str, end: str, people: int) -> Job:
    return Job(task, at(start), at(end), ("gang-4/01",), people)


def pour(start: str, end: str, people: int) -> Pour:
    return Pour(None, at(start), at(end), people, at(end), (), Left(0.0, ()), Proportions(500, 250, 0.59, 56))


def said(*jobs: Job | Pour, present: int = 4) -> list[str]:
    return [words.replace(GLUE, " ") for words in people_said(jobs, present)]


def test_a_batch_and_a_chore_say_just_how_many() -> None:
    assert said(pour("08:00", "08:28", 3), job("chore", "08:30", "08:40", 1)) == [
        "3 of the 4 people",
        "1 of the 4 people",
    ]


def test_everybody_is_said_as_all_of_them() -> None:
    assert said(pour("08:00", "08:28", 3), present=3) == ["all 3 people"]
    assert said(pour("08:00", "08:28", 1), present=1) == ["1 person"]


def test_other_work_says_the_most_it_takes() -> None:
    assert said(job("strip", "08:00", "09:00", 4), job("clean", "09:00", "09:30", 1)) == ["up to 4 people", "1 person"]


def test_work_that_overlaps_takes_people_as_they_come_free() -> None:
    """As printed one day: four strip from 08:05 on, three clean from 08:21 on, and there are four."""
    assert said(job("strip", "08:05", "09:05", 4), job("clean", "08:21", "09:59", 3)) == ["up to 4 people", AS_FREE]


def test_work_beside_a_batch_has_only_the_rest() -> None:
    beside = [job("clean", "07:50", "08:10", 2), pour("08:00", "08:28", 3), job("clean", "08:10", "08:20", 1)]
    assert said(*beside) == [AS_FREE, "3 of the 4 people", "1 person"]


def test_work_beside_a_chore_has_only_the_rest() -> None:
    lifted = replace(job("strip", "08:01", "08:34", 1), lifters=2)
    assert said(lifted, job("chore", "08:15", "08:25", 1), present=2)[0].startswith("1 person with the trolley")
    assert said(lifted, job("chore", "08:34", "08:44", 1), present=2)[0] == "2 people"


def test_two_that_never_meet_do_not_add_up() -> None:
    both = [job("strip", "08:00", "09:00", 2), job("clean", "08:00", "08:20", 2), job("clean", "08:20", "08:40", 2)]
    assert said(*both) == ["up to 2 people"] * 3


def heavy(start: str, end: str, slabs: tuple[SlabsSawn, ...] = ()) -> Job:
    return replace(job("strip", start, end, 1), lifters=2, slabs=slabs)


def test_what_takes_two_to_lift_says_two_where_they_are_free() -> None:
    assert said(heavy("08:00", "08:20"), present=2) == ["2 people"]
    assert said(replace(heavy("08:00", "08:20"), people=3)) == ["up to 3 people"]


def test_where_nobody_is_free_to_lift_with_the_line_says_so() -> None:
    """As printed one day: a strip of heavy blocks beside a batch that takes three of the four."""
    beside = [pour("08:00", "08:28", 3), heavy("08:00", "08:20")]
    assert said(*beside)[1] == "1 person with the trolley, nobody is free to lift with"


def test_where_no_batch_follows_it_may_wait_for_those_who_lift_with() -> None:
    both = [job("strip", "08:00", "08:50", 3), heavy("08:00", "08:20")]
    assert said(*both)[1] == "1 person with the trolley, or two people, when both are free"
    assert said(*both, pour("10:00", "10:28", 3))[1] == "1 person with the trolley, nobody is free to lift with"
    alone = [heavy("08:00", "08:20")]
    assert said(*alone, present=1) == ["1 person with the trolley, nobody is free to lift with"]


def test_a_slab_waits_until_two_are_free() -> None:
    beside = [pour("08:00", "08:28", 3), heavy("08:00", "08:20", (SlabsSawn(1, ("slab/01",), (("A", 2),)),))]
    assert said(*beside)[1] == "two people, when both are free"


def test_those_who_lift_together_are_not_asked_for_twice() -> None:
    assert said(heavy("08:00", "08:20"), job("clean", "08:05", "08:15", 1), present=2) == ["2 people", AS_FREE]
