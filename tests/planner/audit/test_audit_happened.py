"""Plans made anew in the middle of a job: what had happened is as it was told, and nothing else is past."""

from __future__ import annotations

from datetime import datetime, timedelta

import pandas as pd
import pytest
from made_anew import ALL_PAST, EVERY, clean_later, made_anew, sides_later, tell
from written_plan import WrittenPlan, moment_of

from blockrun.planner.begun.facts import TurnBegun
from blockrun.site import Rack

TURN_1 = {"mould": "slab-2/01", "turn": 1}
BASE_1, BASE_2 = {"base": "slab-2/b01"}, {"base": "slab-2/b02"}


@pytest.mark.parametrize(("yard", "at"), EVERY)
def test_a_plan_that_goes_on_as_before_is_good(yard, at):
    assert made_anew(yard.the_plan(), at).broken() == []


# nothing that was not done may be written as done


def test_a_strip_that_nobody_did_and_that_ends_after_now_is_found(based):
    made_anew(based, "06T07:40").strip_later("slab-2/01", 1, -10)
    assert based.broken() == [("nothing planned before", "slab-2/01 turn 1")]
    assert based.said() == ["strip of slab-2/01 turn 1 is planned for Tue 6 Apr 07:35, before Tue 6 Apr 07:40"]


def test_a_strip_after_now_is_judged_by_its_age(based):
    made_anew(based, "06T07:40").strip_later("slab-2/01", 1, -3)
    based.later("casts", TURN_1, "rack_to", 3)
    assert based.broken() == [("strip age", "slab-2/01 turn 1")]


def test_sides_that_nobody_took_off_are_found(based):
    sides_later(made_anew(based, "05T13:40"), 1, -10)
    assert based.broken() == [("nothing planned before", "slab-2/01 turn 1")]


def test_sides_taken_off_after_now_are_judged_by_their_age(based):
    sides_later(made_anew(based, "05T13:40"), 1, -3)
    assert based.broken() == [("sides age", "slab-2/01 turn 1")]


@pytest.mark.parametrize(("later", "found"), [(0, []), (1, [("thumbs heeded", "slab-2/01 turn 1")])])
def test_a_strip_waits_for_as_long_as_thumbs_said(based, later, found):
    strips = _begins(based, "strip")
    tell(made_anew(based, "06T07:40"), "slab-2/01", 1, strip_from=strips + timedelta(minutes=later))
    assert based.broken() == found


@pytest.mark.parametrize(("later", "found"), [(0, []), (1, [("thumbs heeded", "slab-2/01 turn 1")])])
def test_sides_wait_for_as_long_as_thumbs_said(based, later, found):
    tell(made_anew(based, "05T13:40"), "slab-2/01", 1, sides_from=_begins(based, "sides") + timedelta(minutes=later))
    assert based.broken() == found


def test_what_was_done_sooner_than_thumbs_said_is_past(based):
    put_off = _begins(based, "clean") + timedelta(days=1)
    tell(made_anew(based, "06T12:00"), "slab-2/01", 1, sides_from=put_off, strip_from=put_off)
    assert based.broken() == []


def _begins(plan: WrittenPlan, task: str) -> datetime:
    return plan.tasks.loc[plan.rows("tasks", task=task, **BASE_1), "start"].iloc[0].to_pydatetime()


def test_a_clean_that_nobody_did_is_found(based):
    clean_later(made_anew(based, "06T07:54"), 1, -1)
    assert based.broken() == [("nothing planned before", "slab-2/01 turn 1")]


def test_a_move_is_done_with_the_strip(based):
    """At 07:51 they have stripped; the move begins then, and is no plan of anybody's."""
    made_anew(based, "06T07:52")
    assert based.broken() == []


def test_a_batch_planned_for_the_past_is_found(plain):
    """Poured on Tuesday at 09:05, and nobody had told of it by noon."""
    assert made_anew(plain, "06T12:00").begun
    facts = plain.begun
    plain.begun = facts.model_copy(update={"batches": facts.batches[:1], "turns": facts.turns[:1]})
    assert plain.broken() == [("nothing planned before", "batch 2")]


def test_blocks_that_nobody_filled_from_a_poured_batch_are_found(plain):
    made_anew(plain, "06T08:35").set("casts", {"turn": 2}, batch=1, poured="05T07:55")
    assert plain.broken() == [("nothing more was filled", "gang-4/01 turn 2")]


