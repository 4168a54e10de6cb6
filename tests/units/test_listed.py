"""Numbers said one after the other."""

from __future__ import annotations

import pytest

from blockrun.units import runs_listed


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([], ""),
        ([7], "7"),
        ([5, 4], "4 and 5"),
        ([1, 2, 4, 7, 8, 9], "1, 2, 4 and 7 to 9"),
        ([3, 1, 2, 2], "1 to 3"),
    ],
)
def test_numbers_are_listed_in_runs_of_three_and_more(numbers: list[int], said: str) -> None:
    assert runs_listed(numbers) == said
