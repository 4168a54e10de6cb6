"""Sides, strip, move and clean."""

import pytest

from blockrun.site import Cubes, Strength
from tests.cure.cubes import cubes, law


@pytest.mark.parametrize("job", ["sides", "strip", "move", "clean"])
def test_a_job_without_its_row_is_found(based, job):
    based.drop("tasks", task=job, base="slab-2/b02")
    assert based.said() == [f"slab-2/01 on slab-2/b02 needs 1 {job} row, but has 0"]


@pytest.mark.parametrize("job", ["strip", "move", "clean"])
def test_one_row_too_many_is_found(plain, job):
    plain.add("tasks", f"07T10:00 07T10:12 {job} 1 gang-4/01 - - 4")
    assert plain.said() == [f"gang-4/01 needs 2 {job} rows, but has 3"]


def test_sides_of_a_mould_without_bases_are_found(based):
    based.add("tasks", "06T10:00 06T10:05 sides 1 gang-1/01 - - 1")
    assert based.said() == ["gang-1/01 needs 0 sides rows, but has 1"]


def test_a_job_on_a_mould_that_was_not_filled_is_found(plain):
    plain.add("tasks", "07T10:00 07T10:10 clean 1 gang-4/02 - - -")
    assert plain.broken() == [("one row a job", "gang-4/02")]


@pytest.mark.parametrize("job", ["sides", "strip", "move", "clean"])
def test_a_job_of_another_length_is_found(based, job):
    based.later("tasks", {"task": job, "base": "slab-2/b02"}, "end", 1)
    assert based.broken() == [("job lengths", "slab-2/01 turn 2")]


def test_part_of_a_minute_counts_as_a_whole_one(plain):
    """1.6 min a block: 6.4 min for four, so 7."""
    plain.change_site(move_time_min=1.6)
    assert plain.broken() == [("job lengths", "gang-4/01 turn 1"), ("job lengths", "gang-4/01 turn 2")]
    plain.later("tasks", {"task": "move"}, "end", 1)
    assert plain.broken() == []


@pytest.mark.parametrize("job", ["sides", "strip", "move", "clean"])
@pytest.mark.parametrize(("column", "wrong"), [("people", 2), ("batch", 3), ("blocks", 1)])
def test_a_wrong_cell_of_a_job_is_found(based, job, column, wrong):
    based.set("tasks", {"task": job, "base": "slab-2/b02"}, **{column: wrong})
    assert based.broken() == [("job cells", "slab-2/01 turn 2")]


def test_a_mould_may_be_stripped_the_minute_it_is_old_enough(plain):
    plain.strip_later("gang-4/01", 1, -2)  # 07:58
    assert plain.broken() == []


def test_a_mould_stripped_too_young_is_found(plain):
    plain.strip_later("gang-4/01", 1, -3)
    assert plain.said() == [
        "gang-4/01 is stripped Tue 6 Apr 07:57, but its last pour reaches 24 hours at 20 degC only Tue 6 Apr 07:58"
    ]


def test_a_cold_night_slows_the_set(plain):
    """At a steady 10 degC an hour counts exp(13.65 - 4000/283) = 0.6161 h, so 24 h take 38.95 h, to Tue 22:52."""
    plain.change_site(weather=type(plain.site.weather)(plain.site.calendar.start, ((10.0, 10.0),)))
    assert plain.said() == [
        "gang-4/01 is stripped Tue 6 Apr 08:00, but its last pour reaches 24 hours at 20 degC only Tue 6 Apr 22:53",
        "gang-4/01 is stripped Wed 7 Apr 09:10, but its last pour reaches 24 hours at 20 degC only Thu 8 Apr 00:03",
    ]


def test_an_age_that_never_comes_is_found(plain):
    plain.change_site(weather=type(plain.site.weather)(plain.site.calendar.start, ((-59.0, -59.0),)))
    plain.change_part_of_site("curing", least_air_c=-60.0, strip_at_h=3000.0)
    assert "reaches 3000 hours at 20 degC not within the days looked at" in plain.said()[0]


def test_a_mould_stripped_before_its_pour_is_found(plain):
    plain.strip_later("gang-4/01", 2, -1440)  # Tue 09:10, and the pour of turn 2 moves to 09:15
    plain.batch_later(2, 10)
    assert ("strip age", "gang-4/01 turn 2") in plain.broken()
    assert "gang-4/01 is stripped Tue 6 Apr 09:10, before its last pour ends, Tue 6 Apr 09:15" in plain.said()


def sides_of_turn_1(based, start, end):
    based.set("tasks", {"task": "sides", "base": "slab-2/b01"}, start=start, end=end)
    based.set("casts", {"base": "slab-2/b01"}, sides_off=end)


def test_sides_may_come_off_the_minute_the_turn_is_old_enough(based):
    sides_of_turn_1(based, "05T13:43", "05T13:48")
    assert based.broken() == []


def test_sides_that_come_off_too_young_are_found(based):
    sides_of_turn_1(based, "05T13:42", "05T13:47")
    assert based.said() == [
        "slab-2/01 is freed of its sides Mon 5 Apr 13:42, "
        "but its last pour reaches 6 hours at 20 degC only Mon 5 Apr 13:43"
    ]


