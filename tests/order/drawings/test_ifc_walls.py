"""Walls and openings of an IFC 4 file."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import load_order
from tests.order.drawings.made import (
    NAMED,
    OUTLINE,
    OUTSIDE,
    new_drawing,
    order_of,
    same_blocks,
    spelled_out,
    walls_of,
)
from tests.order.drawings.made_ifc import KEYS, Building, box, house, order_of_ifc

HOUSE = OUTLINE.replace(
    "run 1, length: 6 m",
    "run 1, length: 6 m, openings: [{name: d, from: 1.55 m, sill: 0 m, width: 0.9 m, height: 2.1 m}]",
).replace(
    "run 3, length: 6 m",
    "run 3, length: 6 m, openings: [{name: w, from: 2.4 m, sill: 0.8 m, width: 1.2 m, height: 1.2 m}]",
)


@pytest.mark.parametrize("unit", ["mm", "cm", "m"])
@pytest.mark.parametrize("kind", ["IfcWall", "IfcWallStandardCase"])
def test_a_house_takes_the_blocks_of_the_same_outline_in_any_unit(tmp_path, unit, kind) -> None:
    assert same_blocks(order_of_ifc(tmp_path, house(unit, kind)), spelled_out(tmp_path, HOUSE))


def test_openings_keep_their_names_and_begin_at_the_floor_or_above(tmp_path) -> None:
    (wall,) = walls_of(order_of_ifc(tmp_path, house()))
    found = {(one.name, one.sill_mm, one.head_mm) for run in wall.outline for one in run.openings}
    assert found == {("door", 0, 2100), ("window", 800, 2000)}


def test_mitred_ends_meet_at_the_corner_too(tmp_path) -> None:
    building = Building()
    building.wall("south", [(0, 0), (6, 0), (5.8, 0.2), (0, 0.2)])
    building.wall("east", [(6, 0), (6, 4), (5.8, 4), (5.8, 0.2)])
    (wall,) = walls_of(order_of_ifc(tmp_path, building))
    assert ([run.length_mm for run in wall.outline], wall.closed) == ([6000, 4000], False)


def test_a_wall_inside_meets_the_others_in_a_tee(tmp_path) -> None:
    building = house()
    building.wall("hall", box(3.7, 0.2, 3.9, 3.8))
    (wall,) = walls_of(order_of_ifc(tmp_path, building))
    assert [(inner.from_run, inner.at_mm, inner.length_mm) for inner in wall.inner_walls] == [("run 1", 3700, 3600)]


def test_floors_and_heights_are_walls_of_their_own(tmp_path) -> None:
    building = Building()
    building.wall("cellar", box(0, 0, 6, 0.2), height=2.1, base=-2.2)
    building.wall("ground", box(0, 0, 6, 0.2))
    building.wall("garden", box(0, 8, 4, 8.2), height=1)
    walls = walls_of(order_of_ifc(tmp_path, building))
    assert [(wall.name, wall.length_mm, wall.height_mm) for wall in walls] == [
        ("house 1", 6000, 2100), ("house 2", 4000, 1000), ("house 3", 6000, 2500),
    ]  # fmt: skip


def test_the_order_may_tell_the_height_and_the_storey(tmp_path) -> None:
    building = Building()
    building.wall("cellar", box(0, 0, 6, 0.2), base=-2.6, storey="Cellar")
    building.wall("ground", box(0, 0, 5, 0.2), storey="Ground floor")
    (wall,) = walls_of(order_of_ifc(tmp_path, building, "layer: Ground floor\nheight: 2.3 m"))
    assert (wall.name, wall.length_mm, wall.height_mm) == ("house", 5000, 2300)


def refusal(folder: Path, building: Building, lines: str = "name: house") -> str:
    with pytest.raises(BadInput) as caught:
        order_of_ifc(folder, building, lines)
    return str(caught.value)


def test_a_storey_without_walls_is_answered_with_the_nearest(tmp_path) -> None:
    building = Building()
    building.wall("ground", box(0, 0, 5, 0.2), storey="Ground")
    said = refusal(tmp_path, building, "layer: Grund")
    assert "the drawing has no walls on a storey Grund" in said
    assert "Did you mean Ground?" in said


def test_walls_that_are_not_straight_and_upright_are_refused_by_name(tmp_path) -> None:
    building = Building()
    nook = building.wall("nook", [(0, 0), (5, 0), (5, 3), (4.8, 3), (4.8, 0.2), (0, 0.2)])
    building.wall(None, [(0, 9), (5, 9), (5, 9.4), (0, 9.2)])
    said = refusal(tmp_path, building)
    assert f"wall nook (#{nook.id()}) is not straight, of one thickness and of one height" in said
    assert said.count("is not straight") == 2


def test_walls_thinner_or_thicker_than_the_block_are_refused_by_name(tmp_path) -> None:
    building = Building("m")
    thin = building.wall("thin", box(0, 0, 5, 0.1))
    thick = building.wall("thick", box(0, 9, 5, 9.9))
    said = refusal(tmp_path, building)
    assert f"wall thin (#{thin.id()}) is 100 mm wide: thinner than the block, 200 mm" in said
    assert f"wall thick (#{thick.id()}) is 900 mm wide: thicker than the block, 200 mm" in said


def test_an_opening_in_no_wall_is_refused_with_the_wall_it_belongs_to(tmp_path) -> None:
    building = Building()
    wall = building.wall("south", box(0, 0, 6, 0.2))
    building.opening(wall, "door", box(5.5, -0.1, 6.4, 0.3), 0, 2.1)
    building.opening(wall, "skylight", box(1, 0, 2, 0.2), 3, 1)
    said = refusal(tmp_path, building)
    assert "opening skylight" in said
    assert "of wall south" in said


def test_an_opening_beyond_the_end_is_refused(tmp_path) -> None:
    building = Building()
    wall = building.wall("south", box(0, 0, 6, 0.2))
    building.opening(wall, "door", box(5.5, -0.1, 6.4, 0.3), 0, 2.1)
    assert "goes beyond the end of its wall" in refusal(tmp_path, building)


def test_a_wall_without_a_body_is_refused(tmp_path) -> None:
    building = Building()
    building.file.create_entity("IfcWall", GlobalId="2", Name="idea")
    assert "wall idea" in (said := refusal(tmp_path, building))
    assert "has no body" in said


def test_files_without_walls_units_or_in_an_old_schema_are_refused(tmp_path) -> None:
    assert "the drawing has no walls" in refusal(tmp_path, Building())
    assert "is IFC2X3, and IFC4 is due" in refusal(tmp_path, Building(schema="IFC2X3"))
    bare = house()
    bare.file.remove(bare.file.by_type("IfcUnitAssignment")[0])
    assert "does not say the unit of its lengths" in refusal(tmp_path, bare)


@pytest.mark.parametrize("line", ["unit: mm", "openings: [{opening: DOOR, sill: 0 m}]"])
def test_keys_that_are_for_another_format_are_refused(tmp_path, line) -> None:
    assert f"{line.partition(':')[0]} is said by an IFC file itself" in refusal(tmp_path, house(), line)


def test_a_file_that_is_no_ifc_is_refused(tmp_path) -> None:
    order_of_ifc(tmp_path, house())
    (tmp_path / "house.ifc").write_text("walls and doors")
    with pytest.raises(BadInput, match=r"order\.yaml:5:14: house\.ifc cannot be read as IFC"):
        _again(tmp_path)


def test_without_its_library_the_way_to_install_it_is_said(tmp_path, monkeypatch) -> None:
    order_of_ifc(tmp_path, house())
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    with pytest.raises(BadInput, match=r"pip install 'blockrun\[drawings\]'"):
        _again(tmp_path)


def _again(folder: Path) -> None:
    load_order(folder / "order.yaml")


def test_a_dxf_file_needs_the_height_that_an_ifc_file_says(tmp_path) -> None:
    with pytest.raises(BadInput, match=r"(?s)height is missing.*Write a line such as height: 2.5 m"):
        order_of(tmp_path, new_drawing(OUTSIDE), NAMED, KEYS)


def test_a_file_that_is_cut_off_is_refused(tmp_path) -> None:
    order_of_ifc(tmp_path, house())
    text = (tmp_path / "house.ifc").read_text()
    (tmp_path / "house.ifc").write_text(text[: len(text) // 2])
    with pytest.raises(BadInput, match="it is not a whole file"):
        _again(tmp_path)


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        (box(1, 0, 2, 0.1), "does not go through it"),
        (box(1, 0.05, 2, 0.15), "does not go through it"),
        (box(1, 5, 2, 5.2), "lies beside it"),
    ],
    ids=["a niche", "a hollow", "a hole elsewhere"],
)
def test_what_is_no_hole_through_its_wall_is_refused(tmp_path, plan, said) -> None:
    building = Building()
    wall = building.wall("south", box(0, 0, 6, 0.2))
    opening = building.opening(wall, "niche", plan, 0.8, 1.2)
    assert f"opening niche (#{opening.id()}) of wall south (#{wall.id()}) {said}" in refusal(tmp_path, building)


@pytest.mark.parametrize(("height", "base"), [(2.502, 0), (2.5, 0.002), (2.4975, 0.0025)])
def test_walls_a_hair_apart_in_height_are_of_one_floor(tmp_path, height, base) -> None:
    building = Building()
    south = building.wall("south", box(0, 0, 6, 0.2))
    building.wall("east", box(5.8, 0.2, 6, 4), height=height, base=base)
    building.opening(south, "door", box(1, 0, 2, 0.2), 0, 2.1)
    (wall,) = walls_of(order_of_ifc(tmp_path, building))
    assert ([run.length_mm for run in wall.outline], len(wall.outline[0].openings)) == ([6000, 4000], 1)
    assert wall.height_mm == pytest.approx(2500, abs=5)
