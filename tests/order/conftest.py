"""A small order as files, and a way to spoil it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import Order, load_order

ORDER = """\
order: Tool store
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
  - {name: base, wet_density: 900 kg/m3, slurry_water_cement: 0.45}
spares: 5 %
parts:
  - list: blocks.csv
    mix: wall
    needed: {from: 2027-05-12, courses_a_day: 2}
"""
BLOCKS = """\
mark,length_mm,height_mm,thickness_mm,count,mix,course,needed
A,600,300,200,10,base,1,
B,450,300,200,2,base,1,
A,600,300,200,12,,2,
A,600,300,200,12,,3,2027-05-20
L,900,150,200,1,,,
"""

Load = Callable[..., Order]


@pytest.fixture
def order(tmp_path: Path) -> Load:
    """Load the order above, with edits (old, new) to its text and its list given as `blocks`."""

    def load(*edits: tuple[str, str], blocks: str = BLOCKS) -> Order:
        text = ORDER
        for old, new in edits:
            assert old in text
            text = text.replace(old, new, 1)
        (tmp_path / "order.yaml").write_text(text)
        (tmp_path / "blocks.csv").write_text(blocks)
        return load_order(tmp_path / "order.yaml")

    return load


@pytest.fixture
def refusal(order: Load) -> Callable[..., BadInput]:
    """Load an order that must be refused; gives the error."""

    def refuse(*edits: tuple[str, str], blocks: str = BLOCKS) -> BadInput:
        with pytest.raises(BadInput) as caught:
            order(*edits, blocks=blocks)
        return caught.value

    return refuse
