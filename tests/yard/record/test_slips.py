"""What is unsafe, or surely a slip, is kept, and whoever typed it is told at once."""

from __future__ import annotations

import pytest

from blockrun.yard.journal.events import Laid
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

MONDAY, TUESDAY, LATER = "2027-04-05 08:24", "2027-04-06 13:00", "2027-04-13 14:00"


@pytest.fixture
def poured(record: Record) -> None:
    record("poured 1", MONDAY)


@pytest.fixture
def racked(record: Record, poured: None) -> None:
    for mould in ("gang-2/1", "gang-2/2", "tray-1/b1"):
        record(f"stripped {mould}", TUESDAY)


def test_a_strip_long_before_its_age_is_kept_and_told(record: Record, recorder: Recorder, poured: None) -> None:
    told = record("stripped gang-2/1", "2027-04-05 08:38")
    assert len(recorder.entries) == 3
    assert told.warnings == (
        "gang-2/01 is stripped 28 h before it is old enough by the air, Tue 6 Apr 12:45. If that is not a slip, set "
        "these blocks apart: they may break and fall.",
    )


def test_a_strip_in_time_passes_without_a_word(record: Record, poured: None) -> None:
    assert record("stripped gang-2/1", TUESDAY).warnings == ()
    assert record("stripped gang-2/2", "2027-04-06 12:00").warnings == ()


def test_a_strip_of_what_a_thumb_sank_into_that_day_is_told(record: Record, poured: None) -> None:
    record("thumb gang-2/1 soft", "2027-04-06 12:50")
    assert "a thumb sank into it Tue 6 Apr 12:50" in record("stripped gang-2/1", TUESDAY).warnings[0]


def test_a_strip_beside_one_that_a_thumb_found_behind_is_told(record: Record, poured: None) -> None:
    record("thumb gang-2/1 dents", "2027-04-06 12:50")
    assert "a thumb left a mark in gang-2/01" in record("stripped gang-2/2", TUESDAY).warnings[0]


def test_a_strip_sooner_than_its_thumbs_let_it_says_whose_time_that_is(record: Record, poured: None) -> None:
    record("thumb gang-2/1 dents", "2027-04-06 12:50")
    assert "before it is old enough by its thumbs" in record("stripped gang-2/1", TUESDAY).warnings[0]


def test_a_thumb_that_found_it_firm_since_lets_it_pass(record: Record, poured: None) -> None:
    record("thumb gang-2/1 soft", "2027-04-06 09:00")
    record("thumb gang-2/1 firm", "2027-04-07 08:50")
    assert record("stripped gang-2/1", "2027-04-07 09:00").warnings == ()


def test_blocks_laid_before_they_are_old_enough_are_told(record: Record, racked: None) -> None:
    assert record("laid wall 1 2 full", LATER).warnings == (
        "2 of the blocks laid are not old enough, to lay from Mon 3 May. If that is not a slip, put no load on them "
        "until then.",
    )


def test_more_laid_in_a_course_than_it_has_is_told(record: Record, racked: None) -> None:
    record("poured 2 gang-2/2", "2027-04-06 14:09")
    record("stripped gang-2/2", "2027-04-08 08:10")
    told = record("laid wall 1 2 half", LATER).warnings[1:]
    assert told == ("wall course 1 has 1 half, and 2 are laid in it now. Is it another course?",)


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        (Measured(foam="40g/L"), "the foam weighs 40 g/L, and by the card it is to weigh 89.3 to 100.7 g/L"),
        (Measured(weight="1200kg/m3"), "the wet mix weighs 1200 kg/m3, and by the card it is to weigh"),
    ],
)
def test_a_batch_far_from_its_card_is_told(record: Record, measured: Measured, said: str) -> None:
    (told,) = record("poured 1", MONDAY, measured=measured).warnings
    assert said in told
    assert "blockrun check tells" in told


