"""Lengths in words, as a tape of the yard shows them."""

from __future__ import annotations

import pytest

from blockrun.show.tape import words_on_tape


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
