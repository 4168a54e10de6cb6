"""Plans made anew in the middle of a job: what had happened is as it was told, and nothing else is past."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
import yard_of_slabs
import yard_with_bases
import yard_with_cubes
import yard_without_bases
from made_anew import made_anew
from written_plan import WrittenPlan

from blockrun.planner.begun.facts import TurnBegun
from blockrun.site import Rack

ALL_PAST = "08T12:00"
MOMENTS = {
    yard_with_bases: ("05T13:40", "05T15:00", "06T07:40", "06T07:51", "06T07:54", "06T12:00", "06T14:11", ALL_PAST),
    yard_without_bases: ("05T12:00", "06T08:12", "06T08:18", "06T08:35", "06T12:00", "07T09:28", ALL_PAST),
    yard_of_slabs: ("05T12:00", "06T08:12", "06T08:35", "06T12:00", ALL_PAST),
    yard_with_cubes: ("05T12:00", "06T08:35", "06T12:00", ALL_PAST),
}
EVERY = [(yard, at) for yard, moments in MOMENTS.items() for at in moments]

TURN_1, TURN_2 = {"mould": "slab-2/01", "turn": 1}, {"mould": "slab-2/01", "turn": 2}
BASE_1, BASE_2 = {"base": "slab-2/b01"}, {"base": "slab-2/b02"}


def tell(plan: WrittenPlan, mould: str, turn: int, **facts: object) -> None:
    """Tell something else of a turn."""
    assert plan.begun is not None

    def told(one: TurnBegun) -> TurnBegun:
        return one.model_copy(update=facts) if (one.mould, one.turn) == (mould, turn) else one

    plan.begun = plan.begun.model_copy(update={"turns": tuple(told(one) for one in plan.begun.turns)})


def sides_later(plan: WrittenPlan, turn: int, minutes: int) -> None:
    plan.later("tasks", {"task": "sides", "base": f"slab-2/b0{turn}"}, "start end", minutes)
    plan.later("casts", {"mould": "slab-2/01", "turn": turn}, "sides_off", minutes)


def clean_later(plan: WrittenPlan, turn: int, minutes: int) -> None:
    plan.later("tasks", {"task": "clean", "base": f"slab-2/b0{turn}"}, "start end", minutes)


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


def test_cubes_of_a_poured_batch_are_marked_and_crushed_as_ever(cubed):
    made_anew(cubed, ALL_PAST).set("cubes", {"cubes": 2}, crush="13T00:00")
    assert cubed.broken() == [("cubes marked", "batch 1")]


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


# what follows from it is judged for all blocks


@pytest.mark.parametrize("column", ["poured", "sides_off", "strip", "rack_from", "rack_to", "ready"])
@pytest.mark.parametrize("at", ["05T15:00", "06T07:54", ALL_PAST])
def test_a_wrong_time_of_a_block_that_was_cast_is_found(based, at, column):
    made_anew(based, at).later("casts", {"cast": 1}, column, 1440)
    assert based.broken() == [("block times", "block 1")]


def test_another_need_date_of_a_block_that_was_cast_is_found(based):
    made_anew(based, ALL_PAST).set("casts", TURN_1, needed="12T00:00")
    assert based.broken() == [("need dates", "S in light for slabs course 1")]


def test_another_course_of_a_block_that_was_cast_is_found(based):
    made_anew(based, ALL_PAST).set("casts", TURN_1, course=2, needed="12T00:00")
    assert {rule for rule, _ in based.broken()} == {"ordered blocks"}


def test_a_lost_row_of_what_was_done_is_found(based):
    made_anew(based, ALL_PAST).drop("tasks", task="clean", **BASE_1)
    assert based.broken() == [("one row a job", "slab-2/01 on slab-2/b01")]


@pytest.mark.parametrize(("out", "found"), [("slab-2/01", True), ("slab-2/b02", True), ("slab-2/b01", False)])
def test_a_mould_or_base_out_of_use_that_is_filled_is_found(based, out, found):
    """Base 1 stands full, and is only stripped."""
    made_anew(based, "05T13:40")
    based.begun = based.begun.model_copy(update={"out_of_use": (out,)})
    assert based.broken() == [("filled in use", "slab-2/01 turn 2")] * found


# how it was done is past

HOW = {
    "pour life": {"pour_life_min": 1.0},
    "last foam": {"calendar": {"last_foam": 7 * 60}},
    "working minutes": {"calendar": {"closed": frozenset({date(2027, 4, 5), date(2027, 4, 6), date(2027, 4, 8)})}},
    "people present": {"crew": {"people": 0}},
    "strip age": {"curing": {"strip_at_h": 40.0}},
    "no frost": {"curing": {"least_air_c": 25.0}},
    "no heat": {"curing": {"most_air_c": 15.0}},
}


@pytest.mark.parametrize("rule", HOW)
def test_how_things_were_done_before_is_judged_no_more_but_for_what_is_to_come(rule):
    for at, found in (("05T13:40", {rule}), (ALL_PAST, set())):
        plan = made_anew(yard_with_bases.the_plan(), at)
        for part, value in HOW[rule].items():
            if isinstance(value, dict):
                plan.change_part_of_site(part, **value)
            else:
                plan.change_site(**{part: value})
        assert {rule for rule, _ in plan.broken()} == found


def test_batches_too_big_for_their_mixer_by_now_were_poured(based):
    small = tuple(mixer.model_copy(update={"usable_volume_l": 30.0}) for mixer in based.site.mixers)
    made_anew(based, "05T13:40").change_site(mixers=small)
    assert based.broken() == [("batch volume", "batch 3")]


def test_a_mould_filled_before_it_was_free_was_filled(based):
    """Its sides came off at 13:55, says the journal, and the next pour began at 13:57."""
    sides_later(based, 1, 8)
    assert ("one turn a mould", "slab-2/01 turn 2") in based.broken()
    assert made_anew(based, "05T15:00").broken() == []


def test_those_who_still_move_what_they_stripped_are_there(based):
    """At 14:11 a turn is stripped, and moved until 14:14; who then cleans is missed."""
    made_anew(based, "06T14:11").change_part_of_site("crew", people=0)
    assert based.said() == ["Tue 6 Apr 14:14 needs 1 person, but 0 are there that day"]


def test_a_rack_may_hold_what_it_held_but_no_more(based):
    based.change_site(racks=(Rack(name="east", places=1), Rack(name="west", places=1)))
    assert made_anew(based, "06T12:00").said() == ["rack east holds 4 blocks Tue 6 Apr 14:11, but has 1 place"]
    assert made_anew(based, "06T14:11").broken() == []


def test_moments_before_the_first_day_count_as_its_midnight(plain):
    made_anew(plain, "05T12:00")
    plain.begun = plain.begun.model_copy(
        update={"since": plain.begun.since - timedelta(days=9), "turns": (), "batches": ()}
    )
    assert plain.broken() == []