def test_a_strip_before_the_sides_are_off_is_found(based):
    based.set("tasks", {"task": "sides", "base": "slab-2/b02"}, start="06T14:01", end="06T14:06")
    based.set("casts", {"base": "slab-2/b02"}, sides_off="06T14:06")
    assert based.said() == ["slab-2/01 is stripped Tue 6 Apr 14:05, before its sides are off, Tue 6 Apr 14:06"]


def test_blocks_that_wait_for_their_move_are_found(plain):
    plain.later("tasks", {"task": "move", "mould": "gang-4/01"}, "start end", 1)
    assert plain.broken() == [("move at strip", "gang-4/01 turn 1"), ("move at strip", "gang-4/01 turn 2")]


def test_a_mould_may_be_cleaned_while_its_blocks_are_moved(plain):
    plain.later("tasks", {"task": "clean", "mould": "gang-4/01"}, "start end", -8)  # Tue 08:12, Wed 09:22
    assert plain.broken() == []


def test_a_mould_cleaned_before_it_is_stripped_is_found(plain):
    plain.later("tasks", {"task": "clean", "mould": "gang-4/01"}, "start end", -9)
    assert plain.said() == [
        "gang-4/01 is cleaned Tue 6 Apr 08:11, before it is stripped, Tue 6 Apr 08:12",
        "gang-4/01 is cleaned Wed 7 Apr 09:21, before it is stripped, Wed 7 Apr 09:22",
    ]


YOUNG = tuple((density, days) for density in (450.0, 600.0, 750.0) for days in (0.5, 1.0, 3.0, 28.0))
AT_24_H = law(600, 1) - 1e-9
"""Without scatter the band of the cubes is their law, so 600 kg/m3 has this at 24 hours."""


def by_strength(plan, **rules):
    plan.change_part_of_site("curing", cubes=Cubes(tuple(cubes(YOUNG))), **rules)


def test_a_strength_to_strip_at_is_worked_out_from_the_cubes(plain):
    by_strength(plain, strip_at_h=Strength(AT_24_H))
    plain.strip_later("gang-4/01", 1, -2)  # 07:58, as for 24 h
    assert plain.broken() == []
    plain.strip_later("gang-4/01", 1, -1)
    assert plain.said() == [
        "gang-4/01 is stripped Tue 6 Apr 07:57, but its last pour reaches 24 hours at 20 degC only Tue 6 Apr 07:58"
    ]


def test_no_mould_is_stripped_before_its_blocks_may_be_moved(plain):
    """24.03 h at 20 degC take 24 h 5 min at 0.998 an hour: from 07:55 to 08:00."""
    by_strength(plain, strip_at_h=20.0, move_at_h=24.03)
    assert plain.broken() == []
    plain.strip_later("gang-4/01", 1, -1)
    assert plain.broken() == [("strip age", "gang-4/01 turn 1")]


def test_a_move_may_wait_for_a_strength(plain):
    by_strength(plain, strip_at_h=20.0, move_at_h=Strength(law(600, 30 / 24) - 1e-9))
    assert "reaches 30 hours at 20 degC only Tue 6 Apr 13:59" in plain.said()[0]


def test_a_move_that_is_allowed_sooner_than_the_strip_changes_nothing(plain):
    by_strength(plain, move_at_h=Strength(law(600, 0.75)))
    assert plain.broken() == []


def test_sides_taken_off_under_their_strength_are_found(based):
    by_strength(based)
    slab = based.site.moulds[0].model_copy(update={"sides_off_at_h": Strength(law(480, 13 / 24) - 1e-9)})
    based.change_site(moulds=(slab, *based.site.moulds[1:]))
    assert ("sides age", "slab-2/01 turn 1") in based.broken()
    assert "reaches 13 hours at 20 degC only" in " ".join(based.said())


def test_the_weakest_mix_ordered_sets_the_age(plain):
    """Had 550 kg/m3 been ordered too, 24 h would not do."""
    by_strength(plain, strip_at_h=Strength(AT_24_H))
    lighter = plain.order.mixes[0].model_copy(update={"oven_dry_density_kg_m3": 550.0})
    plain.order = plain.order.model_copy(update={"mixes": (lighter,)})
    assert ("strip age", "gang-4/01 turn 1") in plain.broken()


def test_a_block_with_its_own_warmth_may_be_stripped_sooner(plain):
    plain.strip_later("gang-4/01", 1, -3)
    assert plain.broken() == [("strip age", "gang-4/01 turn 1")]
    plain.change_part_of_site("curing", heat="modelled")
    assert plain.broken() == []


def test_a_block_with_its_own_warmth_that_is_stripped_too_young_is_found(plain):
    """Twice the age asked for: Tuesday 8:00 is too soon by the air, and by its own warmth too."""
    plain.change_part_of_site("curing", strip_at_h=48.0)
    by_air = plain.said()
    plain.change_part_of_site("curing", heat="modelled")
    by_heat = plain.said()
    assert "only Wed 7 Apr 08:0" in by_air[0]
    assert by_heat[0].startswith("gang-4/01 is stripped Tue 6 Apr 08:00, but its last pour reaches 48 hours at 20 degC")
    assert by_heat[0] != by_air[0]
