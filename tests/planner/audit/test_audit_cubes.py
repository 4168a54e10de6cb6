"""Test cubes: on which days a mix gives a set, and what it takes of its batch."""


def sets(plan, **fields):
    plan.change_site(test_cubes=plan.site.test_cubes.model_copy(update=fields))


def test_a_plan_with_its_cubes_is_good(cubed):
    assert cubed.said() == []


def test_a_set_that_is_missing_is_found(cubed):
    cubed.drop("cubes", batch=1)
    assert ("sets of cubes", "mix wall") in cubed.broken()


def test_a_set_too_many_is_found(cubed):
    cubed.add("cubes", "2 3 3.15")
    assert "on Tue 6 Apr batches of wall give 1 set of test cubes; due are none" in cubed.said()


def test_two_sets_on_one_day_are_found(cubed):
    cubed.add("cubes", "1 3 3.15")
    assert cubed.said()[0] == "on Mon 5 Apr batches of wall give 2 sets of test cubes; due is one"


def test_a_lot_made_before_the_day_asks_for_another_set(cubed):
    sets(cubed, every_l=150.0)
    assert cubed.broken() == [("sets of cubes", "mix wall")]


def test_cubes_where_none_are_asked_for_are_found(cubed):
    cubed.change_site(test_cubes=None)
    assert ("sets of cubes", "mix wall") in cubed.broken()


def test_cubes_of_a_batch_that_is_not_planned_are_found(cubed):
    cubed.set("cubes", {"batch": 1}, batch=9)
    assert ("cubes as asked", "batch 9") in cubed.broken()


def test_a_set_of_other_cubes_is_found(cubed):
    cubed.set("cubes", {"batch": 1}, cubes=2)
    assert cubed.said() == ["batch 1 gives 2 cubes of 3.15 L in all; a set is 3 of 3.15 L"]


def test_the_mix_of_the_cubes_counts_as_poured(cubed):
    cubed.set("batches", {"batch": 1}, poured_l=132.3)
    assert ("poured volume", "batch 1") in cubed.broken()


def test_cubes_that_find_no_room_in_their_batch_are_found(cubed):
    sets(cubed, count=17)
    assert ("enough for its cavities", "batch 1") in cubed.broken()
