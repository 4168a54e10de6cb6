from __future__ import annotations

from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import load_order
from blockrun.order.mixes_alone import load_mixes

ORDER = """order: Shed
mixes:
  - {name: light, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
  - {name: heavy, oven_dry_density: 900 kg/m3, slurry_water_cement: 0.45}
parts:
  - {list: nowhere.csv}
"""


@pytest.fixture
def order(tmp_path: Path) -> Path:
    path = tmp_path / "order.yaml"
    path.write_text(ORDER, encoding="utf-8")
    return path


def test_mixes_are_those_of_the_whole_order(small_folder: Path) -> None:
    path = small_folder / "inputs" / "order.yaml"
    alone, whole = load_mixes(path), load_order(path)
    assert alone.name == whole.name
    assert {mix.name: mix for mix in alone.mixes} == {mix.name: mix for mix in whole.mixes}


def test_parts_are_not_read(order: Path) -> None:
    assert [mix.name for mix in load_mixes(order).mixes] == ["light", "heavy"]


def test_a_mix_that_is_wrong_is_told_at_its_place(order: Path) -> None:
    order.write_text(ORDER.replace("900 kg/m3", "900"), encoding="utf-8")
    with pytest.raises(BadInput, match="900 has no unit") as refused:
        load_mixes(order)
    assert refused.value.line == 4


def test_two_mixes_of_one_name_are_refused(order: Path) -> None:
    order.write_text(ORDER.replace("name: heavy", "name: light"), encoding="utf-8")
    with pytest.raises(BadInput, match="light") as refused:
        load_mixes(order)
    assert refused.value.line == 4


def test_a_site_in_place_of_an_order_is_told(small_folder: Path) -> None:
    with pytest.raises(BadInput, match="an order is due here"):
        load_mixes(small_folder / "inputs" / "site.yaml")
