"""One mould, one base, one turn."""

import pytest


def test_a_turn_poured_on_two_days_is_found(plain):
    """Both moulds are stripped on Wednesday; then the two H change places between Monday's and Tuesday's batch."""
    fill_the_second_mould(plain)
    plain.strip_later("gang-4/01", 1, 1560)  # Wed 10:00 to 10:12
    plain.later("tasks", {"task": "clean", "mould": "gang-4/01"}, "start end", 1560)  # Wed 10:20 to 10:30
    assert plain.broken() == []
    plain.set("casts", {"cast": 4}, batch=2, poured="06T09:05", ready="2027-05-04T09:05")
    plain.set("casts", {"cast": 8}, batch=1, poured="05T07:55", ready="2027-05-03T07:55")
    plain.say("block_days_late", value=3)
    assert plain.said() == [
        f"{turn} turn 1 is poured on Mon 5 Apr and Tue 6 Apr; a turn is poured on one day"
        for turn in ("gang-4/01", "gang-4/02")
    ]


def fill_the_second_mould(plain):
    plain.set("casts", {"turn": 2}, mould="gang-4/02")
    plain.set("casts", {"turn": 2}, turn=1)
    wednesday = plain.tasks["start"].dt.day == 7
    plain.set("tasks", wednesday, mould="gang-4/02")


def test_a_turn_on_two_bases_is_found(based):
    based.set("casts", {"cast": 2}, base="slab-2/b02")
    assert based.said() == ["slab-2/01 turn 1 stands on slab-2/b01 and slab-2/b02; a turn stands on one base"]


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (0, "gang-4/01 turn 0 has a number under 1"),
        (
            3,
            "gang-4/01 turn 2 starts Tue 6 Apr 08:55, but turn 3 of that mould started before it, Mon 5 Apr 07:45",
        ),
    ],
)
def test_turns_that_do_not_count_up_are_found(plain, number, said):
    plain.set("casts", {"turn": 1}, turn=number)
    assert plain.said() == [said]


def test_a_mould_may_be_filled_the_minute_it_is_clean(plain):
    plain.later("tasks", {"task": "clean", "mould": "gang-4/01"}, "start end", 25)  # 08:45 to 08:55 on Tuesday
    assert plain.broken() == []


def test_a_mould_filled_before_it_is_clean_is_found(plain):
    """Clean is done 08:20 to 08:30; half an hour earlier, batch 2 pours from 08:25."""
    plain.batch_later(2, -30)
    assert plain.said() == [
        "gang-4/01 turn 2 is filled Tue 6 Apr 08:25, but gang-4/01 is free of turn 1 only Tue 6 Apr 08:30"
    ]


def test_sides_filled_before_they_are_off_are_found(based):
    """The sides come off 13:45 to 13:50; ten minutes earlier, batch 3 pours from 13:47."""
    based.batch_later(3, -10)
    based.set("casts", {"batch": 3}, ready="09T07:30")
    assert based.said() == [
        "slab-2/01 turn 2 is filled Mon 5 Apr 13:47, but slab-2/01 is free of turn 1 only Mon 5 Apr 13:50"
    ]


def test_a_base_filled_before_it_is_clean_is_found(based):
    based.set("casts", {"base": "slab-2/b02"}, base="slab-2/b01")
    based.set("tasks", {"base": "slab-2/b02"}, base="slab-2/b01")
    assert based.said() == [
        "slab-2/01 turn 2 is filled Mon 5 Apr 13:57 on slab-2/b01, "
        "which is free of slab-2/01 turn 1 only Tue 6 Apr 08:02"
    ]
