from __future__ import annotations

import dataclasses
import re
from datetime import date, datetime

import pandas as pd
import pytest

from blockrun.errors import BadPlan
from blockrun.planner.clocks import Clocks
from blockrun.planner.plan import Plan
from blockrun.show.day import Day, Fill, Filled, Job, Limit, OffRack, Pour
from blockrun.show.diary import Diary
from blockrun.show.inserts import Inserts
from blockrun.show.jobs import fills_said
from blockrun.show.page import glued
from blockrun.site import Cubes, Lifting
from tests.cure.cubes import cubes

TUESDAY, THURSDAY = date(2027, 4, 6), date(2027, 4, 8)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def day_of(plan: Plan, day: date) -> Day:
    (found,) = Diary(plan).days(day, day)
    return found


def jobs_of(plan: Plan, day: date, task: str) -> list[Job]:
    return [job for job in day_of(plan, day).jobs if isinstance(job, Job) and job.task == task]


def test_equal_moulds_stripped_together_are_one_job(small_plan: Plan) -> None:
    first, second = jobs_of(small_plan, TUESDAY, "strip")
    assert first == Job(
        "strip",
        start=at("2027-04-06T12:50"),
        end=at("2027-04-06T13:02"),
        names=("gang-2/01", "gang-2/02"),
        people=2,
        racks=(("east", 4),),
        limits=(Limit(at("2027-04-06T12:45"), ("gang-2/01", "gang-2/02")),),
        lift="29\N{NO-BREAK SPACE}kg wet: hoist or trolley",
    )
    assert (second.names, second.racks) == (("tray-1/b01",), (("east", 1),))


def test_a_mould_old_enough_when_the_day_begins_has_no_limit_but_says_since_when(small_plan: Plan) -> None:
    jobs = jobs_of(small_plan, THURSDAY, "strip")
    assert [(job.limits, job.old_enough) for job in jobs] == [((), at("2027-04-07T19:44"))] * 2


