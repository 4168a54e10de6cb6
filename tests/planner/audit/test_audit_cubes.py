"""Test cubes: how many sets a mix gives by which day, what they take of their batch, their marks and their ages."""

import pytest
from written_plan import written


def sets(plan, **fields):
    plan.change_site(test_cubes=plan.site.test_cubes.model_copy(update=fields))


def without_ages(plan, *batches):
    """The plan whose site does not tell when to crush: sets of so many batches, all their cubes in one row."""
    sets(plan, crush_at_min=())
    rows = (f"{batch} 3 3.15 {number} {number}-1,{number}-3 -" for number, batch in enumerate(batches, 1))
    plan.cubes = written("cubes", "\n".join(rows))
    plan.cubes["marked"] = plan.cubes["marked"].str.replace(",", " to ")


def another_set(plan, batch):
    """A set of another batch, the numbers of both right."""
    without_ages(plan, 1, batch)
    litres = {1: 138.6, 2: 135.45}[batch]
    plan.set("batches", {"batch": batch}, poured_l=litres)
    plan.totals["thrown_away_l"] -= 3.15


def test_a_plan_with_its_cubes_is_good(cubed):
    assert cubed.said() == []


def test_a_plan_whose_site_tells_no_day_to_crush_is_good(cubed):
    without_ages(cubed, 1)
    assert cubed.said() == []


def test_a_set_that_is_missing_is_found(cubed):
    cubed.drop("cubes", batch=1)
    assert "up to Mon 5 Apr batches of wall have given 0 sets of test cubes; due by then is 1" in cubed.said()


def test_a_set_too_many_is_found(cubed):
    another_set(cubed, batch=2)
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 2 sets of test cubes; due by then is 1"]


def test_two_sets_on_one_day_are_found_where_one_lot_is_begun(cubed):
    another_set(cubed, batch=1)
    assert cubed.said() == ["up to Mon 5 Apr batches of wall have given 2 sets of test cubes; due by then is 1"]


@pytest.mark.parametrize("every_l", [150.0, 200.0, 299.0])
def test_a_lot_begun_with_the_second_batch_asks_for_a_set_of_it(cubed, every_l):
    sets(cubed, every_l=every_l)
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 1 set of test cubes; due by then are 2"]


@pytest.mark.parametrize("every_l", [150.0, 200.0, 299.0])
def test_a_lot_begun_with_the_second_batch_has_its_set_of_it(cubed, every_l):
    another_set(cubed, batch=2)
    sets(cubed, every_l=every_l)
    assert cubed.said() == []


def test_one_batch_may_give_the_sets_of_two_lots(cubed):
    another_set(cubed, batch=1)
    sets(cubed, every_l=149.0)
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 2 sets of test cubes; due by then are 3"]
    sets(cubed, every_l=160.0)
    assert cubed.said() == ["up to Mon 5 Apr batches of wall have given 2 sets of test cubes; due by then is 1"]
    cubed.set("batches", {"batch": 1}, poured_l=138.6)
    sets(cubed, every_l=140.0)
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 2 sets of test cubes; due by then are 3"]


def test_each_day_asks_for_a_set_where_lots_are_days(cubed):
    sets(cubed, every_l="day")
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 1 set of test cubes; due by then are 2"]
    another_set(cubed, batch=2)
    assert cubed.said() == []


def test_cement_delivered_on_the_day_asks_for_a_set(cubed):
    """Bags come on Tuesday morning."""
    sets(cubed, every_l="delivery")
    assert cubed.said() == ["up to Tue 6 Apr batches of wall have given 1 set of test cubes; due by then are 2"]
    another_set(cubed, batch=2)
    assert cubed.said() == []


def test_cubes_where_none_are_asked_for_are_found(cubed):
    cubed.change_site(test_cubes=None)
    assert ("sets of cubes", "mix wall") in cubed.broken()


def test_cubes_of_a_batch_that_is_not_planned_are_found(cubed):
    cubed.set("cubes", {"batch": 1}, batch=9)
    assert ("cubes as asked", "batch 9") in cubed.broken()


def test_a_set_of_other_cubes_is_found(cubed):
    without_ages(cubed, 1)
    cubed.set("cubes", {"batch": 1}, cubes=2)
    assert cubed.broken() == [("cubes as asked", "batch 1"), ("cubes marked", "batch 1")]
    assert "batch 1 gives 2 cubes of 3.15 L in all; a set is 3 of 3.15 L" in cubed.said()


def test_the_mix_of_the_cubes_counts_as_poured(cubed):
    cubed.set("batches", {"batch": 1}, poured_l=132.3)
    assert ("poured volume", "batch 1") in cubed.broken()


def test_cubes_that_find_no_room_in_their_batch_are_found(cubed):
    sets(cubed, count=17)
    assert ("enough for its cavities", "batch 1") in cubed.broken()


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"crush": "08T00:00"}, "1 cube of set 1, marked 1-1, crushed on Thu 8 Apr"),
        ({"marked": "1-2"}, "1 cube of set 1, marked 1-2, crushed on Wed 7 Apr"),
        ({"crush": None}, "1 cube of set 1, marked 1-1, no day to crush"),
    ],
)
def test_a_wrong_mark_and_a_wrong_day_are_found(cubed, cells, said):
    cubed.set("cubes", {"cubes": 1}, **cells)
    assert cubed.broken() == [("cubes marked", "batch 1")]
    assert said in cubed.said()[0]


def test_sets_not_numbered_in_the_order_of_their_batches_are_found(cubed):
    cubed.set("cubes", {"batch": 1}, set=2)
    assert cubed.broken() == [("cubes marked", "batch 1")]


def test_a_day_to_crush_that_is_not_worked_is_found(cubed):
    sets(cubed, crush_at_min=(5 * 1440, 7 * 1440))
    cubed.set("cubes", {"cubes": 1}, crush="10T00:00")
    assert cubed.said()[0].endswith("crushed on Sat 10 Apr; due is 1 cube of set 1, marked 1-1, crushed on Mon 12 Apr")


def test_cubes_that_are_not_told_when_to_be_crushed_are_found(cubed):
    without_ages(cubed, 1)
    sets(cubed, crush_at_min=(7 * 1440,))
    assert cubed.broken() == [("cubes marked", "batch 1")]
