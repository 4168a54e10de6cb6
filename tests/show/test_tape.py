"""Lengths in words, as a tape of the yard shows them."""

from __future__ import annotations

import pytest

from blockrun.show.tape import note_on_tape, words_on_tape


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("to 9.375 in high", "to 9 3/8 in high"),
        ("saw a notch of 4 x 2.5 in (inside)", "saw a notch of 4 x 2 1/2 in (inside)"),
        ("saw to 163 x 150 mm", "saw to 6 7/16 x 5 7/8 in"),
        ("to 9 3/8 in high", "to 9 3/8 in high"),
        ("hollow to a trough", "hollow to a trough"),
    ],
)
def test_inches_are_in_sixteenths(words: str, said: str) -> None:
    assert words_on_tape(words, "US") == said


@pytest.mark.parametrize("words", ["saw to 163 x 150 mm", "to 9.375 in high"])
def test_where_tapes_are_in_millimetres_words_stay(words: str) -> None:
    assert words_on_tape(words, "SI") == words


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ("End joints are 0.433 in, not 0.375 in: blocks", "End joints are 7/16 in, not 3/8 in: blocks"),
        ("End joints are 0.377 in, not 0.375 in: blocks", "End joints are 0.377 in, not 0.375 in: blocks"),
        ("2 in, 0.377 in and 0.375 in of 2 in", "2 in, 0.377 in and 0.375 in of 2 in"),
        ("none is needed at 86.625 in or 99 in.", "none is needed at 86 5/8 in or 99 in."),
        (
            "height written 7.001 in, laid 7.3 in; write height: 7.3 in",
            "height written 7 in, laid 7 5/16 in; write height: 7.3 in",
        ),
        (
            "write 15.625 x 7.625 in; write sill: 3.3 in and height: 7.3 in, or a joint of 0.433 in. It is 0.433 in.",
            "write 15 5/8 x 7 5/8 in; write sill: 3.3 in and height: 7.3 in, or a joint of 7/16 in. It is 7/16 in.",
        ),
        ("plain blocks 6.3125 to 7.625 in long", "plain blocks 6 5/16 to 7 5/8 in long"),
        ("write 23.625 in x 11.6 in x 7.625 in.", "write 23 5/8 in x 11.6 in x 7 5/8 in."),
        ("only 100 mm stand in course 3", "only 100 mm stand in course 3"),
    ],
)
def test_a_note_is_said_in_sixteenths_but_for_what_is_to_be_written_and_is_none(note: str, said: str) -> None:
    assert note_on_tape(note) == said