def test_moulds_poured_at_different_times_have_limits_of_their_own(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    casts.loc[(casts["mould"] == "gang-2/02") & (casts["turn"] == 1), "poured"] += pd.Timedelta(minutes=10)
    plan = dataclasses.replace(small_plan, tables=dataclasses.replace(small_plan.tables, casts=casts))
    job = jobs_of(plan, TUESDAY, "strip")[0]
    assert [limit.names for limit in job.limits] == [("gang-2/01",), ("gang-2/02",)]
    assert job.limits[0].not_before < job.limits[1].not_before


def test_the_strip_waits_for_the_earliest_minute_at_the_asked_age(small_plan: Plan) -> None:
    limit = jobs_of(small_plan, TUESDAY, "strip")[0].limits[0].not_before
    ages = Clocks(small_plan.site, small_plan.order, small_plan.ordered).air
    minute = int((limit - at("2027-04-05T00:00")).total_seconds()) // 60
    assert ages.age_h(8 * 60 + 24, minute) >= 24 > ages.age_h(8 * 60 + 24, minute - 1)


def test_a_batch_says_what_it_fills_in_filling_order(small_plan: Plan) -> None:
    pours = [job for job in day_of(small_plan, THURSDAY).jobs if isinstance(job, Pour)]
    assert [pour.fills for pour in pours] == [
        (
            Fill("gang-2/01", "", (Filled(1, "full"),), alone=False, turn=3),
            Fill("gang-2/02", "", (Filled(1, "full"),), alone=False, turn=3),
            Fill("tray-1/01", "tray-1/b01", (Filled(1, "thin"),), alone=True, turn=3),
        ),
        (
            Fill("gang-2/01", "", (Filled(2, "sill"),), alone=False, turn=3),
            Fill("gang-2/02", "", (Filled(2, "sill"),), alone=False, turn=3),
        ),
    ]
    assert [pour.pour_by for pour in pours] == [at("2027-04-08T09:25"), at("2027-04-08T09:53")]


def test_a_shorter_block_says_where_its_stop_end_goes(small_plan: Plan) -> None:
    (pour,) = [job for job in day_of(small_plan, TUESDAY).jobs if isinstance(job, Pour)]
    assert pour.fills[1].cavities == (Filled(1, "half", Inserts(290)), Filled(2, "half", Inserts(290)))


def every_day(diary: Diary) -> list[Day]:
    return list(diary.days(diary.first, diary.last))


@pytest.mark.parametrize(
    ("table", "column", "old", "new"),
    [
        ("casts", "mould", "gang-2/01", "gang-2/09"),
        ("casts", "mark", "full", "fool"),
        ("casts", "base", "", "tray-1/b01"),
        ("tasks", "mould", "tray-1/01", "tray-1/07"),
        ("batches", "batch", 2, 9),
    ],
)
def test_tables_that_do_not_fit_together_are_told(
    small_plan: Plan, table: str, column: str, old: object, new: object
) -> None:
    frame = getattr(small_plan.tables, table).replace({column: {old: new}})
    changed = dataclasses.replace(small_plan, tables=dataclasses.replace(small_plan.tables, **{table: frame}))
    with pytest.raises(BadPlan, match="do not fit together") as caught:
        every_day(Diary(changed))
    assert "blockrun audit" in str(caught.value)


def test_jobs_run_by_the_clock_and_a_batch_parts_them(small_plan: Plan) -> None:
    jobs = day_of(small_plan, TUESDAY).jobs
    assert [job.start for job in jobs] == sorted(job.start for job in jobs)
    assert [job.task if isinstance(job, Job) else "batch" for job in jobs] == [
        "sides", "chore", "strip", "strip", "clean", "clean", "batch",
    ]  # fmt: skip


def test_the_sides_come_off_the_mould_and_the_base_is_stripped(small_plan: Plan) -> None:
    assert jobs_of(small_plan, date(2027, 4, 7), "sides")[0].names == ("tray-1/01",)
    assert jobs_of(small_plan, THURSDAY, "strip")[1].names == ("tray-1/b02",)


def test_a_chore_has_its_name(small_plan: Plan) -> None:
    assert jobs_of(small_plan, TUESDAY, "chore")[0].names == ("wet the racks",)


def test_deliveries_and_people_are_those_of_the_day(small_plan: Plan) -> None:
    assert day_of(small_plan, THURSDAY).delivered == (("cement", 6.0), ("agent", 2.0))
    assert day_of(small_plan, date(2027, 4, 7)).people == 2


def test_lateness_is_counted_in_days_from_the_need(small_plan: Plan) -> None:
    late = [(lot.block, lot.course, lot.days_late) for lot in day_of(small_plan, date(2027, 5, 6)).ready]
    assert late == [("full", 2, 1), ("sill", 2, 1), ("full", None, 0), ("sill", None, 0), ("thin", None, 0)]


@pytest.mark.parametrize("table", ["ready", "off_rack"])
def test_every_block_becomes_ready_and_leaves_its_rack_once(small_plan: Plan, table: str) -> None:
    diary = Diary(small_plan)
    days = list(diary.days(diary.first, diary.last))
    counts = [lot.count for day in days for lot in day.ready] if table == "ready" else [
        n for day in days for leaving in day.off_rack for _, n in leaving.blocks
    ]  # fmt: skip
    assert sum(counts) == len(small_plan.tables.casts)


def test_blocks_leave_a_rack_from_one_minute_to_another(small_plan: Plan) -> None:
    blocks = (("full", 3), ("half", 1), ("thin", 1))
    assert day_of(small_plan, date(2027, 4, 13)).off_rack == (
        OffRack("east", at("2027-04-13T13:00"), at("2027-04-13T13:07"), blocks),
    )


def test_a_batch_says_its_crew(small_plan: Plan) -> None:
    assert [pour.people for pour in day_of(small_plan, THURSDAY).pours] == [2, 2]


def test_a_block_with_a_role_is_said_to_be_one() -> None:
    fill = Fill("gang-2/01", "", (Filled(1, "W600-2", role="lintel"), Filled(2, "W600-2", role="lintel")), alone=True)
    assert [contents for _, contents in fills_said((fill,), "SI")] == [glued("2 W600-2 (lintel)")]


def test_a_mould_whose_batch_is_being_mixed_is_cleaned_by_itself_and_says_by_when(demo_plan: Plan) -> None:
    (job,) = [job for job in jobs_of(demo_plan, THURSDAY, "clean") if job.due]
    (due,) = job.due
    batches = demo_plan.tables.batches.set_index("batch")["pour_from"]
    casts = demo_plan.tables.casts
    pours = batches[casts.loc[casts["base"] == due.names[0], "batch"]]
    assert due.by in set(pours)
    assert job.names == due.names
    assert job.start < due.by


def test_a_strip_leaves_time_to_clean_before_the_next_pour(slabs_plan: Plan) -> None:
    job, *_ = [job for job in jobs_of(slabs_plan, date(2027, 5, 5), "strip") if job.due]
    (clean_min,) = [kind.clean_time_min for kind in slabs_plan.site.moulds if kind.kind == "slab"]
    casts, batches = slabs_plan.tables.casts, slabs_plan.tables.batches.set_index("batch")["pour_from"]
    pours = batches[casts.loc[casts["mould"] == job.due[0].names[0], "batch"]]
    assert job.due[0].by + pd.Timedelta(minutes=clean_min) in set(pours)


@pytest.mark.parametrize(
    ("people", "reach_mm", "first", "last"),
    [
        (1, 250, "two people or trolley", "hoist or trolley"),
        (2, 250, "two people or trolley", "hoist or trolley"),
    ],
)
def test_what_those_of_the_yard_may_not_lift_says_who_may(
    small_plan: Plan, people: int, reach_mm: int, first: str, last: str
) -> None:
    # 23 kg for one, 30.7 for two, 34.5 for three; the full block weighs 29 kg, the sill 40.6
    lifting = Lifting(from_height_mm=750, to_height_mm=750, reach_mm=reach_mm, twist_deg=0, lifts_a_minute=0.2)
    site = small_plan.site.model_copy(update={"lifting": lifting.model_copy(update={"people": people})})
    plan = dataclasses.replace(small_plan, site=site)
    said = {job.lift.partition("wet: ")[2] for job in jobs_of(plan, TUESDAY, "strip")}
    assert first in said
    everyday = [
        job.lift for day in Diary(plan).days(TUESDAY, date(2027, 5, 30)) for job in day.jobs if isinstance(job, Job)
    ]
    assert any(lift.endswith(last) for lift in everyday if lift)


def test_what_is_too_weak_to_lift_is_told_at_every_strip_it_is_true_of(small_plan: Plan) -> None:
    """24 h at 20 degC leave the thin block at 0.25 MPa of 0.43; four days in the mould, over a Sunday, do not."""
    found = Cubes(tuple(cubes([(density, age) for density in (600.0, 750.0, 900.0) for age in (1, 3, 7)])))
    curing = small_plan.site.curing.model_copy(update={"cubes": found})
    plan = dataclasses.replace(small_plan, site=small_plan.site.model_copy(update={"curing": curing}))
    told = {
        day.day.day: job.weak.replace("\N{NO-BREAK SPACE}", " ")
        for day in Diary(plan).days(TUESDAY, date(2027, 5, 30))
        for job in day.jobs
        if isinstance(job, Job) and job.task == "strip" and "thin" in job.weak
    }
    assert told == {
        6: "TOO WEAK TO LIFT thin until Wed 7 Apr 13:10: strip later, or carry it on a board",
        8: "TOO WEAK TO LIFT thin until 22:18: strip later, or carry it on a board",
    }


def test_a_slab_is_never_lifted_by_one(slabs_plan: Plan) -> None:
    jobs = [job for job in jobs_of(slabs_plan, date(2027, 5, 5), "strip") if job.slabs]
    assert jobs
    assert all(re.fullmatch(r"slab, \d+\skg wet: hoist or trolley, two people", job.lift) for job in jobs)
    assert {job.lifters for job in jobs} == {2}


def test_a_course_is_ready_only_when_all_its_blocks_are(small_plan: Plan) -> None:
    days = list(Diary(small_plan).days(date(2027, 4, 5), date(2027, 6, 30)))
    told = {(lot.part, lot.course): [] for day in days for lot in day.ready if lot.course}
    for day in days:
        for lot in day.ready:
            if lot.course and (day.day, lot.to_come) not in told[lot.part, lot.course]:
                told[lot.part, lot.course].append((day.day, lot.to_come))
    casts = small_plan.tables.casts
    assert told
    for (part, course), days_told in told.items():
        of_course = casts[(casts["part"] == part) & (casts["course"] == course)]
        for on, to_come in days_told:
            assert to_come == (of_course["ready"].dt.date > on).sum()
        assert days_told[-1][1] == 0
