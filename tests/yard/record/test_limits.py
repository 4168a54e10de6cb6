"""What is beyond the limits of the journal is refused in words of the yard."""

from __future__ import annotations

from datetime import datetime

import pytest

from blockrun.errors import BadInput
from blockrun.planner.thumbs.pressed import ThumbTest
from blockrun.yard.record.recorder import Recorder, Typed
from blockrun.yard.thumbs import entry_of
from tests.yard.record.conftest import Record

LONG = "x" * 2001


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("test cube 1 0kN", "the load is not more than 0 kN"),
        ("test cube 1 5kN 0x0mm", "a side is not more than 0 mm"),
        ("test cube 1 5kN 4000d", "the age is more than 3650 days"),
        ("test cube 1 5kN 0kg/m3", "the dry density is not more than 0 kg/m3"),
        ("counted sand 99999999999kg", "the amount is not under 1000000000"),
    ],
)
def test_a_number_beyond_its_limits_is_refused_in_words(record: Record, words: str, said: str) -> None:
    record("poured 1", "2027-04-05 08:24")
    with pytest.raises(BadInput) as refused:
        record(words)
    assert refused.value.what == said
    assert str(refused.value.todo).startswith("Write it as: blockrun record DIR ")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (Typed(("note", LONG), "k"), "the note"),
        (Typed(("thrown", "1", LONG), "k"), "the remark"),
        (Typed(("note", "swept"), "k", who=LONG), "who did it"),
        (Typed(("note", "swept"), "k", remark=LONG), "the remark"),
    ],
)
def test_words_that_are_too_long_are_refused(recorder: Recorder, typed: Typed, said: str) -> None:
    with pytest.raises(BadInput) as refused:
        recorder.record(typed)
    assert (refused.value.what, refused.value.todo) == (f"{said} is longer than 2000 letters", "Make it shorter.")
    assert not recorder.path.exists()


def test_a_note_of_a_thumb_that_is_too_long_is_refused() -> None:
    poured, at = map(datetime.fromisoformat, ("2027-04-05T08:24", "2027-04-06T08:00"))
    test = ThumbTest(at, "gang-2/01", "", 1, (1,), "light", poured, 20.0, "firm", at, at, LONG)
    with pytest.raises(BadInput, match="the remark is longer than 2000 letters"):
        entry_of(test, [], at)
