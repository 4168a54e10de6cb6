"""Openings of a DXF file: blocks with attributes, or with measures told by the order."""

from __future__ import annotations

import pytest

from tests.order.drawings.made import (
    NAMED,
    OUTLINE,
    OUTSIDE,
    add_opening,
    new_drawing,
    rectangle,
    same_blocks,
    spelled_out,
    walls_of,
)

DOOR = {"WIDTH": "900", "HEIGHT": "2100", "SILL": "0"}
WINDOW = {"width": "1200", "height": "1200", "sill": "800"}


def test_openings_lie_where_the_outline_would_have_them(load, tmp_path) -> None:
    drawing = new_drawing(OUTSIDE)
    add_opening(drawing, "DOOR", (2000, 0), **DOOR)
    add_opening(drawing, "WINDOW", (3000, 3900), **WINDOW)
    outline = OUTLINE.replace(
        "run 1, length: 6 m",
        "run 1, length: 6 m, openings: [{name: d, from: 1.55 m, sill: 0 m, width: 0.9 m, height: 2.1 m}]",
    ).replace(
        "run 3, length: 6 m",
        "run 3, length: 6 m, openings: [{name: w, from: 2.4 m, sill: 0.8 m, width: 1.2 m, height: 1.2 m}]",
    )
    assert same_blocks(load(drawing), spelled_out(tmp_path, outline))


@pytest.mark.parametrize("turned", [0, 180])
def test_a_door_inserted_at_its_jamb_lies_where_its_lines_are(load, turned) -> None:
    drawing = new_drawing(OUTSIDE)
    block = drawing.blocks.new("DOOR")
    block.add_line((0, 0), (0, 900))
    block.add_arc((0, 0), 900, 0, 90)
    add_opening(drawing, "DOOR", (2000, 200), turned, **DOOR)
    (door,) = walls_of(load(drawing))[0].outline[0].openings
    assert door.from_mm == pytest.approx(2000 if turned == 0 else 1100, abs=1)


def test_the_order_gives_the_measures_that_a_block_has_not(load) -> None:
    drawing = new_drawing(rectangle(0, 0, 6000, 200))
    add_opening(drawing, "door-90", (2000, 100))
    add_opening(drawing, "DOOR-90", (4000, 100), SILL="300")
    told = "openings: [{opening: DOOR-90, width: 900 mm, height: 2.1 m, sill: 0 m}]"
    (wall,) = walls_of(load(drawing, f"{NAMED}\n{told}"))
    found = {(one.from_mm, one.width_mm, one.head_mm) for one in wall.openings}
    assert found == {(1550, 900, 2100), (3550, 900, 2100)}
    assert len({opening.name for opening in wall.openings}) == 2


def test_attributes_are_in_the_unit_of_the_drawing(load) -> None:
    drawing = new_drawing(rectangle(0, 0, 6, 0.2), unit=6)
    add_opening(drawing, "WINDOW", (3, 0.1), WIDTH="1.2", HEIGHT="0.9", SILL="1")
    (window,) = walls_of(load(drawing))[0].openings
    assert (window.from_mm, window.width_mm, window.height_mm, window.sill_mm) == (2400, 1200, 900, 1000)


def test_a_wall_inside_may_have_a_door(load) -> None:
    drawing = new_drawing(OUTSIDE, rectangle(2500, 200, 2700, 3800))
    add_opening(drawing, "DOOR", (2600, 2000), 90, **DOOR)
    (inner,) = walls_of(load(drawing))[0].inner_walls
    assert [opening.from_mm for opening in inner.openings] == [1350]


def test_blocks_that_are_no_openings_are_passed_over(load) -> None:
    drawing = new_drawing(OUTSIDE)
    add_opening(drawing, "TREE", (20000, 0), SPECIES="oak")
    assert walls_of(load(drawing))[0].outline[0].openings == ()


def test_an_opening_in_no_wall_is_refused_by_name_and_handle(refusal) -> None:
    drawing = new_drawing(OUTSIDE)
    handle = add_opening(drawing, "DOOR", (3000, 2000), **DOOR)
    said = refusal(drawing)
    assert f"order.yaml:5:14: block DOOR ({handle}) on layer doors lies in no wall" in said
    assert "Move it onto a wall in the drawing" in said


