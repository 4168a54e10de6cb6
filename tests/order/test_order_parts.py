"""Lists, walls and domes of one order as lines of blocks."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import Order, load_order, spares, takeoff
from blockrun.order.parts import layout_of, notes_of_parts
from blockrun.site import MouldKind

HEAD = """\
order: House
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
spares: 5 %
parts:
"""
WALL = """\
  - wall: north
    length: 7.2 m
    height: 2.7 m
    block: 600 x 300 x 200 mm
    joint: 10 mm
    bond: half
    mix: wall
    openings: [{name: door, from: 1.2 m, sill: 0 m, width: 0.9 m, height: 2.1 m}]
"""
DOME = """\
  - dome: store
    inside_diameter: 4.4 m
    profile: hemisphere
    stem: 1.2 m
    thickness: 200 mm
    course: 300 mm
    block_length: 450 mm
    joint: 10 mm
    openings: [{name: door, width: 0.9 m, height: 2.0 m}]
"""
LIST = "  - list: blocks.csv\n"
BLOCKS = "mark,length_mm,height_mm,thickness_mm,count\nW600,400,200,200,3\n"


@pytest.fixture
def read(tmp_path: Path):
    """An order of these parts."""

    def of(*parts: str) -> Order:
        (tmp_path / "blocks.csv").write_text(BLOCKS, encoding="utf-8")
        (tmp_path / "order.yaml").write_text(HEAD + "".join(parts), encoding="utf-8")
        return load_order(tmp_path / "order.yaml")

    return of


def test_every_block_of_a_wall_and_a_dome_is_in_a_line(read) -> None:
    order = read(WALL, DOME)
    counted: Counter[str] = Counter()
    for line in takeoff(order):
        counted[line.part] += line.count
    assert counted == {part.name: len(layout_of(part).blocks) for part in order.parts}


def test_equal_blocks_of_two_walls_have_one_mark(read) -> None:
    marks = [
        {line.mark for line in takeoff(read(WALL, WALL.replace("north", "south"))) if line.part == part}
        for part in ("north", "south")
    ]
    assert marks[0] == marks[1]


def test_no_made_block_has_the_mark_of_a_list(read) -> None:
    of_list = {line.mark for line in takeoff(read(LIST, WALL)) if line.part == "blocks"}
    made = {line.mark for line in takeoff(read(LIST, WALL)) if line.part == "north"}
    assert of_list == {"W600"}
    assert not made & of_list
    assert "W600-2" in made


def test_a_mark_is_one_block_as_cast_and_spares_are_asked_of_each(read) -> None:
    lines = takeoff(read(WALL, DOME))
    shapes: dict[str, set[object]] = {}
    for line in lines:
        shapes.setdefault(line.mark, set()).add((line.shape, line.role))
    assert {len(found) for found in shapes.values()} == {1}
    asked = spares(read(WALL, DOME), lines)
    assert sorted(line.mark for line in asked) == sorted(shapes)
    assert {line.cut for line in asked} == {""}


def test_what_the_moulds_can_cast_decides_how_a_dome_is_made(read) -> None:
    plain = MouldKind.model_validate(
        {
            "kind": "ring",
            "count": 1,
            "cavities": 2,
            "cavity": "450 x 300 x 200 mm",
            "stop_ends": True,
            "strip_time": "10 min",
            "clean_time": "5 min",
        }
    )
    assert any(line.bevel_deg for line in takeoff(read(DOME)))
    assert not any(line.bevel_deg for line in takeoff(read(DOME), moulds=(plain,)))


def test_notes_of_walls_and_domes_warn_of_lintels_and_rings(read) -> None:
    said = {name: " ".join(notes) for name, notes in notes_of_parts(read(WALL, DOME), ())}
    assert "licensed engineer" in said["north"]
    assert "51.8 deg" in said["store"]


def test_a_part_of_no_kind_is_refused_at_its_place(read) -> None:
    with pytest.raises(BadInput, match=r"(?s)order\.yaml:6:.*a list, a wall, a dome or a drawing.*wall: NAME"):
        read("  - {tower: north}\n")


def test_a_fault_within_a_wall_is_shown_at_its_value(read) -> None:
    with pytest.raises(BadInput, match=r"order\.yaml:13:\d+: door ends 900 mm beyond the end of the wall"):
        read(WALL.replace("from: 1.2 m", "from: 7.2 m"))


def test_a_wall_without_a_mix_is_refused_where_the_order_has_several(read, tmp_path: Path) -> None:
    two = "  - {name: light, oven_dry_density: 500 kg/m3, slurry_water_cement: 0.50}\nspares"
    (tmp_path / "order.yaml").write_text((HEAD + WALL.replace("    mix: wall\n", "")).replace("spares", two), "utf-8")
    with pytest.raises(BadInput, match="no mix is named, and the order has several"):
        load_order(tmp_path / "order.yaml")
