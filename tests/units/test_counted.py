"""Numbers of things in words."""

import pytest

from blockrun.units import counted


@pytest.mark.parametrize(
    ("number", "thing", "said"), [(1, "block", "1 block"), (2, "block", "2 blocks"), (0, "batch", "0 batches")]
)
def test_things_are_counted_in_the_plural_but_for_one(number: int, thing: str, said: str) -> None:
    assert counted(number, thing) == said
    assert counted(2, "person", "people") == "2 people"