def test_an_opening_beyond_the_end_is_refused(refusal) -> None:
    drawing = new_drawing(rectangle(0, 0, 6000, 200))
    add_opening(drawing, "DOOR", (5800, 100), **DOOR)
    assert "goes beyond the end of its wall" in refusal(drawing)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"SILL": ""}, "its sill is missing\n"),
        ({"WIDTH": "wide"}, "WIDTH: wide is not a plain number"),
        ({"HEIGHT": "-3"}, "-3 is no height of an opening"),
        ({"HEIGHT": "2600"}, "the head of DOOR, 2600 mm above the floor, is over the wall"),
    ],
)
def test_measures_that_cannot_be_are_refused(refusal, change, said) -> None:
    drawing = new_drawing(OUTSIDE)
    add_opening(drawing, "DOOR", (3000, 100), **DOOR | change)
    assert said in refusal(drawing)


def test_an_opening_that_is_not_drawn_is_refused_at_its_line(refusal) -> None:
    drawing = new_drawing(OUTSIDE)
    add_opening(drawing, "DOOR", (3000, 100), **DOOR)
    said = refusal(drawing, f"{NAMED}\nopenings: [{{opening: DOR, sill: 0 m}}]")
    assert "order.yaml:8:26: the drawing has no block DOR in it" in said
    assert "Did you mean DOOR?" in said


def test_a_row_of_blocks_inserted_as_one_is_an_opening_each(load) -> None:
    drawing = new_drawing(rectangle(0, 0, 9000, 200))
    drawing.blocks.new("WINDOW")
    row = {"layer": "doors", "column_count": 3, "column_spacing": 2500}
    insert = drawing.modelspace().add_blockref("WINDOW", (1000, 100), row)
    for tag, text in WINDOW.items():
        insert.add_attrib(tag, text)
    (wall,) = walls_of(load(drawing))
    assert {opening.from_mm for opening in wall.openings} == {400, 2900, 5400}


def test_a_row_of_blocks_is_refused_by_its_handle(refusal) -> None:
    drawing = new_drawing(OUTSIDE)
    block = drawing.blocks.new("WINDOW")
    block.add_line((0, 0), (1, 0))
    row = {"layer": "doors", "row_count": 2, "row_spacing": 900}
    insert = drawing.modelspace().add_blockref("WINDOW", (1000, 100), row)
    assert f"block WINDOW ({insert.dxf.handle}) on layer doors" in refusal(drawing)


def test_attributes_that_a_block_has_for_good_are_measures_too(load) -> None:
    drawing = new_drawing(rectangle(0, 0, 6000, 200))
    block = drawing.blocks.new("WINDOW")
    for tag, text in WINDOW.items():
        block.add_attdef(tag, (0, 0), text, dxfattribs={"flags": 2})
    add_opening(drawing, "WINDOW", (3000, 100), SILL="900")
    ((opening,),) = (wall.openings for wall in walls_of(load(drawing)))
    assert (opening.width_mm, opening.sill_mm) == (1200, 900)


@pytest.mark.parametrize("hide", ["off", "freeze"])
def test_openings_on_a_layer_that_does_not_show_are_passed_over(load, hide) -> None:
    drawing = new_drawing(OUTSIDE)
    add_opening(drawing, "DOOR", (3000, 100), **DOOR)
    getattr(drawing.layers.add("doors"), hide)()
    assert walls_of(load(drawing))[0].outline[0].openings == ()


def test_a_door_that_does_not_show_is_passed_over(load) -> None:
    drawing = new_drawing(OUTSIDE)
    handle = add_opening(drawing, "DOOR", (3000, 100), **DOOR)
    drawing.entitydb[handle].dxf.invisible = 1
    assert walls_of(load(drawing))[0].outline[0].openings == ()


@pytest.mark.parametrize("name", ["Door 90", "KITCHEN-WINDOW"])
def test_a_door_without_measures_is_never_left_out_in_silence(refusal, name) -> None:
    drawing = new_drawing(OUTSIDE)
    handle = add_opening(drawing, name, (3000, 100))
    said = refusal(drawing)
    assert f"block {name} ({handle}) on layer doors: its width is missing" in said
    assert "write its width under openings: of this drawing, or take it out" in said
