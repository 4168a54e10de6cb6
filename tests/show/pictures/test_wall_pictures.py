"""Elevations: every block named, readable on both papers, told apart without colour."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from blockrun.order.laid import Laid
from blockrun.order.walls import InnerWall, Opening, Pier, Run, WallLayout, WallPart, lay_wall
from blockrun.show.pictures.wall_names import WallNames
from blockrun.show.pictures.wall_sizes import wall_sizes
from blockrun.show.pictures.walls import wall_pictures

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
    return sheets(layout, number)[0]


def sheets(layout: WallLayout, number: int = 0, units: str = "SI") -> list[ElementTree.Element]:
    names, face = WallNames(layout, mark), layout.faces[number]
    return [ElementTree.fromstring(one) for one in wall_pictures(layout, face, names, "North & south", units=units)]


def words(*pictures: ElementTree.Element) -> list[str]:
    return [text.text or "" for picture in pictures for text in picture.iter(f"{SVG}text")]


def letters(*pictures: ElementTree.Element) -> list[float]:
    return [float(text.get("font-size", "2.4")) for picture in pictures for text in picture.iter(f"{SVG}text")]


def titles(picture: ElementTree.Element) -> list[str]:
    return [title.text or "" for title in picture.iter(f"{SVG}title")]


def test_every_block_has_a_title_with_its_mark_course_and_size() -> None:
    layout = wall()
    named = [title for title in titles(drawn(layout)) if ", course " in title]
    assert len(named) == len(layout.blocks)
    assert "W800, course 1, cast 600 x 300 x 200 mm" in named


def test_every_block_carries_its_mark_or_letters_for_it_and_every_course_its_number_and_top() -> None:
    layout = wall()
    said = words(drawn(layout))
    marked = [word for word in said if word.startswith("W") or word == "a" or word.startswith("x1") or word == "x2"]
    assert len(marked) >= len(layout.blocks)
    assert {str(course) for course in range(1, 10)} <= set(said)
    assert {"310", "2480", "2700"} <= set(said)


def test_kinds_are_told_by_letter_and_pattern_beside_colour() -> None:
    picture = drawn(wall())
    said = words(picture)
    assert [word for word in said if word[:2] in ("L:", "R:")] == ["L: lintel, 7", "R: ring beam, 12"]
    assert any(word.endswith(" L") for word in said)
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
    bar = [
        path.get("d") for path in picture.iter(f"{SVG}path") if f"h{round(1000 / scale, 2):g}m0" in path.get("d", "")
    ]
    assert len(bar) == 1


def test_dimensions_go_from_jamb_to_jamb() -> None:
    chain = ["1200", "900", "1400", "1200", "2500"]
    said = words(drawn(wall()))
    first = next(place for place in range(len(said)) if said[place : place + 5] == chain)
    assert said[first + 5] == "north: 7200 mm long"


def test_inner_walls_and_piers_are_named_and_measured_on_the_run_and_with_the_notes() -> None:
    given = {"name": "house", "height_mm": 2480, "block": (600, 300, 200), "joint_mm": 10}
    runs = [Run(name=one, length_mm=long) for one, long in zip("abcd", (7200, 5400) * 2, strict=True)]
    runs[0] = runs[0].model_copy(update={"piers": (Pier(at_mm=5000, width_mm=400),)})
    hall = InnerWall(name="hall", from_run="a", at_mm=2500, length_mm=4000)
    layout = lay_wall(WallPart.model_validate({**given, "outline": runs, "inner_walls": (hall,)}))
    said = words(drawn(layout))
    chain = ["2500", "200", "2300", "400", "1800"]
    first = next(place for place in range(len(said)) if said[place : place + 5] == chain)
    assert said[first - 2 : first] == ["hall", "pier 1"]
    sized = "\n".join(wall_sizes(layout, WallNames(layout, mark), "any", units="SI"))
    assert "a, hall: from 2500 to 2700<" in sized
    assert "a, pier 1: from 5000 to 5400<" in sized


@pytest.mark.parametrize("length", [1500, 7200, 30_000])
def test_a_sheet_fits_a4_and_letter_on_their_side(length: int) -> None:
    layout = wall(length_mm=length, openings=())
    sized = wall_sizes(layout, WallNames(layout, mark), "any", units="SI")
    for picture in (*sheets(layout), *map(ElementTree.fromstring, sized)):
        wide, high = (float(picture.get(side).removesuffix("mm")) for side in ("width", "height"))
        assert wide <= 279.4 - 20
        assert high <= 210 - 20


def test_a_long_run_is_spread_until_its_marks_are_read_and_loses_no_block() -> None:
    layout = wall(length_mm=40_000, block=(400, 200, 200), openings=())
    spread = sheets(layout)
    assert len(spread) > 1
    assert len({title for sheet in spread for title in titles(sheet) if "course" in title}) > 1
    assert sum(word[:1] in ("W", "x", "a", "b", "c") for word in words(*spread)) >= len(layout.blocks)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"length_mm": 40_000, "block": (400, 200, 200), "openings": ()},
        {"height_mm": 2600, "gable_mm": 2500, "block": (400, 200, 200), "ring_beams": ()},
        {"openings": (Opening(name="slit", from_mm=3000, sill_mm=1010, width_mm=150, height_mm=150),)},
    ],
)
def test_no_letters_are_too_small_to_read(changes: dict[str, object]) -> None:
    layout = wall(**changes)
    assert min(letters(*sheets(layout))) >= 2.0


def test_a_block_too_small_for_its_mark_carries_letters_that_the_legend_tells() -> None:
    layout = wall(openings=(), ring_beams=(), length_mm=20_000)
    said = words(drawn(layout))
    told = [word for word in said if ": W" in word]
    assert told
    carried = {word.partition(" ")[0] for word in said}
    assert all(word.partition(":")[0] in carried for word in told)


def test_letters_for_marks_are_no_letters_of_kinds_in_either_case() -> None:
    layout = wall(openings=(), ring_beams=())
    marks = iter(range(10_000))
    names = WallNames(layout, lambda _: f"W{next(marks)}")
    assert len(names.short) > 30
    assert not {letters.upper() for letters in names.short.values()} & {"C", "L", "P", "R", "S", "X"}


def test_blocks_sawn_alike_have_one_number_whatever_their_mark() -> None:
    layout = wall(openings=(), ring_beams=(), height_mm=2500)
    names = WallNames(layout, mark)
    assert list(names.sawn) == ["to 155 mm high"]
    sized = "\n".join(wall_sizes(layout, names, "any", units="SI"))
    assert len({mark(block) for block in layout.blocks if block.cut}) > 1
    assert sized.count(">x1:") == 1
    assert {word.partition(" ")[2] for word in words(drawn(layout)) if "x" in word.split()[-1][:1]} <= {"x1"}


@pytest.mark.parametrize("gable", [1500, 4000, 9000])
def test_the_legend_stays_on_its_sheet(gable: int) -> None:
    layout = wall(length_mm=7300, height_mm=2600, gable_mm=gable, block=(400, 200, 200))
    for picture in sheets(layout):
        high = float(picture.get("height", "").removesuffix("mm"))
        assert max(float(text.get("y", "0")) for text in picture.iter(f"{SVG}text")) <= high - 1


def test_openings_tell_sill_and_head_and_what_was_written_where_that_differs() -> None:
    said = words(drawn(wall()))
    door = said.index("door <main>")
    lines = ["900 wide", "2180 high", "sill 0", "head 2180", "written", "sill 0", "head 2100"]
    assert said[door + 1 : door + 8] == lines


def test_a_small_opening_tells_what_was_written_in_few_words() -> None:
    openings = (Opening(name="hatch", from_mm=3500, sill_mm=620, width_mm=600, height_mm=600),)
    said = words(drawn(wall(openings=openings)))
    assert said[said.index("hatch") + 1 :][:5] == ["600 x 630", "sill 620", "head 1250", "written", "620, 1220"]


def test_an_opening_laid_as_written_says_no_more() -> None:
    openings = (Opening(name="window", from_mm=3500, sill_mm=930, width_mm=1800, height_mm=1250),)
    said = words(drawn(wall(openings=openings)))
    assert said[said.index("window") + 1 :][:2] == ["1800 wide, 1250 high", "sill 930, head 2180"]
    assert "written" not in " ".join(said)


def test_places_with_too_short_an_overlap_are_marked_and_told() -> None:
    layout = wall(
        openings=(Opening(name="slit", from_mm=3000, sill_mm=960, width_mm=120, height_mm=600),), block=(400, 200, 200)
    )
    n_short = len(layout.faces[0].short_overlaps)
    assert n_short
    assert sum(title == "overlap under the least" for title in titles(drawn(layout))) == n_short
    assert f"overlap under the least, {n_short}" in words(drawn(layout))


def house() -> WallLayout:
    lengths = (("a", 5000), ("b", 4000), ("c", 5000), ("d", 4000))
    runs = tuple(Run(name=name, length_mm=length) for name, length in lengths)
    inner = InnerWall(name="hall", from_run="a", at_mm=2000, length_mm=2000)
    return wall(length_mm=None, outline=runs, inner_walls=(inner,), openings=(), ring_beams=())


def test_an_inner_wall_is_measured_as_it_is_seen_with_what_goes_on_in_brackets() -> None:
    said = words(drawn(house(), 4))
    assert "hall: 2000 mm long as seen" in said
    assert said[said.index("(200)") + 1] == "2000"
    assert "face of the wall it goes on into" in said


def test_a_sheet_says_from_which_side_the_wall_is_seen() -> None:
    layout = house()
    assert ", seen from outside, " in words(drawn(layout))[1]
    assert ", seen from the right as you walk from a, " in words(drawn(layout, 4))[1]
    assert ", seen with its start at the left, " in words(drawn(wall()))[1]


def test_notes_and_sizes_hold_every_note_course_opening_and_cut() -> None:
    layout = wall(gable_mm=1500)
    said = " ".join(
        word
        for sheet in wall_sizes(layout, WallNames(layout, mark), "sizes", units="SI")
        for word in words(ElementTree.fromstring(sheet))
    ).replace("\N{NO-BREAK SPACE}", " ")
    assert all(note in said for note in layout.notes)
    assert "1: 310, 2: 620" in said
    assert "north 1, door <main>: from 1200 to 2100, sill 0, head" in said
    cuts = {block.cut for block in layout.blocks if any(char.isdigit() for char in block.cut)}
    assert cuts
    assert all(cut in said for cut in cuts)


def test_ends_of_walls_that_go_through_are_shown_and_told() -> None:
    picture = drawn(house())
    assert titles(picture).count("end of the wall or pier that goes through here") == 9 + 4
    assert "end of a wall or pier that goes through here" in words(picture)


def test_us_units_are_shown_where_asked_for() -> None:
    said = words(*sheets(wall(), units="US"))
    assert said[1].endswith("lengths in inches")
    assert any(" ft, 1:" in word for word in said)


def test_a_dimension_that_goes_on_in_another_strip_is_told_as_the_whole() -> None:
    said = words(*sheets(wall(length_mm=40_000, openings=())))
    assert "40000 in all" in said


def test_the_legend_says_where_saw_sizes_are() -> None:
    (said,) = (word for word in words(drawn(wall())) if word.startswith("x: sawn, "))
    assert said.endswith(", sizes with the notes or on the list of cuts")


@pytest.mark.parametrize("sides", [8, 12])
def test_a_run_with_skew_ends_is_as_long_as_it_is_written(sides: int) -> None:
    runs = tuple(Run(name=str(n), length_mm=2000, angle_deg=180 - 360 / sides) for n in range(sides))
    said = words(drawn(wall(length_mm=None, outline=runs, openings=(), ring_beams=())))
    assert "0: 2000 mm long" in said
    assert "2000" in said


def test_skew_ends_are_drawn_sawn_and_counted_by_turns() -> None:
    """Nine courses; the cut leaves 200 - 115.5 mm less of each end block in sight, and 231 mm of the other run."""
    runs = tuple(Run(name=str(n), length_mm=3000, angle_deg=120) for n in range(6))
    layout = wall(length_mm=None, outline=runs, openings=(), ring_beams=(), height_mm=2790)
    assert "x: sawn, 18, sizes with the notes or on the list of cuts" in words(drawn(layout))
    ends = [corners for _, corners in layout.faces[0].returns]
    assert len(ends) == 9
    assert {round(max(x for x, _ in one) - min(x for x, _ in one), 1) for one in ends} == {230.9}


def test_what_is_behind_an_inside_corner_at_an_angle_is_told_in_brackets() -> None:
    runs = (Run(name="a", length_mm=3000, angle_deg=120, corner="inside"), Run(name="b", length_mm=3000))
    said = words(drawn(wall(length_mm=None, outline=runs, closed=False, openings=(), ring_beams=())))
    assert said[said.index("(230.9)") - 1] == "3000"
    assert "a: 3000 mm long as seen" in said


def test_one_block_in_one_course_is_said_as_one() -> None:
    layout = wall(length_mm=600, height_mm=300, openings=(), ring_beams=())
    assert any(word.startswith("1 block in 1 course, seen ") for word in words(drawn(layout)))
