"""Walls of a DXF file: what is drawn, and the walls it stands for."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.order import load_order, takeoff
from blockrun.order.drawings.dxf import MM_IN
from blockrun.order.load import digest_order
from tests.order.drawings.made import (
    INSIDE,
    KEYS,
    NAMED,
    OUTLINE,
    OUTSIDE,
    add_wall,
    new_drawing,
    order_of,
    rectangle,
    same_blocks,
    spelled_out,
    walls_of,
)

CORNERS_LAPPED = (
    rectangle(0, 0, 6000, 200),
    rectangle(5800, 200, 6000, 4000),
    rectangle(0, 3800, 5800, 4000),
    rectangle(0, 200, 200, 3800),
)


@pytest.mark.parametrize(
    "drawn",
    [(OUTSIDE,), (OUTSIDE, INSIDE), (INSIDE[::-1], OUTSIDE[2:] + OUTSIDE[:2]), CORNERS_LAPPED, CORNERS_LAPPED[::-1]],
    ids=["outside alone", "both faces", "clockwise from anywhere", "a rectangle a wall", "in another order"],
)
def test_a_drawn_house_takes_the_blocks_of_the_same_outline(load, tmp_path, drawn) -> None:
    assert same_blocks(load(new_drawing(*drawn)), spelled_out(tmp_path, OUTLINE))


def test_a_closed_centre_line_with_a_width_is_the_same_house(load, tmp_path) -> None:
    drawing = new_drawing()
    add_wall(drawing, rectangle(100, 100, 5900, 3900), width=200)
    assert same_blocks(load(drawing), spelled_out(tmp_path, OUTLINE))


@given(
    unit=st.sampled_from([(1, "in"), (2, "ft"), (4, "mm"), (5, "cm"), (6, "m")]),
    long=st.integers(200, 800),
    wide=st.integers(200, 800),
    told=st.booleans(),
)
@settings(max_examples=30)
def test_the_unit_of_a_drawing_does_not_change_the_blocks(tmp_path_factory, unit, long, wide, told) -> None:
    folder, (code, name) = tmp_path_factory.mktemp("units"), unit
    scale = 10 / MM_IN[name]
    drawing = new_drawing(rectangle(scale, 0, (long + 1) * scale, wide * scale), unit=0 if told else code)
    sides = "".join(f"      - {{run: run {n}, length: {side} cm}}\n" for n, side in enumerate([long, wide] * 2, 1))
    lines = f"{NAMED}\nunit: {name}" if told else NAMED
    assert same_blocks(order_of(folder, drawing, lines), spelled_out(folder, f"    outline:\n{sides}"))


def test_the_order_may_say_that_the_header_is_wrong(load) -> None:
    (wall,) = walls_of(load(new_drawing(rectangle(0, 0, 7.2, 0.2)), f"{NAMED}\nunit: m"))
    assert wall.length_mm == 7200


def test_a_rectangle_is_a_straight_wall_wherever_it_points(load) -> None:
    slanted = [(0, 0), (3000, 4000), (2840, 4120), (-160, 120)]
    (wall,) = walls_of(load(new_drawing(slanted)))
    assert (wall.name, wall.length_mm, wall.block, wall.height_mm) == ("house", 5000, (600, 300, 200), 2500)


def test_walls_apart_are_numbered_from_the_lowest(load) -> None:
    walls = walls_of(load(new_drawing(rectangle(0, 5000, 3000, 5200), rectangle(0, 0, 4000, 200))))
    assert [(wall.name, wall.length_mm) for wall in walls] == [("house 1", 4000), ("house 2", 3000)]


def test_a_drawing_without_a_name_takes_that_of_its_file(load) -> None:
    (wall,) = walls_of(load(new_drawing(OUTSIDE), "layer: WALLS"))
    assert wall.name == "house"


def test_an_angle_of_constant_width_is_two_runs_with_free_ends(load) -> None:
    angle = [(0, 0), (5000, 0), (5000, 3000), (4800, 3000), (4800, 200), (0, 200)]
    (wall,) = walls_of(load(new_drawing(angle)))
    assert [(run.length_mm, run.corner, run.angle_deg) for run in wall.outline[:1]] == [(5000, "outside", 90)]
    assert (wall.outline[1].length_mm, wall.closed) == (3000, False)


def test_an_open_centre_line_with_a_width_is_an_angle_too(load) -> None:
    drawing = new_drawing()
    add_wall(drawing, [(0, 100), (4900, 100), (4900, 3000)], close=False, width=200)
    (wall,) = walls_of(load(drawing))
    assert [run.length_mm for run in wall.outline] == [5000, 3000]


def test_a_nook_is_an_inside_corner(load) -> None:
    nook = [(0, 0), (8000, 0), (8000, 4000), (4000, 4000), (4000, 6000), (0, 6000)]
    (wall,) = walls_of(load(new_drawing(nook)))
    assert [run.corner for run in wall.outline] == ["outside", "outside", "inside", "outside", "outside", "outside"]


def test_other_angles_are_kept(load) -> None:
    bay = [(0, 0), (6000, 0), (7000, 1000), (7000, 4000), (0, 4000)]
    (wall,) = walls_of(load(new_drawing(bay)))
    assert [run.angle_deg for run in wall.outline] == [135, 135, 90, 90, 90]


def test_a_wall_inside_meets_the_outline_in_a_tee(load, tmp_path) -> None:
    order = load(new_drawing(OUTSIDE, INSIDE, rectangle(2500, 200, 2700, 3800)))
    inner = "    inner_walls:\n      - {inner: hall, from: run 1, at: 2.5 m, length: 3.6 m, to: run 3, to_at: 3.3 m}\n"
    assert same_blocks(order, spelled_out(tmp_path, OUTLINE + inner))


def test_a_wall_inside_may_end_free_and_be_drawn_into_the_outline(load) -> None:
    (wall,) = walls_of(load(new_drawing(OUTSIDE, rectangle(2500, 100, 2700, 2200))))
    (inner,) = wall.inner_walls
    assert (inner.from_run, inner.at_mm, inner.length_mm, inner.to) == ("run 1", 2500, 2000, None)


def test_the_order_of_what_is_drawn_never_matters(tmp_path_factory) -> None:
    drawn = [OUTSIDE, INSIDE, rectangle(2500, 200, 2700, 3800), rectangle(9000, 0, 12000, 200)]
    one, other = (order_of(tmp_path_factory.mktemp("order"), new_drawing(*some)) for some in (drawn, drawn[::-1]))
    assert one.parts == other.parts
    assert digest_order(one, takeoff(one)) == digest_order(other, takeoff(other))


def test_walls_on_other_layers_are_left_out(load) -> None:
    drawing = new_drawing(OUTSIDE)
    add_wall(drawing, rectangle(9000, 0, 12000, 200), layer="garden")
    assert len(walls_of(load(drawing))) == 1


def test_old_polylines_are_read_too(load) -> None:
    drawing = new_drawing()
    drawing.modelspace().add_polyline2d([*OUTSIDE, OUTSIDE[0]], dxfattribs={"layer": "walls"})
    assert len(walls_of(load(drawing))[0].outline) == 4


def test_how_walls_are_laid_is_told_once_for_all_of_them(load) -> None:
    lines = f"{NAMED}\nbond: third\nring_beams: [top]\nmix: wall\nneeded: {{from: 2027-05-12, courses_a_day: 2}}"
    for wall in walls_of(load(new_drawing(OUTSIDE, rectangle(9000, 0, 12000, 200)), lines)):
        assert (wall.bond, wall.ring_beams, wall.mix) == ("third", (0,), "wall")
        assert wall.needed is not None


def test_the_drawing_is_among_the_files_an_order_was_read_from(load, tmp_path) -> None:
    order = load(new_drawing(OUTSIDE))
    assert order.sources["house.dxf"] == tmp_path / "house.dxf"
    moved = tmp_path / "copy" / "1.dxf"
    moved.parent.mkdir()
    (tmp_path / "house.dxf").rename(moved)
    assert same_blocks(load_order(tmp_path / "order.yaml", files={"house.dxf": moved}), order)


def test_a_wall_of_a_drawing_and_a_wall_spelled_out_stand_side_by_side(load) -> None:
    order = load(new_drawing(OUTSIDE), NAMED, f"{KEYS}  - wall: garden\n    length: 3 m\n{KEYS}")
    assert {line.part for line in takeoff(order)} == {"house", "garden"}


@pytest.mark.parametrize("kind", ["add_lwpolyline", "add_polyline2d"])
def test_a_width_told_at_each_point_is_a_width(load, tmp_path, kind) -> None:
    drawing = new_drawing()
    points = [(*corner, 200, 200) for corner in rectangle(100, 100, 5900, 3900)]
    getattr(drawing.modelspace(), kind)(points, format="xyse", close=True, dxfattribs={"layer": "walls"})
    assert same_blocks(load(drawing), spelled_out(tmp_path, OUTLINE))
