"""Plans made anew: what follows from what had happened is judged as ever, and how it was done no more."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from fractions import Fraction

import pytest
import yard_with_bases
from made_anew import ALL_PAST, clean_later, made_anew, sides_later, tell

from blockrun.site import Rack, Weather

TURN_1 = {"mould": "slab-2/01", "turn": 1}


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
    made_anew(based, ALL_PAST).drop("tasks", task="clean", base="slab-2/b01")
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
    "pour life in heat": {"pour_life_min": 15.0, "weather": Weather(date(2027, 4, 5), ((60.0, 60.0),) * 9)},
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


@pytest.mark.parametrize(
    ("by_now", "rule"),
    [
        ({"usable_volume_l": 30.0}, "batch volume"),
        ({"bag_step": Fraction(2)}, "bag steps"),
        ({"left_behind_l": 25.0}, "enough for its cavities"),
    ],
)
def test_batches_that_their_mixer_would_not_take_by_now_were_poured(based, by_now, rule):
    mixers = tuple(mixer.model_copy(update=by_now) for mixer in based.site.mixers)
    made_anew(based, "05T13:40").change_site(mixers=mixers)
    assert based.broken() == [(rule, "batch 3")]


def test_sides_told_of_after_the_strip_came_off(based):
    sides_later(based, 1, 18 * 60)
    assert ("sides before strip", "slab-2/01 turn 1") in based.broken()
    assert made_anew(based, ALL_PAST).broken() == []


def test_a_clean_told_of_before_the_strip_was_done(based):
    clean_later(based, 1, -10)
    assert ("clean after strip", "slab-2/01 turn 1") in based.broken()
    tell(made_anew(based, ALL_PAST), "slab-2/01", 1, clean=datetime.fromisoformat("2027-04-06T07:52"))
    assert based.broken() == []


def test_foam_for_two_mixers_at_once_was_made(based):
    based.batch_later(1, 5)
    based.later("casts", {"batch": 1}, "ready", -5)
    assert ("one foam step at a time", "batch 1") in based.broken()
    assert made_anew(based, ALL_PAST).broken() == []


def test_two_batches_told_of_at_once_in_a_mixer_were_made(based):
    """The first was poured by 14:00, says the journal, and the third by 14:02."""
    based.batch_later(1, 6 * 60 + 18)
    based.later("casts", {"batch": 1}, "ready", -6 * 60 - 18)
    assert ("one batch a mixer", "batch 3") in based.broken()
    assert made_anew(based, ALL_PAST).broken() == []


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


def test_a_rack_that_held_too_much_is_filled_no_fuller_than_it_has_places_once_that_has_left(plain):
    """Four blocks leave it on 13 Apr, and four more come the day after."""
    plain.change_site(racks=(Rack(name="east", places=3),))
    plain.strip_later("gang-4/01", 2, 7 * 1440)
    said = made_anew(plain, "06T12:00").said()
    assert [one for one in said if "east" in one] == ["rack east holds 4 blocks Wed 14 Apr 09:22, but has 3 places"]


def test_moments_before_the_first_day_count_as_its_midnight(plain):
    made_anew(plain, "05T12:00")
    plain.begun = plain.begun.model_copy(
        update={"since": plain.begun.since - timedelta(days=9), "turns": (), "batches": ()}
    )
    assert plain.broken() == []