def test_a_batch_near_its_card_passes(record: Record, recorder: Recorder) -> None:
    wet = recorder.plan.proportions["light"].wet_density_kg_m3
    assert record("poured 1", MONDAY, measured=Measured("98g/L", f"{wet:.0f}kg/m3")).warnings == ()


@pytest.mark.parametrize("load", ["300kN", "0.5kN"])
def test_a_cube_that_no_such_mix_makes_is_told(record: Record, poured: None, load: str) -> None:
    (told,) = record(f"test cube 1 {load}", LATER).warnings
    assert "Is the load or the size right?" in told


@pytest.mark.parametrize(("load", "age"), [("4kN", "8d"), ("60kN", "8.2d"), ("1kN", "1d")])
def test_a_cube_that_may_be_passes(record: Record, poured: None, load: str, age: str) -> None:
    assert record(f"test cube 1 {load} {age}", LATER).warnings == ()


@pytest.mark.parametrize(
    ("load", "said"),
    [
        ("39kN 4d", "3.9 MPa is 9.8 times as strong as the other cube of batch 1 crushed at that age, 0.4 MPa."),
        ("1kN 4d", "0.1 MPa is 4 times as weak as the other cube of batch 1 crushed at that age, 0.4 MPa."),
    ],
)
def test_a_cube_several_times_as_strong_as_its_others_is_told(
    record: Record, poured: None, load: str, said: str
) -> None:
    assert record("test cube 1 4kN 4d", LATER).warnings == ()
    assert record(f"test cube 1 {load}", LATER).warnings == (f"{said} Is the decimal point right?",)


@pytest.mark.parametrize("load", ["9kN 4d", "2kN 4d", "39kN 8d"])
def test_a_cube_near_its_others_or_of_another_age_passes(record: Record, poured: None, load: str) -> None:
    record("test cube 1 4kN 4d", LATER)
    assert record(f"test cube 1 {load}", LATER).warnings == ()


def test_of_several_cubes_the_one_in_the_middle_is_what_another_is_held_against(record: Record, poured: None) -> None:
    for load in ("4kN", "5kN", "40kN"):
        record(f"test cube 1 {load} 4d", LATER)
    (told,) = record("test cube 1 39kN 4d", LATER).warnings
    assert told.startswith("3.9 MPa is 7.8 times as strong as the others of batch 1 crushed at that age, 0.5 MPa.")


def test_a_count_far_from_the_books_is_told(record: Record, poured: None) -> None:
    (told,) = record("counted cement 42", TUESDAY).warnings
    assert told == "the books say 4.5 bags of cement, and 42 bags are counted. The count is believed: is it right?"
    assert record("counted cement 44", TUESDAY).warnings == ()


def test_a_count_of_blocks_unlike_the_books_is_told(record: Record, racked: None) -> None:
    assert record("counted east 9 full", LATER).warnings == (
        "the books say 3 full on rack east, and 9 are counted. The count is believed: is it right?",
    )
    (told,) = record("counted stack 4 half", LATER).warnings
    assert told.startswith("the books say 0 half on the stack, and 4 are counted")


def test_a_count_of_blocks_that_is_one_short_is_told(record: Record, racked: None) -> None:
    assert record("counted east 2 full", LATER).warnings == (
        "the books say 3 full on rack east, and 2 are counted. The count is believed: is it right?",
    )
    assert record("counted east 2 full", LATER).warnings == ()


def test_a_day_lost_twice_is_told(record: Record) -> None:
    record("lost 2027-04-08 rain", LATER)
    assert record("lost 2027-04-08 rain", LATER).warnings == (
        "Thu 8 Apr is recorded as lost already, entry 1. It counts once.",
    )


def test_somebody_told_away_again_is_told_and_counts_once(record: Record) -> None:
    record("away Ben 2027-04-20", LATER)
    assert record("away Ben and Ada 2027-04-20", LATER).warnings == (
        "Ben is recorded as away on Tue 20 Apr already, entry 1. It counts once.",
    )
    assert record("away ada 2027-04-19 to 2027-04-21", LATER).warnings == (
        "ada is recorded as away on Tue 20 Apr already, entry 2. It counts once.",
    )


