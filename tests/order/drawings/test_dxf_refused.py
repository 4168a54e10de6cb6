"""Drawings that cannot be built, said with layer and handle."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import load_order
from tests.order.drawings.made import HEAD, KEYS, NAMED, OUTSIDE, add_wall, new_drawing, rectangle


def test_a_layer_that_is_not_there_is_answered_with_the_nearest(refusal) -> None:
    said = refusal(new_drawing(OUTSIDE), "layer: wals\nname: house")
    assert "order.yaml:6:12: the drawing has nothing on a layer wals" in said
    assert "Did you mean walls?" in said


def test_a_missing_layer_is_answered_with_those_there_are(refusal) -> None:
    said = refusal(new_drawing(OUTSIDE), "name: house")
    assert "the layer of the walls is missing" in said
    assert "Write layer: with one of walls." in said


def test_a_layer_without_polylines_is_refused(refusal) -> None:
    drawing = new_drawing()
    drawing.modelspace().add_text("north", dxfattribs={"layer": "walls"})
    assert "no polylines are on layer walls" in refusal(drawing)


def test_an_open_polyline_is_refused_by_its_handle(refusal) -> None:
    drawing = new_drawing()
    handle = add_wall(drawing, OUTSIDE, close=False)
    said = refusal(drawing)
    assert f"polyline {handle} on layer walls is not closed" in said
    assert "Close it, or give it a width if it is the centre line of a wall." in said


def test_single_lines_and_arcs_are_refused(refusal) -> None:
    drawing = new_drawing()
    line = drawing.modelspace().add_line((0, 0), (1000, 0), {"layer": "walls"})
    drawing.modelspace().add_lwpolyline(
        [(0, 0, 1), (1000, 0, 0)], format="xyb", close=True, dxfattribs={"layer": "walls"}
    )
    said = refusal(drawing)
    assert f"line {line.dxf.handle} on layer walls is no polyline" in said
    assert "has an arc in it, and walls are laid straight" in said


@pytest.mark.parametrize(("width", "what"), [(150, "thinner"), (240, "thicker")])
def test_a_wall_of_another_thickness_than_the_block_is_refused(refusal, width, what) -> None:
    drawing = new_drawing()
    handle = add_wall(drawing, rectangle(0, 0, 5000, width))
    said = refusal(drawing)
    assert f"polyline {handle} on layer walls is {width} mm wide: {what} than the block, 200 mm" in said
    assert "order.yaml:5:14" in said


def test_faces_too_near_to_each_other_are_refused(refusal) -> None:
    said = refusal(new_drawing(OUTSIDE, rectangle(150, 150, 5850, 3850)))
    assert "is 150 mm wide: thinner than the block, 200 mm" in said


def test_faces_askew_are_refused(refusal) -> None:
    said = refusal(new_drawing(OUTSIDE, rectangle(200, 200, 5500, 3800)))
    assert "and not everywhere 200 mm from it" in said


def test_a_wall_drawn_twice_is_refused(refusal) -> None:
    assert "is drawn twice" in refusal(new_drawing(OUTSIDE, OUTSIDE))


def test_walls_that_cross_are_refused(refusal) -> None:
    said = refusal(new_drawing(rectangle(0, 2000, 5000, 2200), rectangle(2000, 0, 2200, 5000)))
    assert "cross" in said
    assert "End one of them at the other" in said


def test_a_drawing_without_a_unit_is_refused(refusal) -> None:
    said = refusal(new_drawing(OUTSIDE, unit=0))
    assert "the drawing does not say the unit of its lengths" in said
    assert "Write unit: mm, cm, m, in or ft." in said


def test_a_wrong_unit_is_suspected_of_a_house_that_is_too_small(refusal) -> None:
    said = refusal(new_drawing(rectangle(0, 0, 6, 4)), f"{NAMED}\nunit: mm")
    assert "wide: thinner than the block" in said


def test_what_the_order_can_mend_is_said_once_at_its_key(refusal) -> None:
    keys = KEYS.replace("10 mm", "60 mm").replace("600 x", "50 x")
    said = refusal(new_drawing(rectangle(0, 0, 5000, 200), rectangle(0, 900, 5000, 1100)), NAMED, keys)
    assert said.count("the joint is no smaller than the block") == 1
    assert "joint: 60 mm" in said


def test_a_run_too_short_for_two_corners_is_said_of_its_polyline(refusal) -> None:
    drawing = new_drawing()
    handle = add_wall(drawing, rectangle(0, 0, 6000, 450))
    said = refusal(drawing)
    assert f"polyline {handle} on layer walls: run 2 is too short to have a corner at each end" in said


def test_two_drawings_need_two_names(refusal) -> None:
    more = f"{KEYS}  - {{drawing: house.dxf, layer: walls, height: 3 m, block: 600 x 300 x 200 mm, joint: 10 mm}}\n"
    assert "two parts are called house" in refusal(new_drawing(OUTSIDE), NAMED, more)


def test_a_file_that_is_no_drawing_is_refused(tmp_path: Path) -> None:
    (tmp_path / "house.dxf").write_text("walls and doors")
    (tmp_path / "order.yaml").write_text(f"{HEAD}  - drawing: house.dxf\n    layer: walls\n{KEYS}")
    with pytest.raises(BadInput, match=r"order\.yaml:5:14: house\.dxf cannot be read as DXF"):
        load_order(tmp_path / "order.yaml")


def test_another_format_is_refused(tmp_path: Path) -> None:
    (tmp_path / "house.svg").write_text("<svg/>")
    (tmp_path / "order.yaml").write_text(f"{HEAD}  - drawing: house.svg\n    layer: walls\n{KEYS}")
    with pytest.raises(BadInput, match=r"house\.svg is no drawing that is read here"):
        load_order(tmp_path / "order.yaml")


def test_without_its_library_the_way_to_install_it_is_said(refusal, monkeypatch) -> None:
    drawing = new_drawing(OUTSIDE)
    refused = refusal(drawing, "name: house")
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    assert "layer" in refused
    with pytest.raises(BadInput, match=r"pip install 'blockrun\[drawings\]'"):
        load_order(_folder_of(refused) / "order.yaml")


def _folder_of(said: str) -> Path:
    return Path(said.partition(":")[0]).parent


def test_an_unknown_key_is_answered_with_the_nearest(refusal) -> None:
    assert "Did you mean layer?" in refusal(new_drawing(OUTSIDE), "layr: walls")


def test_names_that_do_not_print_are_shown_with_question_marks(refusal) -> None:
    drawing = new_drawing()
    add_wall(drawing, OUTSIDE, layer="wal\udcb8s")
    assert "Did you mean wal?s?" in refusal(drawing)


@pytest.mark.parametrize(
    "odd",
    [
        [(2500, 200), (2700, 0.5), (2700, 3800), (2500, 3800)],
        [(0, 0), (4000, 0), (4000, 200), (2100, 200), (2100, 3000), (1900, 3000), (1900, 200), (0, 200)],
    ],
    ids=["end askew", "a tee in one line"],
)
def test_what_is_neither_walls_nor_a_building_is_refused(refusal, odd) -> None:
    drawing = new_drawing()
    handle = add_wall(drawing, odd)
    said = refusal(drawing)
    assert f"polyline {handle} on layer walls is neither walls of one width nor the outside of a building" in said
    assert "Draw each wall as a rectangle" in said


def test_a_line_that_grows_wider_is_refused(refusal) -> None:
    points = [(0, 0, 200, 100), (5000, 0, 100, 100), (5000, 3000, 0, 0)]
    drawing = new_drawing()
    line = drawing.modelspace().add_lwpolyline(points, format="xyse", dxfattribs={"layer": "walls"})
    said = refusal(drawing)
    assert f"polyline {line.dxf.handle} on layer walls is not everywhere of one width" in said
    assert "Draw it with one width, or round the wall." in said


def test_what_only_the_drawing_can_mend_is_said_without_units_in_its_name(refusal) -> None:
    said = refusal(new_drawing([(0, 0), (6000, 0), (0, 4000), (6000, 4000)]))
    assert "angle: 33.69 is out of range" in said


@pytest.mark.parametrize(("drawn_on", "put_on"), [("walls", "0"), ("0", "walls"), ("walls", "walls")])
def test_walls_within_a_block_are_never_left_out_in_silence(refusal, drawn_on, put_on) -> None:
    drawing = new_drawing(rectangle(0, 0, 6000, 200))
    corners = rectangle(0, 0, 4000, 200)
    drawing.blocks.new("SHED").add_lwpolyline(corners, close=True, dxfattribs={"layer": drawn_on})
    handle = drawing.modelspace().add_blockref("SHED", (0, 3000), {"layer": put_on}).dxf.handle
    said = refusal(drawing)
    assert f"block SHED ({handle}) has walls within it" in said
    assert "Explode it" in said


def test_a_drawing_that_is_one_block_is_told_to_be_exploded(refusal) -> None:
    drawing = new_drawing()
    drawing.blocks.new("PLAN").add_lwpolyline(OUTSIDE, close=True, dxfattribs={"layer": "walls"})
    drawing.modelspace().add_blockref("PLAN", (0, 0))
    assert "has walls within it" in refusal(drawing)
