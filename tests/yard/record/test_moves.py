"""Blocks are moved on by the mould they came out of or by their batch, and nobody guesses where one is set apart."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput, BlockrunError
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

FIRST, SECOND, LATER, LAY = "2027-04-06 13:00", "2027-04-08 08:10", "2027-04-19 14:00", "2027-04-19 15:00"
LIGHT = Measured(weight="730kg/m3")
"""Outside the card."""


@pytest.fixture
def good(record: Record) -> None:
    """Three full blocks of batch 1 on rack east."""
    record("poured 1", "2027-04-05 08:24")
    record("stripped gang-2/1 gang-2/2", FIRST)


@pytest.fixture
def both(record: Record, good: None) -> None:
    """And two of batch 2, outside its card, on rack west."""
    record("poured 2 gang-2/1", "2027-04-06 14:09", measured=LIGHT)
    record("stripped gang-2/1 to west", SECOND)


@pytest.fixture
def together(record: Record, both: None) -> None:
    """All five on rack east."""
    record("moved gang-2/1 to east", "2027-04-08 08:30")


def on(recorder: Recorder, rack: str) -> list[int]:
    """Of which batches full blocks are on a rack, each block told."""
    lots = recorder.state.racks[rack].lots()
    return [lot.batch[1] for (mark, _), lot in lots if mark == "full" for _ in range(lot.n_blocks)]


def refused(record: Record, words: str, at: str = LATER) -> str:
    with pytest.raises(BlockrunError) as error:
        record(words, at)
    return str(error.value)


def test_what_came_out_of_a_mould_is_moved_on_by_its_name(record: Record, recorder: Recorder, both: None) -> None:
    (said,) = record("moved gang-2/1 to east", LATER).said
    assert said == "moved 2 full of batch 2 from gang-2/01 and rack west to rack east, Mon 19 Apr 14:00."
    assert (on(recorder, "east"), on(recorder, "west")) == ([1, 1, 1, 2, 2], [])


def test_and_once_more(record: Record, recorder: Recorder, together: None) -> None:
    record("moved gang-2/1 1 full to west", LATER)
    assert (on(recorder, "east"), on(recorder, "west")) == ([1, 1, 1, 2], [2])


def test_what_two_batches_filled_is_moved_on_by_both(record: Record, recorder: Recorder) -> None:
    record("poured 3 gang-2/1", "2027-04-08 09:14")
    record("poured 4 gang-2/1", "2027-04-08 09:42", measured=LIGHT)
    record("stripped gang-2/1 to west", "2027-04-12 08:10")
    told = record("moved gang-2/1 to east", LATER)
    assert [entry.event.of[0].batch for entry in told.entries] == [3, 4]  # type: ignore[union-attr]
    assert recorder.state.racks["east"].counts == {("full", "light"): 1, ("sill", "heavy"): 1}


def test_what_went_to_that_rack_is_not_moved_there_again(record: Record, both: None) -> None:
    said = refused(record, "moved gang-2/1 to west")
    assert "nothing lies beside gang-2/01 to be moved" in said
    assert "It went to rack west, entry 8. To move it on: blockrun record DIR moved gang-2/01 to RACK" in said


def test_what_came_out_of_a_mould_that_is_filled_again_is_told_to_be_moved_by_its_batch(
    record: Record, good: None
) -> None:
    record("poured 2 gang-2/1", "2027-04-06 14:09")
    said = refused(record, "moved gang-2/1 to west")
    assert "If it is stripped just now: blockrun record DIR stripped gang-2/01. " in said
    assert said.endswith("before, by its batch: blockrun record DIR moved 2 full of 1 to RACK")


def test_a_number_alone_is_asked_about_where_some_are_set_apart(record: Record, together: None) -> None:
    what, todo = refused(record, "moved 1 full to west").splitlines()
    assert what == "which full? 2 of the 5 that may be meant are of batch 2, outside its card"
    assert todo.strip() == (
        "Nothing was recorded. Name the mould that it came out of, or its batch; of others stands for all that are not "
        "set apart: blockrun record DIR moved 1 full of 2 to west"
    )


def test_what_it_says_to_write_is_taken_where_fewer_are_of_that_batch(record: Record, together: None) -> None:
    todo = refused(record, "moved 4 full to west").splitlines()[1]
    written = "of several batches tell one at a time: blockrun record DIR moved 2 full of 2 to west"
    assert todo.endswith(written)
    record(written.split("DIR ")[1], LATER)


def test_of_an_empty_rack_nothing_is_set_apart(record: Record, both: None) -> None:
    record("moved 2 full of 2 to east", LATER)
    assert refused(record, "stacked west 2 full of others").startswith("2 full (light) are told, and none is on")


@pytest.mark.parametrize(("of", "east", "west"), [("2", [1, 1, 1, 2], [2]), ("others", [1, 1, 2, 2], [1])])
def test_a_number_of_a_batch_is_of_that_batch(
    record: Record, recorder: Recorder, together: None, of: str, east: list[int], west: list[int]
) -> None:
    record(f"moved 1 full of {of} to west", LATER)
    assert (on(recorder, "east"), on(recorder, "west")) == (east, west)


def test_all_there_are_need_no_batch(record: Record, recorder: Recorder, together: None) -> None:
    record("moved 5 full to west", LATER)
    assert on(recorder, "west") == [1, 1, 1, 2, 2]


def test_some_of_good_ones_need_none(record: Record, recorder: Recorder, good: None) -> None:
    record("moved 1 full to west", LATER)
    assert on(recorder, "west") == [1]


def test_a_batch_of_which_none_is_there_is_refused(record: Record, good: None) -> None:
    assert "1 full (light) are told, and none is out of a mould or on another rack, of batch 3" in refused(
        record, "moved 1 full of 3 to west"
    )


def test_blocks_stacked_from_among_some_that_are_set_apart_are_told(record: Record, together: None) -> None:
    assert record("stacked east 1 full", LATER).warnings == (
        "2 of the 5 full on rack east are of batch 2, outside its card; by the books none of them is stacked. Make "
        "sure which. If it is not so, undo this and say it: N full of 2",
    )


def test_blocks_set_apart_that_are_stacked_with_good_ones_are_told(record: Record, together: None) -> None:
    said = "2 of the 5 full that are stacked now are of batch 2, outside its card: keep them apart."
    assert record("stacked east 5 full", LATER).warnings == (said,)


JOINED = "2 of the 5 full on rack east now are of batch 2, outside its card: keep them apart."


def test_blocks_set_apart_that_join_good_ones_on_a_rack_are_told(record: Record, both: None) -> None:
    assert record("moved gang-2/1 to east", LATER).warnings == (JOINED,)
    assert record("moved gang-2/1 1 full to west", LATER).warnings == ()


def test_and_right_out_of_their_mould(record: Record, good: None) -> None:
    record("poured 2 gang-2/1", "2027-04-06 14:09", measured=LIGHT)
    assert record("stripped gang-2/1 to east", SECOND).warnings == (JOINED,)


def test_where_they_lie_together_already_each_further_one_is_not_told(record: Record, together: None) -> None:
    record("moved 1 full of others to west", LATER)
    assert record("moved 1 full of others to east", LATER).warnings == ()


@pytest.mark.parametrize(("first", "then"), [("3 full of others", "2 full"), ("2 full of 2", "3 full")])
def test_and_where_the_one_is_stacked_upon_the_other(record: Record, together: None, first: str, then: str) -> None:
    assert record(f"stacked east {first}", LATER).warnings == ()
    said = "2 of the 5 full that are stacked now are of batch 2, outside its card: keep them apart."
    assert record(f"stacked east {then}", LATER).warnings == (said,)


def test_a_stack_that_is_mixed_already_is_told_again_for_those_set_apart_alone(record: Record, together: None) -> None:
    record("stacked east 1 full of 2", LATER)
    assert record("stacked east 1 full of others", LATER).warnings != ()
    assert record("stacked east 2 full of others again", LATER).warnings == ()
    said = "2 of the 5 full that are stacked now are of batch 2, outside its card: keep them apart."
    assert record("stacked east 1 full of 2 again", LATER).warnings == (said,)


def test_blocks_stacked_by_their_batch_are_of_that(record: Record, recorder: Recorder, together: None) -> None:
    assert record("stacked east 2 full of batch 2", LATER).warnings == ()
    assert on(recorder, "east") == [1, 1, 1]


def test_blocks_laid_from_among_some_that_are_set_apart_are_told(record: Record, together: None) -> None:
    record("stacked east 5 full", LATER)
    assert record("laid wall 1 2 full", LAY).warnings[1:] == (
        "2 of the 5 full on the stack are of batch 2, outside its card; by the books none of them is laid. Make "
        "sure which. If it is not so, undo this and say it: N full of 2",
    )


def test_blocks_laid_where_those_set_apart_are_elsewhere_pass(record: Record, together: None) -> None:
    record("stacked east 3 full of others", LATER)
    assert record("laid wall 1 2 full", LAY).warnings[1:] == ()


def test_blocks_laid_by_their_batch_are_of_that_and_told(record: Record, recorder: Recorder, together: None) -> None:
    told = record("laid wall 1 1 full of 2", LAY)
    assert told.said == ("laid 1 full of batch 2 in wall course 1, Mon 19 Apr 15:00.",)
    assert told.warnings[1:] == (
        "1 of the blocks laid is of batch 2, outside its card. If that is not a slip, have the wall looked at before "
        "it carries anything.",
    )
    assert on(recorder, "east") == [1, 1, 1, 2]


def test_which_blocks_are_thrown_out_from_among_some_that_are_set_apart_is_asked(
    record: Record, recorder: Recorder, together: None
) -> None:
    with pytest.raises(BadInput, match="which full") as asked:
        record("rejected east 1 full cracked", LATER)
    assert "blockrun record DIR rejected east 1 full of 2 WHY" in (asked.value.todo or "")
    record("rejected east 1 full of others cracked", LATER)
    assert on(recorder, "east") == [1, 1, 2, 2]


def test_blocks_thrown_out_by_their_batch_are_of_that(record: Record, recorder: Recorder, together: None) -> None:
    told = record("rejected east 1 full of others of no use", LATER)
    assert (told.said[0][:52], told.warnings) == ("thrown out 1 full of batch 1 of rack east, of no use", ())
    assert on(recorder, "east") == [1, 1, 2, 2]


def test_blocks_that_are_of_no_use_are_thrown_out(record: Record, good: None) -> None:
    assert "of no use" in record("rejected east 1 full of no use", LATER).said[0]


def test_a_count_that_is_short_takes_good_ones_for_missing(record: Record, recorder: Recorder) -> None:
    """What is set apart may be there yet: it is not lost sight of, though it is the oldest."""
    record("poured 1", "2027-04-05 08:24", measured=LIGHT)
    record("stripped gang-2/1 gang-2/2", FIRST)
    record("poured 2 gang-2/1", "2027-04-06 14:09")
    record("stripped gang-2/1 to east", SECOND)
    record("counted east 4 full", LATER)
    assert on(recorder, "east") == [1, 1, 1, 2]
