"""Times of a block, and places on a rack."""

from dataclasses import replace
from datetime import date

import pandas as pd
import pytest

from blockrun.site import Cubes, Rack, Stack, Strength
from tests.cure.cubes import cubes, law


@pytest.mark.parametrize("column", ["poured", "sides_off", "strip", "rack_from", "rack_to", "ready"])
def test_a_wrong_time_of_a_block_is_found(based, column):
    based.later("casts", {"cast": 4}, column, 1)
    assert based.broken() == [("block times", "block 4")]


def test_sides_off_in_a_mould_without_bases_is_found(plain):
    plain.set("casts", {"cast": 1}, sides_off="05T16:00")
    assert plain.said() == [
        "the end of taking the sides off of block 1 is written Mon 5 Apr 16:00, but its batch and turn give none"
    ]


def test_blocks_leave_the_rack_in_working_minutes(plain):
    """A week and a day after Tuesday 08:12 is closed, so they leave on Thursday the 15th at 07:30."""
    plain.change_part_of_site("calendar", closed=frozenset({date(2027, 4, 14)}))
    plain.change_part_of_site("curing", rack_for_min=8 * 1440)
    plain.set("casts", {"turn": 1}, rack_to="15T07:30")
    plain.set("casts", {"turn": 2}, rack_to="15T09:22")
    assert plain.broken() == []


def test_the_rack_decides_when_it_holds_blocks_longer_than_they_age(plain):
    plain.change_part_of_site("curing", lay_at_min=7 * 1440)
    plain.set("casts", {"turn": 1}, ready="13T08:12")
    plain.set("casts", {"turn": 2}, ready="14T09:22")
    plain.say("block_days_late", value=0, proven=True)
    assert plain.broken() == []


def test_a_rack_with_too_many_blocks_is_found(plain):
    plain.change_site(racks=(Rack(name="east", places=7), Rack(name="west", places=4)))
    assert plain.said() == ["rack east holds 8 blocks Wed 7 Apr 09:22, but has 7 places"]


def test_each_rack_has_its_own_places(plain):
    plain.change_site(racks=(Rack(name="east", places=4), Rack(name="west", places=4)))
    plain.set("casts", {"turn": 2}, rack="west")
    assert plain.broken() == []


def test_a_place_is_free_the_minute_a_block_leaves_it(plain):
    """A day and 70 minutes on the rack: turn 1 leaves Wed 09:22, when turn 2 comes."""
    plain.change_site(racks=(Rack(name="east", places=4),))
    plain.change_part_of_site("curing", rack_for_min=1440 + 70)
    plain.set("casts", {"turn": 1}, rack_to="07T09:22")
    plain.set("casts", {"turn": 2}, rack_to="08T10:32")
    assert plain.broken() == []


def test_blocks_to_be_laid_at_a_strength_are_ready_when_they_have_it(plain):
    """At 20 degC an hour counts 0.99812: 240 h are there 240.451 h after the pour, so in the 28th minute."""
    plain.change_part_of_site("curing", cubes=Cubes(tuple(cubes())), lay_at_min=Strength(law(600, 10) - 1e-9))
    plain.set("casts", {"turn": 1}, ready="15T08:23")
    plain.set("casts", {"turn": 2}, ready="16T09:33")
    plain.say("block_days_late", value=0, proven=True)
    assert plain.broken() == []
    plain.later("casts", {"cast": 1}, "ready", -1)
    assert plain.broken() == [("block times", "block 1")]


def stacked(plan, places, layers):
    """Off the rack are 3 A and an H from Tuesday 13 April on, as many again from the 14th; laid they are in May."""
    plan.change_site(stack=Stack(places=places, layers=layers))


@pytest.mark.parametrize(("places", "layers"), [(8, 1), (4, 2), (3, 3), (3, 4), (2, 6)])
def test_a_stack_with_the_columns_that_blocks_take_is_enough(plain, places, layers):
    stacked(plain, places, layers)
    assert plain.broken() == []


@pytest.mark.parametrize(("places", "layers", "taken"), [(7, 1, 8), (3, 2, 4), (2, 4, 3)])
def test_a_stack_with_too_few_places_is_found(plain, places, layers, taken):
    stacked(plain, places, layers)
    assert plain.broken() == [("stack places", "stack")]
    assert f"on Wed 14 Apr blocks take {taken} places of the stack, in columns of up to {layers}" in plain.said()[0]


def needed(plan, first, second):
    """Blocks may be laid as soon as they leave the rack; the days are those on which each course is needed."""
    plan.change_part_of_site("curing", lay_at_min=7 * 1440)
    plan.set("casts", {"turn": 1}, ready="13T08:12")
    plan.set("casts", {"turn": 2}, ready="14T09:22")
    blocks = plan.order.parts[0].blocks
    dated = {1: first, 2: second}
    rows = tuple(replace(row, needed=date(2027, 4, dated[row.course])) for row in blocks.rows)
    plan.change_part_of_order(0, blocks=replace(blocks, rows=rows))
    for course, day in dated.items():
        plan.set("casts", {"course": course}, needed=f"{day}T00:00")
    plan.say("block_days_late", value=0, proven=True)


def test_blocks_laid_on_the_day_they_leave_the_rack_make_room_for_the_next_day(plain):
    stacked(plain, 2, 4)
    needed(plain, 13, 14)
    assert plain.broken() == []


def test_blocks_are_on_the_stack_up_to_the_day_they_are_needed_that_day_included(plain):
    stacked(plain, 2, 4)
    needed(plain, 14, 14)
    assert plain.said() == [
        "on Wed 14 Apr blocks take 3 places of the stack, in columns of up to 4, but it has 2 places"
    ]


def test_spares_leave_the_stack_when_they_are_ready(plain):
    """Turn 1 gives the spares, gone after the 13th: on the 14th there are five A in one column, and the H."""
    stacked(plain, 2, 5)
    needed(plain, 20, 14)
    for spare, ordered in ((3, 7), (4, 8)):
        plain.set("casts", {"cast": spare}, part="", course=pd.NA, spare=True, needed=None)
        plain.set("casts", {"cast": ordered}, part="north", course=1, spare=False, needed="20T00:00")
    assert plain.broken() == []
