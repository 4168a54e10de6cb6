"""Elevations: every block named, readable on both papers, told apart without colour."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from blockrun.order.laid import Laid
from blockrun.order.walls import InnerWall, Opening, Run, WallLayout, WallPart, lay_wall
from blockrun.show.pictures.walls import wall_picture, wall_pictures

SVG = "{http://www.w3.org/2000/svg}"


def wall(**changes: object) -> WallLayout:
    given = {"name": "north", "length_mm": 7200, "height_mm": 2700, "block": (600, 300, 200), "joint_mm": 10}
    openings = (
        Opening(name="door <main>", from_mm=1200, sill_mm=0, width_mm=900, height_mm=2100),
        Opening(name="window", from_mm=3500, sill_mm=900, width_mm=1200, height_mm=1200),
    )
    return lay_wall(
        WallPart.model_validate({**given, "bond": "half", "openings": openings, "ring_beams": (0,), **changes})
    )


def mark(block: Laid) -> str:
    return f"W{600 + round(block.shape.length_mm) % 400}"


def drawn(layout: WallLayout, number: int = 0) -> ElementTree.Element:
    return ElementTree.fromstring(wall_picture(layout, layout.faces[number], mark, "North & south"))


def titles(picture: ElementTree.Element) -> list[str]:
    return [title.text or "" for title in picture.iter(f"{SVG}title")]


def test_every_block_has_a_title_with_its_mark_course_and_size() -> None:
    layout = wall()
    named = [title for title in titles(drawn(layout)) if ", course " in title]
    assert len(named) == len(layout.blocks)
    assert "W800, course 1, cast 600 x 300 x 200 mm" in named


def test_every_block_carries_its_mark_and_every_course_its_number() -> None:
    layout = wall()
    words = [text.text for text in drawn(layout).iter(f"{SVG}text")]
    assert sum((word or "").startswith("W") for word in words) == len(layout.blocks)
    assert {str(course) for course in range(1, 10)} <= set(words)


def test_kinds_are_told_by_letter_and_pattern_beside_colour() -> None:
    picture = drawn(wall())
    words = [text.text or "" for text in picture.iter(f"{SVG}text")]
    assert [word for word in words if word[:2] in ("L:", "R:")] == ["L: lintel, 7", "R: ring beam, 12"]
    assert any(word.endswith(" L") for word in words)
    fills = [shape.get("fill") for shape in picture.iter(f"{SVG}polygon")]
    assert fills.count("url(#dots)") == 7
    assert fills.count("url(#cross)") == 12


def test_names_are_escaped() -> None:
    picture = drawn(wall())
    assert picture.find(f"{SVG}title").text == "North & south"
    assert "door <main>" in titles(picture)


def test_a_scale_bar_is_as_long_as_it_says() -> None:
    picture = drawn(wall())
    said = next(text.text for text in picture.iter(f"{SVG}text") if (text.text or "").startswith("1 m, 1:"))
    scale = int(said.rpartition(":")[2])
    bar = [path.get("d") for path in picture.iter(f"{SVG}path") if f"h{1000 / scale:g}m0" in path.get("d", "")]
    assert len(bar) == 1


def test_dimensions_go_from_jamb_to_jamb() -> None:
    words = [text.text for text in drawn(wall()).iter(f"{SVG}text")]
    chain = ["1200 mm", "900 mm", "1400 mm", "1200 mm", "2500 mm"]
    assert [word for word in words if word in chain] == chain
    assert "2700 mm" in words


@pytest.mark.parametrize("length", [1500, 7200, 30_000])
def test_a_sheet_fits_a4_and_letter_on_their_side(length: int) -> None:
    layout = wall(length_mm=length, openings=())
    for sheet in wall_pictures(layout, layout.faces[0], mark, "any"):
        picture = ElementTree.fromstring(sheet)
        wide, high = (float(picture.get(side).removesuffix("mm")) for side in ("width", "height"))
        assert wide <= 279.4 - 20
        assert high <= 210 - 20


def test_a_long_run_is_spread_until_its_marks_are_read_and_loses_no_block() -> None:
    layout = wall(length_mm=40_000, block=(400, 200, 200), openings=())
    sheets = [ElementTree.fromstring(sheet) for sheet in wall_pictures(layout, layout.faces[0], mark, "long")]
    assert len(sheets) > 1
    sizes = [
        float(text.get("font-size"))
        for sheet in sheets
        for text in sheet.iter(f"{SVG}text")
        if (text.text or "").startswith("W")
    ]
    assert len(sizes) >= len(layout.blocks)
    assert sorted(sizes)[len(sizes) // 10] >= 1.2


def test_ends_of_walls_that_go_through_are_shown() -> None:
    runs = tuple(
        Run(name=name, length_mm=length) for name, length in (("a", 5000), ("b", 4000), ("c", 5000), ("d", 4000))
    )
    inner = InnerWall(name="hall", from_run="a", at_mm=2000, length_mm=2000)
    layout = wall(length_mm=None, outline=runs, inner_walls=(inner,), openings=(), ring_beams=())
    shown = [title for title in titles(drawn(layout)) if title == "end of the wall that goes through here"]
    assert len(shown) == 9 + 4


def test_us_units_are_shown_where_asked_for() -> None:
    layout = wall()
    assert " in" in wall_picture(layout, layout.faces[0], mark, "any", show_in="US")
    assert " ft, 1:" in wall_picture(layout, layout.faces[0], mark, "any", show_in="US")