# what was done is written as it was


@pytest.mark.parametrize("minutes", [-3, 3])
def test_a_strip_at_another_minute_than_told_is_found(based, minutes):
    made_anew(based, "06T12:00").strip_later("slab-2/01", 1, minutes)
    assert based.broken() == [("jobs as done", "slab-2/01 turn 1")]


@pytest.mark.parametrize("minutes", [-3, 3])
def test_sides_off_at_another_minute_than_told_are_found(based, minutes):
    sides_later(made_anew(based, "05T15:00"), 1, minutes)
    assert based.broken() == [("jobs as done", "slab-2/01 turn 1")]


@pytest.mark.parametrize("minutes", [-3, 3])
def test_a_clean_at_another_minute_than_told_is_found(based, minutes):
    clean_later(made_anew(based, "06T12:00"), 1, minutes)
    assert based.broken() == [("jobs as done", "slab-2/01 turn 1")]


def test_a_done_strip_put_off_to_the_future_is_found(based):
    made_anew(based, "06T07:54").strip_later("slab-2/01", 1, 60)
    assert based.broken() == [("jobs as done", "slab-2/01 turn 1")]


def test_sides_of_which_nobody_told_came_off_just_before_the_strip(based):
    tell(made_anew(based, "06T12:00"), "slab-2/01", 1, sides_off=None)
    assert based.broken() == [("jobs as done", "slab-2/01 turn 1")]
    based.set("tasks", {"task": "sides", **BASE_1}, start="06T07:40", end="06T07:45")
    based.set("casts", TURN_1, sides_off="06T07:45")
    assert based.broken() == []


@pytest.mark.parametrize(
    ("cells", "column"), [({"bags": 1.0}, "bags"), ({"mixer": "big"}, "mixer"), ({"start": "05T07:29"}, "start")]
)
def test_a_batch_written_otherwise_than_it_was_poured_is_found(based, cells, column):
    made_anew(based, "05T13:40").set("batches", {"batch": 1}, **cells)
    assert based.broken() == [("batches as poured", "batch 1")], column


def test_a_poured_batch_that_is_not_in_the_plan_is_found(plain):
    made_anew(plain, "06T08:35")
    for table in ("batches", "casts", "tasks"):
        plain.set(table, {"batch": 1}, batch=9)
    assert ("batches as poured", "batch 1") in plain.broken()


@pytest.mark.parametrize(
    ("column", "rule"), [("pour_to", "batch times"), ("end", "batch times"), ("foam_at", "batch times")]
)
def test_a_wrong_minute_of_a_poured_batch_is_found(based, column, rule):
    made_anew(based, ALL_PAST).later("batches", {"batch": 1}, column, 1)
    assert based.broken() == [(rule, "batch 1")]


def test_a_wrong_weight_of_a_poured_batch_is_found(based):
    made_anew(based, ALL_PAST).set("batches", {"batch": 1}, cement_kg=13.0)
    assert based.broken() == [("batch weights", "batch 1")]


def test_a_set_of_cubes_that_nobody_cast_is_found(cubed):
    made_anew(cubed, "05T12:00")
    cubed.begun = cubed.begun.model_copy(update={"batches": (cubed.begun.batches[0].model_copy(update={"cubes": 0}),)})
    assert cubed.said() == ["batch 1 gave 0 sets of test cubes, and is written with 1"]


def without_the_set(plan: WrittenPlan) -> None:
    """The cubes of the first batch were lost."""
    made_anew(plan, "06T08:35")
    first = plan.begun.batches[0].model_copy(update={"cubes": 0})
    plan.begun = plan.begun.model_copy(update={"batches": (first,)})
    plan.cubes = plan.cubes.iloc[:0]
    plan.set("batches", {"batch": 1}, poured_l=132.3)
    plan.totals["thrown_away_l"] = 35.4


def test_a_set_that_was_lost_is_owed_no_more(cubed):
    without_the_set(cubed)
    assert cubed.broken() == []


def test_a_set_that_was_lost_may_be_made_up_for_but_once(cubed):
    without_the_set(cubed)
    one = "2 1 1.05 {0} {0}-1 08T00:00\n2 2 2.1 {0} {0}-2,{0}-3 13T00:00"
    for number, poured_l, thrown_l, broken in (
        (1, 135.45, 32.25, []),
        (2, 138.6, 29.1, [("sets of cubes", "mix wall")]),
    ):
        cubed.add("cubes", one.format(number))
        cubed.cubes["marked"] = cubed.cubes["marked"].str.replace(",", " to ")
        cubed.set("batches", {"batch": 2}, poured_l=poured_l)
        cubed.totals["thrown_away_l"] = thrown_l
        assert cubed.broken() == broken


