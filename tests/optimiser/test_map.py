"""The map of the optimiser in DEVELOPERS.md shows every file there is."""

from __future__ import annotations

import re
from pathlib import Path

TOP = Path(__file__).parents[2]


def test_every_file_of_the_optimiser_is_on_the_map_and_none_that_is_not_there() -> None:
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.split("### Inside the optimiser")[1].split("Three things hold it together")[0]
    there = {path.name for path in (TOP / "blockrun" / "optimiser").glob("*.py")} - {"__init__.py"}
    assert set(re.findall(r"`(\w+\.py)`", table)) == there
