"""The plan of an outline: what is needed to set it out, readable on both papers."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from blockrun.order.walls import InnerWall, Opening, Pier, Run, WallPart
from blockrun.show.pictures.wall_plan import wall_plan

SVG = "{http://www.w3.org/2000/svg}"


def house(*, scale: float = 1, **changes: object) -> WallPart:
    """An L with a nook, a door in its south run, a pier in its north one and a hall that ends at the nook."""
    lengths = {"south": 7200, "east": 3000, "nook north": 3000, "nook east": 2400, "north": 4200, "west": 5400}
    runs = {name: Run(name=name, length_mm=long * scale) for name, long in lengths.items()}
    door = Opening(name="door", from_mm=800, sill_mm=0, width_mm=900, height_mm=2100)
    more = {"south": {"openings": (door,)}, "nook north": {"corner": "inside"}}
    more |= {"north": {"piers": (Pier(at_mm=2000, width_mm=400),)}}
    hall = InnerWall(name="hall", from_run="west", at_mm=1000, length_mm=3790)
    given = {"name": "house", "height_mm": 2480, "block": (400, 200, 200), "joint_mm": 10, "inner_walls": (hall,)}
    outline = tuple(run.model_copy(update=more.get(name, {})) for name, run in runs.items())
    return WallPart.model_validate({**given, "outline": outline, **changes})


def bay(angle: float) -> WallPart:
    """Two runs that meet at an angle, with free ends."""
    runs = (Run(name="front", length_mm=3000, angle_deg=angle), Run(name="side", length_mm=2000))
    return house(outline=runs, inner_walls=(), closed=False)


def drawn(wall: WallPart, units: str = "SI") -> ElementTree.Element:
    return ElementTree.fromstring(wall_plan(wall, units=units))


def words(picture: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in picture.iter(f"{SVG}text")]


def test_runs_inner_walls_piers_and_openings_are_named_with_their_lengths_and_places() -> None:
    said = words(drawn(house()))
    assert {"south: 7200", "nook east: 2400", "pier 1: 400 wide, at 2000", "door"} <= set(said)
    assert "hall: 3790, at 1000 of west" in said
    first = said.index("south: 7200")
    assert said[first + 1 : first + 4] == ["800", "900", "5500"]


def test_an_inner_wall_tells_both_its_ends() -> None:
    hall = InnerWall(name="hall", from_run="south", at_mm=1900, length_mm=5000, to="north", to_at_mm=2100)
    runs = tuple(run.model_copy(update={"piers": ()}) for run in house().outline)
    said = words(drawn(house(inner_walls=(hall,), outline=runs)))
    assert "hall: 5000, at 1900 of south and 2100 of north" in said


def test_angles_of_corners_that_are_not_square_are_told() -> None:
    assert "120 deg" in words(drawn(bay(120)))
    assert not any("deg" in word for word in words(drawn(bay(90))))


def test_a_wall_measured_in_inches_is_drawn_in_inches() -> None:
    assert "south: 283 7/16" in words(drawn(house(), "US"))


@pytest.mark.parametrize("scale", [1, 3, 20])
def test_a_sheet_fits_both_papers_and_its_letters_are_read(scale: float) -> None:
    picture = drawn(house(scale=scale, inner_walls=()))
    wide, high = (float(picture.get(side, "").removesuffix("mm")) for side in ("width", "height"))
    assert wide <= 279.4 - 20
    assert high <= 210 - 20
    corners = [point for shape in picture.iter(f"{SVG}polygon") for point in (shape.get("points") or "").split()]
    places = [tuple(map(float, point.split(","))) for point in corners]
    assert all(0 < x < wide and 0 < y < high for x, y in places)
    assert min(float(text.get("font-size", "2.4")) for text in picture.iter(f"{SVG}text")) >= 2.0


def test_a_part_of_an_outline_is_as_long_as_its_scale_says() -> None:
    picture = drawn(house())
    said = next(word for word in words(picture) if word.startswith("drawn 1:"))
    scale = int(said.removeprefix("drawn 1:").partition(",")[0])
    door = next(iter(picture.findall(f"{SVG}polygon")[-1:])).get("points", "").split()
    left, right = (float(point.split(",")[0]) for point in door[:2])
    assert right - left == pytest.approx(900 / scale, abs=0.02)
