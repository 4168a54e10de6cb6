"""What goes into filler moulds is not recorded, and whoever tries is told so and what to do."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.errors import BadInput
from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

MONDAY = "2027-04-05 08:24"


@pytest.fixture
def recorder(recorder: Recorder, small: AsPlanned) -> Recorder:
    """The same yard with a filler mould."""
    filler = small.site.moulds[0].model_copy(update={"kind": "small", "count": 1, "filler": True})
    site = small.site.model_copy(update={"moulds": [*small.site.moulds, filler]})
    recorder.plan = replace(small, site=site)
    return recorder


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("poured 1 small/1", "small/01 is a filler mould"),
        ("stripped small/1", "nothing stands in small/01 at 2027-04-05 08:24"),
        ("thumb small/1 firm", "nothing stands in small/01 at 2027-04-05 08:24"),
        ("rejected small/1 flat", "nothing stands in small/01 at 2027-04-05 08:24"),
        ("moved small/1 to east", "nothing lies beside small/01 to be moved"),
    ],
)
def test_nothing_of_it_is_recorded(record: Record, words: str, what: str) -> None:
    with pytest.raises(BadInput) as refused:
        record(words, MONDAY)
    assert (refused.value.what, refused.value.todo) == (
        what,
        "What is left of a batch and goes into a filler mould is an extra that is not recorded. Once its blocks are on "
        "a rack count them in with all of their mark there, but none of a batch outside its card: blockrun record DIR "
        "counted RACK N MARK. Until then keep a note: blockrun record DIR note small/01 filled",
    )


def test_the_batch_is_recorded_without_it(record: Record, recorder: Recorder) -> None:
    record("poured 1", MONDAY)
    assert "small/01" not in recorder.state.moulds


def test_it_may_be_out_of_use(record: Record, recorder: Recorder) -> None:
    record("mould small/1 out cracked", MONDAY)
    assert recorder.state.out_of_use.keys() == {"small/01"}


def test_blocks_that_came_out_of_it_are_counted_in(record: Record, recorder: Recorder) -> None:
    record("counted east 2 full", MONDAY)
    assert recorder.state.racks["east"].counts == {("full", "light"): 2}