def test_what_a_batch_filled_is_poured_whatever_became_of_its_blocks(plain):
    """Of the 132.3 L of its six blocks and of 10 L more, with 5 % over, the blocks of which broke."""
    first, *others = made_anew(plain, "06T12:00").begun.batches
    plain.begun = plain.begun.model_copy(update={"batches": (first.model_copy(update={"lost_l": 10.0}), *others)})
    assert "batch 1 says 132.3 L are poured, but its cavities take 142.8 L" in plain.said()
    plain.set("batches", {"batch": 1}, poured_l=142.8)
    plain.totals["thrown_away_l"] -= 10.5
    assert plain.broken() == []


def test_cubes_of_a_poured_batch_are_marked_and_crushed_as_ever(cubed):
    made_anew(cubed, ALL_PAST).set("cubes", {"cubes": 2}, crush="13T00:00")
    assert cubed.broken() == [("cubes marked", "batch 1")]


def tell_first(plan: WrittenPlan, **facts: object) -> None:
    first, *others = plan.begun.batches
    plan.begun = plan.begun.model_copy(update={"batches": (first.model_copy(update=facts), *others)})


def test_a_set_that_was_given_keeps_its_number(cubed):
    tell_first(made_anew(cubed, "06T08:35"), sets=(4,))
    assert cubed.said() == [
        "of the cubes of batch 1 the plan says 1 cube of set 1, marked 1-1, crushed on Wed 7 Apr; due is 1 cube of set "
        "4, marked 4-1, crushed on Wed 7 Apr"
    ]
    cubed.set("cubes", {"cubes": 1}, set=4, marked="4-1")
    cubed.set("cubes", {"cubes": 2}, set=4, marked="4-2 to 4-3")
    assert cubed.broken() == []


@pytest.mark.parametrize(("number", "broken"), [(5, []), (2, [("cubes marked", "batch 2")])])
def test_sets_to_come_go_on_from_the_highest_that_was_given(cubed, number, broken):
    cubed.change_site(test_cubes=cubed.site.test_cubes.model_copy(update={"every_l": "day"}))
    tell_first(made_anew(cubed, "05T12:00"), sets=(4,))
    for cubes, marked in ((1, "4-1"), (2, "4-2 to 4-3")):
        cubed.set("cubes", {"cubes": cubes}, set=4, marked=marked)
    cubed.add("cubes", f"2 1 1.05 {number} {number}-1 08T00:00\n2 2 2.1 {number} {number}-2,{number}-3 13T00:00")
    cubed.cubes["marked"] = cubed.cubes["marked"].str.replace(",", " to ")
    cubed.set("batches", {"batch": 2}, poured_l=135.45)
    cubed.totals["thrown_away_l"] -= 3.15
    assert cubed.broken() == broken


def test_other_blocks_in_a_turn_that_was_filled_are_found(plain):
    made_anew(plain, "05T12:00").set("casts", {"cast": 1}, cavity=2)
    plain.set("casts", {"cast": 2}, cavity=1)
    assert plain.broken() == []  # two alike may stand for each other
    plain.set("casts", {"cast": 1}, cavity=4)
    plain.set("casts", {"cast": 4}, cavity=2)
    assert plain.broken() == [("turns as begun", "gang-4/01 turn 1")]


def test_another_base_than_told_is_found(based):
    made_anew(based, "05T13:40")
    for table in ("casts", "tasks"):
        one, two = based.rows(table, **BASE_1), based.rows(table, **BASE_2)
        based.set(table, one, base="slab-2/b02")
        based.set(table, two, base="slab-2/b01")
    assert based.broken() == [("turns as begun", "slab-2/01 turn 1")]


def test_a_block_on_another_rack_than_told_is_found(based):
    based.change_site(racks=(Rack(name="east", places=4), Rack(name="west", places=4)))
    made_anew(based, "06T12:00").set("casts", {"cast": 2}, rack="west")
    assert based.broken() == [("turns as begun", "block 2")]


