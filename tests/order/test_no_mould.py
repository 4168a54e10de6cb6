"""Blocks that no mould casts: one message for one cause, at the part or the row they stand in."""

from pathlib import Path
from typing import Final

import pytest

from blockrun.errors import BadInput
from blockrun.order import load_order, takeoff
from blockrun.order.no_mould import check_castable
from blockrun.site import Site, load_site

EXAMPLE: Final = Path(__file__).parents[2] / "examples" / "demo"


def faults(tmp_path: Path, old: str, new: str) -> list[BadInput]:
    """What is wrong with the example once one of its moulds is another."""
    text = (EXAMPLE / "site.yaml").read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "site.yaml").write_text(text.replace(old, new, 1), encoding="utf-8")
    site: Site = load_site(tmp_path / "site.yaml", files={"weather.csv": EXAMPLE / "weather.csv"})
    order = load_order(EXAMPLE / "order.yaml")
    with pytest.raises(BadInput) as caught:
        check_castable(site, takeoff(order, site.calendar, site.moulds), order)
    return caught.value.all()


def test_blocks_of_a_wall_too_long_for_a_mould_are_told_together_at_its_block(tmp_path: Path):
    (wall,) = faults(tmp_path, "cavity: 600 x 300 x 200 mm", "cavity: 500 x 300 x 200 mm")
    assert wall.what.startswith("no mould can cast 3 marks of yard: W540 (540 x 300 x 200 mm), W600")
    assert wall.todo.startswith("The nearest is gang-4 (500 x 300 x 200 mm); it would need a length of 540 mm and 600")
    assert (Path(wall.file or "").name, wall.text) == (
        "order.yaml",
        "    block: 600 x 300 x 200 mm          # length x height x thickness",
    )


def test_blocks_of_a_dome_too_thick_for_a_mould_are_one_fault_however_their_faces_lean(tmp_path: Path):
    listed, dome = faults(tmp_path, "cavity: 450 x 200 x 200 mm", "cavity: 450 x 200 x 190 mm")
    assert listed.what.startswith("no mould can cast 2 marks of blocks: plinth")
    assert (Path(listed.file or "").name, listed.line) == ("blocks.csv", 2)
    assert dome.what.startswith("no mould can cast 10 marks of store: ")
    assert dome.what.endswith(" and 6 more")
    assert "it would need a thickness of 200 mm and inserts for the faces that lean." in dome.todo
    assert (dome.text or "").strip() == "thickness: 200 mm"


HEAD: Final = "order: T\nmixes: [{name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.5}]\nparts:\n"
POINTED: Final = (
    "  - {dome: d, inside_diameter: 4 m, profile: pointed, rise: 3.5 m, thickness: 200 mm, course: 200 mm,"
    " block_length: 450 mm, joint: 10 mm}\n"
)
THICK: Final = (
    "  - {dome: d, inside_diameter: 4 m, thickness: 300 mm, course: 200 mm, block_length: 450 mm, joint: 10 mm}\n"
)
LYING: Final = "  - {wall: w, length: 6 m, height: 2.1 m, block: 600 x 200 x 300 mm, joint: 10 mm}\n"


def refused(tmp_path: Path, part: str) -> list[BadInput]:
    """What is wrong with a part in the yard of the example."""
    (tmp_path / "order.yaml").write_text(HEAD + part, encoding="utf-8")
    site, order = load_site(EXAMPLE / "site.yaml"), load_order(tmp_path / "order.yaml")
    with pytest.raises(BadInput) as caught:
        check_castable(site, takeoff(order, site.calendar, site.moulds), order)
    return caught.value.all()


def test_a_crown_block_that_no_mould_holds_has_its_own_way_out(tmp_path: Path):
    (crown,) = refused(tmp_path, POINTED)
    assert crown.todo.endswith("Add a mould, or write crown: ring or crown: eye.")


def test_no_sides_of_a_dome_are_to_be_swapped_for_nobody_wrote_them(tmp_path: Path):
    assert not any("swap" in fault.todo for fault in refused(tmp_path, THICK))


def test_a_wall_whose_block_lies_on_its_side_is_told_once_for_all_its_blocks(tmp_path: Path):
    (fault,) = refused(tmp_path, LYING)
    assert fault.todo.startswith("Their height and thickness look swapped")
