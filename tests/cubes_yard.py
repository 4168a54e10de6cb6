"""The small yard to copy with sets of test cubes, one each day, and an order of one size of block."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Final

CONFIGS: Final = Path(__file__).parents[1] / "configs"
ORDER: Final = """order: a wall
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
parts:
  - {list: blocks.csv, name: wall}
"""


def cubes_yard(folder: Path, size_mm: str, blocks: int, cubes: int, changed: Mapping[str, str] | None = None) -> Path:
    """Its files, written to a folder.

    Parameters
    ----------
    size_mm : of a block, ``600,300,200``.
    blocks, cubes : how many are ordered, and how many there are to a set.
    changed : text of the site and what stands in its place.
    """
    site = (CONFIGS / "small-yard.yaml").read_text(encoding="utf-8")
    sets = f"test_cubes: {{every: day, count: {cubes}, crush_at: [7 d, 28 d]}}"
    for old, new in {"\ncrew:": f"\n{sets}\ncrew:", **(changed or {})}.items():
        assert old in site
        site = site.replace(old, new)
    wanted = "mark,length_mm,height_mm,thickness_mm,count,mix,course,needed"
    listed = f"{wanted}\na,{size_mm},{blocks},wall,1,2027-05-20\n"
    for name, text in (("site.yaml", site), ("order.yaml", ORDER), ("blocks.csv", listed)):
        (folder / name).write_text(text, encoding="utf-8")
    shutil.copy(CONFIGS / "small-yard-weather.csv", folder)
    return folder