def test_a_block_of_whose_rack_nothing_is_told_may_have_been_on_any(based):
    based.change_site(racks=(Rack(name="east", places=4), Rack(name="west", places=4)))
    made_anew(based, "09T08:00").set("casts", {"cast": 2}, rack="west")
    assert based.broken() == []


def test_a_rack_that_is_no_more_is_not_asked_for(based):
    made_anew(based, "06T12:00").change_site(racks=(Rack(name="north", places=5),))
    based.set("casts", based.casts["cast"] > 0, rack="north")
    assert based.broken() == []


@pytest.mark.parametrize("at", ["05T12:00", ALL_PAST])
def test_a_slab_sawn_otherwise_than_told_is_found(sawn, at):
    made_anew(sawn, at)
    for cavity, left in ((1, 602.0), (3, 0.0)):
        sawn.set("sawing", {"turn": 1, "cavity": cavity}, from_left_mm=left)
    assert sawn.broken() == [("turns as begun", "slab/01 turn 1")]


def test_a_slab_of_which_nothing_is_told_has_no_saw_plan(sawn):
    made_anew(sawn, ALL_PAST)
    blocks = tuple(block.model_copy(update={"sawn": None}) for block in sawn.begun.turns[0].blocks)
    tell(sawn, "slab/01", 1, blocks=blocks)
    sawn.drop("sawing", turn=1)
    assert sawn.broken() == []


# a mould out of which all was thrown is cleaned before it is filled again


def thrown_out(plan: WrittenPlan, clean: str) -> WrittenPlan:
    """The yard without bases, as if gang-4/02 had been emptied on Monday at 15:00; turn 2 is filled into it."""
    told = {"mould": "gang-4/02", "turn": 1, "poured": moment_of("05T14:00"), "strip": moment_of("05T15:00")}
    made_anew(plan, "05T16:00")
    plan.begun = plan.begun.model_copy(update={"turns": (*plan.begun.turns, TurnBegun(**told))})
    plan.set("casts", {"turn": 2}, mould="gang-4/02")
    for job, start in (("strip", "07T09:10"), ("move", "07T09:22"), ("clean", "07T09:30")):
        plan.set("tasks", {"task": job, "start": pd.Timestamp(moment_of(start))}, mould="gang-4/02")
    plan.add("tasks", clean)
    return plan


def test_a_mould_cleaned_after_all_was_thrown_out_of_it_is_good(plain):
    assert thrown_out(plain, "06T08:40 06T08:50 clean 1 gang-4/02 - - -").broken() == []


def test_a_mould_filled_before_it_is_cleaned_of_what_was_thrown_out_is_found(plain):
    thrown_out(plain, "06T08:50 06T09:00 clean 1 gang-4/02 - - -")
    assert plain.said() == [
        "gang-4/02 turn 2 is filled Tue 6 Apr 08:55, but gang-4/02, out of which all was thrown, is clean only "
        "Tue 6 Apr 09:00"
    ]


def test_a_mould_that_nobody_cleans_of_what_was_thrown_out_is_found(plain):
    thrown_out(plain, "06T08:40 06T08:50 clean 1 gang-4/02 - - -")
    plain.drop("tasks", task="clean", start=pd.Timestamp(moment_of("06T08:40")))
    assert ("one row a job", "gang-4/02") in plain.broken()


def test_a_clean_of_what_was_thrown_out_takes_its_time_and_one_person(plain):
    thrown_out(plain, "06T08:40 06T08:49 clean 2 gang-4/02 - - -")
    assert plain.broken() == [("job lengths", "gang-4/02 turn 1"), ("job cells", "gang-4/02 turn 1")]


def test_a_block_laid_too_young_is_ready_when_it_was_laid_and_off_its_rack(plain):
    plan = made_anew(plain, ALL_PAST)
    row = next(plan.casts.itertuples())
    (turn,) = [one for one in plan.begun.turns if (one.mould, one.turn) == (row.mould, row.turn)]
    laid = row.rack_to.to_pydatetime() + timedelta(hours=1)
    assert laid < row.ready.to_pydatetime()
    blocks = [block.model_copy(update={"laid": laid}) if block.cavity == row.cavity else block for block in turn.blocks]
    tell(plan, row.mould, row.turn, blocks=tuple(blocks))
    assert plan.broken() == [("block times", f"block {row.cast}")]
    plan.casts.loc[plan.casts["cast"] == row.cast, "ready"] = pd.Timestamp(laid)
    assert plan.broken() == []
