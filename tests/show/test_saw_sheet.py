"""Slabs on the sheets of the days: what is poured, what is sawn, and by which cuts."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadPlan
from blockrun.planner.begun import Begun
from blockrun.planner.heavy import limit_kg
from blockrun.planner.plan import Plan
from blockrun.planner.saw_numbers import saw_plans_before
from blockrun.show.days import days_text
from blockrun.show.saw_plans import saw_plans_of
from blockrun.show.saw_sheet import heavy
from blockrun.show.tape import on_tape

MONDAY, TUESDAY = date(2027, 5, 3), date(2027, 5, 4)


def words_of(plan: Plan, first: date, last: date) -> str:
    return " ".join(days_text(plan, 2000, first, last).plain.split())


def with_sawing(plan: Plan, **columns: object) -> Plan:
    sawing = plan.tables.sawing.assign(**columns)
    return dataclasses.replace(plan, tables=dataclasses.replace(plan.tables, sawing=sawing))


@pytest.mark.parametrize("width", [40, 80])
def test_days_with_slabs(slabs_plan: Plan, golden: SnapshotAssertion, width: int) -> None:
    assert days_text(slabs_plan, width, MONDAY, TUESDAY).plain == golden


def test_saw_plans_in_us_units(slabs_plan: Plan, golden: SnapshotAssertion) -> None:
    plan = dataclasses.replace(slabs_plan, site=slabs_plan.site.model_copy(update={"units": "US"}))
    assert days_text(plan, 40, MONDAY, MONDAY).plain == golden


@pytest.mark.parametrize("width", range(30, 100, 7))
def test_no_line_is_wider_than_the_screen(slabs_plan: Plan, width: int) -> None:
    assert max(map(len, days_text(slabs_plan, width).plain.split("\n"))) <= width


def test_a_pour_into_a_slab_says_its_saw_plan_and_no_stop_end(slabs_plan: Plan) -> None:
    words = words_of(slabs_plan, MONDAY, MONDAY)
    assert "- slab/01: a slab for saw plan 1 (2 F, 3 E, 2 C, 2 B, 3 D)" in words
    assert "stop-end" not in words


def test_a_slab_is_stripped_and_sawn_by_its_saw_plan(slabs_plan: Plan) -> None:
    words = words_of(slabs_plan, TUESDAY, TUESDAY)
    assert "strip and saw slab/01, move 12 blocks to rack east" in words
    assert "- slab/01 by saw plan 1: 2 F, 3 E, 2 C, 2 B, 3 D" in words


def test_saw_plans_are_numbered_as_they_are_first_cast_whatever_days_are_shown(slabs_plan: Plan) -> None:
    assert [saw_plan.number for saw_plan in saw_plans_of(slabs_plan)] == [1, 2, 3, 4, 5]
    for day in (MONDAY, TUESDAY):
        assert "saw plan 1: slab 1205 x 910 x 200 mm, saw cut 5 mm, 5 slabs in all" in words_of(slabs_plan, day, day)
    wednesday = date(2027, 5, 5)
    assert "saw plan 4: slab" in words_of(slabs_plan, wednesday, wednesday)


def test_every_slab_has_one_saw_plan(slabs_plan: Plan) -> None:
    turns = set(slabs_plan.tables.sawing[["mould", "turn"]].itertuples(index=False, name=None))
    sawn = [turn for saw_plan in saw_plans_of(slabs_plan) for turn in saw_plan.slabs]
    assert len(sawn) == len(turns)
    assert set(sawn) == turns


def test_only_saw_plans_of_the_days_shown_are_printed(slabs_plan: Plan) -> None:
    words = words_of(slabs_plan, MONDAY, MONDAY)
    assert "saw plan 1: slab" in words
    assert "saw plan 2" not in words


def test_days_without_slabs_have_no_saw_plans(small_plan: Plan) -> None:
    assert saw_plans_of(small_plan) == ()
    assert "Saw plans" not in days_text(small_plan, 80).plain


def test_cuts_can_be_followed_with_a_tape_from_the_left_end_and_the_bottom(slabs_plan: Plan) -> None:
    """The second saw plan is six blocks of 600 x 300 mm; a cut is 5 mm wide."""
    words = words_of(slabs_plan, TUESDAY, TUESDAY)
    assert "gives 6 A (600 x 300) 1 level at 300, from left to right 2 level at 605, from left to right" in words
    assert "3 upright at 600, from 0 to 300: A and A 4 upright at 600, from 305 to 605: A and A" in words


def test_equal_layouts_with_blocks_of_other_marks_are_one_saw_plan(slabs_plan: Plan) -> None:
    """Some of the blocks A are of the mark J, as large as they are: a saw does not tell."""
    (part,) = slabs_plan.order.parts
    (a,) = (row for row in part.blocks.rows if row.mark == "A")
    blocks = dataclasses.replace(part.blocks, rows=(*part.blocks.rows, dataclasses.replace(a, mark="J", count=1)))
    casts = slabs_plan.tables.casts.copy()
    first_of_six = (casts["mould"] == "slab/02") & (casts["turn"] == 1) & (casts["cavity"] == 1)
    casts.loc[first_of_six, "mark"] = "J"
    plan = dataclasses.replace(
        slabs_plan,
        order=slabs_plan.order.model_copy(update={"parts": (part.model_copy(update={"blocks": blocks}),)}),
        tables=dataclasses.replace(slabs_plan.tables, casts=casts),
    )
    words = words_of(plan, TUESDAY, TUESDAY)
    assert "- slab/02: a slab for saw plan 2 (1 J, 5 A)" in words
    assert "gives 1 A/J (600 x 300) and 5 A (600 x 300)" in words


def test_a_row_of_sawing_for_no_block_is_refused(slabs_plan: Plan) -> None:
    with pytest.raises(BadPlan, match=r"sawing has a row for block 99 of slab/01 turn 1, and no such block is sawn"):
        saw_plans_of(with_sawing(slabs_plan, cavity=99))


def test_blocks_that_cannot_be_sawn_out_are_refused(slabs_plan: Plan) -> None:
    with pytest.raises(BadPlan, match=r"no cuts from edge to edge part the blocks of slab/01 turn 1"):
        saw_plans_of(with_sawing(slabs_plan, from_left_mm=0.0, from_bottom_mm=0.0))


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.5, "two people lift it, or a trolley"),
        (4 / 3, "two people lift it, or a trolley"),
        (1.34, "three people lift it, or a trolley"),
        (1.5, "three people lift it, or a trolley"),
        (1.51, "too heavy to lift by hand; two people or more with a trolley or a hoist"),
    ],
)
def test_a_slab_is_never_lifted_alone(slabs_plan: Plan, share: float, said: str) -> None:
    """Two people lift a third more than one, three half as much again; more do not lift one thing."""
    assert said in heavy(share * limit_kg(slabs_plan.site.lifting, 1) - 0.001, slabs_plan.site)


def test_the_mass_of_a_slab_is_that_of_its_wet_mix(slabs_plan: Plan) -> None:
    """1205 x 910 x 200 mm is 219.3 L; 10 L of the mix weigh 8.1 kg, as the card says."""
    assert "A slab weighs about 177 kg as poured" in words_of(slabs_plan, MONDAY, MONDAY).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("length_mm", "units", "said"),
    [
        (644.6, "SI", "645"),
        (0.0, "SI", "0"),
        (396.875, "US", "15 5/8"),
        (609.6, "US", "24"),
        (4.8, "US", "3/16"),
        (0.0, "US", "0"),
    ],
)
def test_lengths_are_said_as_a_tape_has_them(length_mm: float, units: str, said: str) -> None:
    assert on_tape(length_mm, units) == said


# filler moulds


def test_each_batch_says_what_is_left_over_and_which_filler_it_fills(slabs_plan: Plan) -> None:
    """250 L less 222.48 L in the moulds and 4 L in the drum; a cavity of 12 L takes 12.36 L."""
    words = words_of(slabs_plan, MONDAY, MONDAY)
    assert "- left over 23.5 L: fill 1 of small/01 (300 x 200 x 200 mm)" in words


def test_a_filler_that_is_full_is_not_filled(slabs_plan: Plan) -> None:
    assert words_of(slabs_plan, TUESDAY, TUESDAY).count("left over 20.1 L: fill") == 1


def test_the_day_says_from_when_a_filler_can_be_stripped(slabs_plan: Plan) -> None:
    assert "12:59 small/01 can be stripped (2 blocks): when somebody is free" in words_of(slabs_plan, TUESDAY, TUESDAY)


def test_that_nobody_has_time_set_aside_for_fillers_is_said_where_they_are_used(
    slabs_plan: Plan, small_plan: Plan
) -> None:
    said = "Nobody's time is set aside for them, no place on a rack is counted, and nothing of them is recorded"
    assert said in words_of(slabs_plan, MONDAY, MONDAY)
    assert said not in days_text(small_plan, 2000).plain


def test_a_filler_as_large_as_an_ordered_block_gives_its_mark(slabs_plan: Plan) -> None:
    small = slabs_plan.site.moulds[-1].model_copy(update={"cavity": (190.0, 240.0, 200.0)})
    site = slabs_plan.site.model_copy(update={"moulds": (*slabs_plan.site.moulds[:-1], small)})
    words = words_of(dataclasses.replace(slabs_plan, site=site), MONDAY, MONDAY)
    assert "fill 2 of small/01 (E)" in words


def test_a_plan_made_anew_keeps_the_numbers_of_its_saw_plans(slabs_plan: Plan) -> None:
    begun = Begun(since=datetime.fromisoformat("2027-05-06T08:50"), saw_plans=saw_plans_before(slabs_plan.tables, None))
    anew = dataclasses.replace(slabs_plan, begun=begun)
    before, now = ({one.slabs: one.number for one in saw_plans_of(plan)} for plan in (slabs_plan, anew))
    assert now == before