@pytest.mark.parametrize(
    ("first", "again"),
    [
        ("away Carl from 2027-04-10 to 2027-04-11", "away Carl 2027-04-10"),
        ("away 2027-04-10 Carl", "away Carl from 2027-04-10"),
        ("away Carl 2027-04-10", "away 2027-04-10 carl ill"),
        ("away from 2027-04-10 to 2027-04-11 Carl", "away 1 from 2027-04-10 Carl"),
    ],
)
def test_a_name_counts_once_wherever_it_stands(record: Record, first: str, again: str) -> None:
    record(first, LATER)
    (warning,) = record(again, LATER).warnings
    assert warning.casefold() == "carl is recorded as away on sat 10 apr already, entry 1. it counts once."


def test_a_number_away_beside_others_is_told_with_their_sum(record: Record) -> None:
    record("away 1 2027-04-20", LATER)
    assert record("away 2 2027-04-20", LATER).warnings == (
        "on Tue 20 Apr 3 people are away by what is recorded, with entry 1 (blockrun record DIR undo 1). "
        "Is one told twice?",
    )


def test_more_people_away_than_there_are_is_told(record: Record) -> None:
    assert record("away 2 2027-04-19 to 2027-04-23", LATER).warnings == ()
    assert record("away 2 2027-04-20", LATER).warnings == (
        "on Tue 20 Apr 4 people are away by what is recorded, and the crew has 3. Is one told twice?",
    )


def test_what_was_told_once_is_not_told_again_when_it_is_sent_again(record: Record) -> None:
    record("away 5", LATER, "phone")
    assert record("away 5", LATER, "phone").warnings == ()


def test_a_cube_older_than_its_batch_is_told(record: Record, poured: None) -> None:
    (told,) = record("test cube 1 20kN 28d", LATER).warnings
    assert told == "batch 1 was poured 8.2 days before, and 28 are told. Is the age right?"


def test_sides_off_long_before_their_age_are_told(record: Record, poured: None) -> None:
    (told,) = record("sides tray-1/1", "2027-04-05 09:00").warnings
    assert told.startswith("the sides come off tray-1/b01 7 h before it is old enough by the air, Mon 5 Apr 16:44")


def test_the_air_told_since_tells_what_is_too_soon(record: Record, poured: None) -> None:
    assert record("stripped gang-2/1", TUESDAY).warnings == ()
    record("weather 1 5 5 Apr", "2027-04-06 07:00")
    assert "h before it is old enough" in record("stripped gang-2/2", TUESDAY).warnings[0]


@pytest.fixture
def light(record: Record) -> None:
    """Batch 1 is far too light, and all of it is on the rack."""
    record("poured 1", MONDAY, measured=Measured(weight="730kg/m3"))
    record("stripped gang-2/1 gang-2/2 tray-1/b1", TUESDAY)


APART = (
    "2 of the blocks laid are of batch 1, outside its card, for there were too few others. If that is not a slip, have "
    "the wall looked at before it carries anything."
)


def test_blocks_laid_that_were_to_be_set_apart_are_told(record: Record, light: None) -> None:
    assert record("laid wall 1 2 full", LATER).warnings[1:] == (APART,)


def test_blocks_that_somebody_answers_for_are_laid_without_a_word(record: Record, light: None) -> None:
    assert record("passed 1 the scales were wet", LATER).warnings == ()
    assert record("passed 1 so they were", LATER).warnings[0].startswith("batch 1 may be used already, by what was")
    told = record("laid wall 1 2 full", LATER)
    assert len(told.warnings) == 1  # they are not old enough
    assert isinstance(told.entries[0].event, Laid)
    assert told.entries[0].event.apart == ()


def test_a_word_for_a_batch_that_is_within_its_card_is_told(record: Record, poured: None) -> None:
    (told,) = record("passed 1 fine", LATER).warnings
    assert told == "nothing is recorded that speaks against batch 1. Is it another batch?"
