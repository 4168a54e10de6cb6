"""What held back the days of a saved plan made by hand, and of a day of a plan that was saved."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from blockrun.planner import make_plan
from blockrun.planner.on_stack import places_taken
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.planner.why.held import Held, held
from blockrun.show.summary import stack_said
from blockrun.site import Chore, Crew, MouldKind, Rack, Saw, Stack
from tests.conftest import PLANS
from tests.planner.why.by_hand import (
    CALENDAR,
    GANG,
    LONG_ON_RACK,
    LOW_GANG,
    MANY_PEOPLE,
    SMALL_DRUM,
    a_site,
    an_order,
    gangs,
    stock,
    two_sizes,
)


@pytest.fixture(scope="module")
def small(small_plan: Plan) -> Held:
    return held(small_plan)


@pytest.fixture(scope="module")
def demo() -> Held:
    return held(load_plan(PLANS / "demo"))


def test_each_working_day_up_to_the_last_pour_is_told_with_what_is_left(small: Held) -> None:
    assert [(day.day, day.blocks, day.left) for day in small.days] == [
        (date(2027, 4, 5), 5, 10),
        (date(2027, 4, 6), 5, 5),
        (date(2027, 4, 7), 0, 5),
        (date(2027, 4, 8), 5, 0),
    ]


def test_moulds_that_all_stand_full_when_more_is_to_be_poured_ran_out(small: Held) -> None:
    first = {each.thing: each for each in small.days[0].taken}
    assert (first["gang-2"].taken, first["gang-2"].there, first["gang-2"].ran_out) == (2, 2, True)
    assert first["tray-1 bases"].taken <= first["tray-1 bases"].there
    assert not any(each.ran_out for each in small.days[-1].taken if each.thing.startswith(("gang", "tray")))


def test_cement_that_is_used_up_until_the_delivery_ran_out(small: Held) -> None:
    """Wednesday pours nothing and has no row of its own: what was left on Tuesday is left still."""
    assert [day.day for day in small.days if "cement" in day.held_by] == [date(2027, 4, 6), date(2027, 4, 7)]
    (wednesday,) = [each for each in small.days[2].taken if each.thing == "cement"]
    assert (wednesday.taken, wednesday.there) == (0, 1.5)


def test_moulds_that_would_be_ripe_at_20_degrees_wait_for_the_cold(small: Held) -> None:
    assert [day.day for day in small.days if "cold" in day.held_by] == [date(2027, 4, 7)]


def test_things_that_ran_out_are_counted_by_days_most_often_first(small: Held) -> None:
    assert small.by[0] == ("gang-2", 3)
    counts = [days for _, days in small.by]
    assert counts == sorted(counts, reverse=True)


def test_days_of_frost_and_those_before_it_are_held_by_frost(demo: Held) -> None:
    frosty = [day.day.day for day in demo.days if day.held_by == ("frost",)]
    assert frosty == [9, 10, 12, 13, 14, 15, 16]


def test_a_plan_on_time_has_no_late_course_and_a_late_one_says_when_all_is_there(demo: Held, small_plan: Plan) -> None:
    assert demo.courses == ()
    casts = small_plan.tables.casts.copy()
    wanted = casts["needed"].notna()
    casts.loc[wanted, "needed"] = casts.loc[wanted, "ready"].dt.normalize().min()
    late = Plan(small_plan.site, small_plan.order, small_plan.tables.__class__(casts, *_others(small_plan)), (), (), {})
    courses = held(late).courses
    assert courses
    assert all(course.there > course.needed and course.late for course in courses)


def test_late_courses_stand_in_the_order_in_which_they_are_needed(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    wanted = casts["needed"].notna()
    first = casts.loc[wanted, "ready"].dt.normalize().min()
    casts.loc[wanted, "needed"] = [first - timedelta(days=n) for n in range(1, wanted.sum() + 1)]
    late = Plan(small_plan.site, small_plan.order, small_plan.tables.__class__(casts, *_others(small_plan)), (), (), {})
    needed = [course.needed for course in held(late).courses]
    assert len(needed) > 1
    assert needed == sorted(needed)


def _others(plan: Plan) -> tuple[object, ...]:
    tables = plan.tables
    return (tables.batches, tables.tasks, tables.materials, tables.sawing, tables.cubes)


@pytest.fixture(scope="module")
def stacked() -> Plan:
    """Eight blocks needed on Thursday 29 April, a mould of two, and a stack of one column of four.

    Poured on the 5th, 6th and 7th; the third turn comes off the rack on the 30th, when those of the others are laid. So
    it is stripped on the 29th, the day of the last pour, whose blocks are laid seven days later.
    """
    site = a_site(stack=Stack(places=1, layers=4))
    return make_plan(site, an_order(8, date(2027, 4, 29)), rounds=0)


def test_a_stack_that_keeps_ripe_blocks_in_their_mould_ran_out(stacked: Plan) -> None:
    days = held(stacked).days
    assert [(day.day.day, day.blocks) for day in days if day.blocks] == [(5, 2), (6, 2), (7, 2), (29, 2)]
    assert [day.day.day for day in days if "stack" in day.held_by] == [
        *range(8, 10), *range(12, 17), *range(19, 24), *range(26, 29)
    ]  # fmt: skip
    assert stacked.stages[0].value == 2 * 1 + 2 * 7


def on_a_stack(plan: Plan, stack: Stack) -> Held:
    """The same plan on another stack."""
    return held(Plan(plan.site.model_copy(update={"stack": stack}), plan.order, plan.tables, plan.stages, (), {}))


def test_a_stack_ran_out_where_a_place_is_free_and_a_turn_takes_two(stacked: Plan) -> None:
    waiting = [day for day in on_a_stack(stacked, Stack(places=5, layers=1)).days if "stack" in day.held_by]
    assert [day.day.day for day in waiting] == [*range(8, 10), *range(12, 17), *range(19, 24), *range(26, 29)]
    assert {each.taken for day in waiting for each in day.taken if each.thing == "stack"} == {4}


def test_a_stack_did_not_run_out_where_a_strip_waits_for_something_else(stacked: Plan) -> None:
    days = on_a_stack(stacked, Stack(places=2, layers=4)).days
    assert [day.day for day in days if "stack" in day.held_by] == []


@pytest.fixture(scope="module")
def waiting() -> Plan:
    """Two blocks on the 5th and on the 6th, of one bag; two more on the 12th and the 13th, when there is more of it."""
    return make_plan(a_site(stock=stock(1, 40)), an_order(8, date(2027, 4, 29)), rounds=0)


@pytest.mark.parametrize(("stack", "days"), [(Stack(places=1, layers=4), [7, 8, 9]), (Stack(places=2, layers=4), [])])
def test_a_stack_without_room_for_what_is_poured_next_ran_out_though_a_mould_is_free(
    waiting: Plan, stack: Stack, days: list[int]
) -> None:
    back = on_a_stack(waiting, stack)
    assert [day.day.day for day in back.days if "stack" in day.held_by and day.day < date(2027, 4, 12)] == days
    assert [(day.day.day, day.blocks) for day in back.days if day.blocks] == [(5, 2), (6, 2), (12, 2), (13, 2)]


def test_the_places_taken_are_told_from_each_day_on_which_they_change(stacked: Plan) -> None:
    taken = places_taken(stacked)
    assert {day: n for day, n in taken.items() if day.month == 4} == {
        date(2027, 4, 7): 1,
        date(2027, 4, 8): 1,
        date(2027, 4, 30): 1,
    }
    assert list(taken.values())[-1] == 0
    assert stack_said(stacked).replace("\u00a0", " ") == "fullest on Wed 7 Apr 2027: 1 of 1 place taken"


def test_nothing_is_said_of_a_stack_where_there_is_ground_for_all(small_plan: Plan) -> None:
    assert places_taken(small_plan) == {}
    assert stack_said(small_plan) == ""
    assert "stack" not in {each.thing for day in held(small_plan).days for each in day.taken}


@pytest.mark.parametrize("fillers", [0, 1])
def test_a_rack_without_places_for_a_turn_ran_out_whatever_fillers_there_are(fillers: int) -> None:
    small = GANG.model_copy(update={"kind": "small", "cavities": 1, "filler": True})
    site = a_site(moulds=(GANG, *[small] * fillers), racks=(Rack(name="east", places=3),))
    days = held(make_plan(site, an_order(8, date(2027, 4, 29)), rounds=0)).days
    assert [day.day.day for day in days if day.left and "rack" in day.held_by] == [6, 7]


def test_a_rack_without_room_for_a_turn_that_waits_ran_out_though_smaller_ones_would_have_it() -> None:
    """Of 6 places one turn of four and one of one take 5 for a week; the other turn of four stays in its mould."""
    moulds = (GANG.model_copy(update={"cavities": 4, "count": 2}), LOW_GANG.model_copy(update={"cavities": 1}))
    site = a_site(moulds=moulds, racks=(Rack(name="east", places=6),), curing=LONG_ON_RACK)
    days = held(make_plan(site, two_sizes(("A", 16, None), ("B", 1, None)), rounds=0)).days
    assert [day.day.day for day in days if day.left and "rack" in day.held_by] == [6, 7, 8, 9, 12]


def test_a_rack_without_room_for_the_blocks_of_a_slab_ran_out() -> None:
    """A slab is one cavity and four blocks: two places are none for it."""
    slab = MouldKind(
        kind="slab", count=2, cavities=1, cavity=(800.0, 400.0, 100.0), saw=Saw(kerf_mm=0, time_min=20),
        strip_time_min=10, clean_time_min=5,
    )  # fmt: skip
    site = a_site(moulds=(slab,), racks=(Rack(name="east", places=6),), curing=LONG_ON_RACK)
    days = held(make_plan(site, an_order(16, None), rounds=0)).days
    assert [day.day.day for day in days if day.left and "rack" in day.held_by] == [6, 7, 8, 9, 12]


def test_a_mixer_that_has_no_time_for_one_batch_more_by_the_last_foam_ran_out() -> None:
    """Batches of three blocks begin at 7:00 and 7:28; one begun at 7:56 would foam at 8:06, after the last foam."""
    early = CALENDAR.model_copy(update={"last_foam": 8 * 60})
    site = a_site(calendar=early, mixers=(SMALL_DRUM,), moulds=gangs(20), crew=MANY_PEOPLE)
    days = held(make_plan(site, an_order(12, None), rounds=0)).days
    assert [(day.blocks, day.held_by) for day in days] == [(6, ("drum",)), (6, ("drum",))]


def test_people_ran_out_where_they_have_time_only_before_a_mould_is_free() -> None:
    """Ripe at 8:24 on Tuesday, clean at 8:41; 28 min are left neither before the chore nor after it."""
    short = CALENDAR.model_copy(update={"hours": (7 * 60, 10 * 60)})
    curing = a_site().curing.model_copy(update={"strip_at_h": 25.0})
    chore = Chore(name="wet", at=(8 * 60 + 50,), time_min=50, people=1)
    site = a_site(moulds=gangs(2), calendar=short, curing=curing, crew=Crew(people=1), chores=(chore,))
    monday, tuesday, *_ = held(make_plan(site, an_order(8, None), rounds=0)).days
    assert (monday.blocks, monday.held_by) == (4, ("gang",))
    assert (tuesday.blocks, tuesday.held_by) == (0, ("people",))


def test_nothing_is_taken_that_is_not_there(demo: Held) -> None:
    over = [each for day in demo.days for each in day.taken if each.taken > each.there + 1e-6]
    assert over == []
