"""What a wall cannot be is said in a sentence, at its place in the file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files.models import read_model
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.order.walls import WallPart

WALL = """\
wall: north
length: 7.2 m
height: 2.7 m
block: 600 x 300 x 200 mm
joint: 10 mm
bond: half
mix: wall
openings:
  - {name: door, from: 1.2 m, sill: 0 m, width: 0.9 m, height: 2.1 m}
  - {name: window, from: 3.5 m, sill: 0.9 m, width: 1.2 m, height: 1.2 m}
needed: {from: 2027-05-12, courses_a_day: 2}
"""
HOUSE = """\
wall: house
height: 2.5 m
block: 400 x 200 x 200 mm
joint: 10 mm
bond: half
outline:
  - {run: south, length: 6 m}
  - {run: east, length: 4 m}
  - run: north
    length: 6 m
    openings: [{name: door, from: 1 m, sill: 0 m, width: 1 m, height: 2.1 m}]
  - {run: west, length: 4 m}
inner_walls:
  - {inner: hall, from: south, at: 2 m, length: 3.6 m, to: north, to_at: 3.8 m}
"""


def read(tmp_path: Path, text: str) -> WallPart:
    (tmp_path / "order.yaml").write_text(text)
    return read_model(WallPart, read_yaml(tmp_path / "order.yaml"), References(tmp_path, {}))


def spoilt(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(old, new, 1)


def test_the_wall_of_the_format_is_read(tmp_path: Path) -> None:
    wall = read(tmp_path, WALL)
    assert (wall.name, wall.length_mm, wall.block, wall.bond) == ("north", 7200, (600, 300, 200), "half")
    assert [opening.to_mm for opening in wall.openings] == [2100, 4700]


def test_a_house_is_read_and_keeps_the_order_of_its_runs(tmp_path: Path) -> None:
    wall = read(tmp_path, HOUSE)
    assert [run.name for run in wall.outline] == ["south", "east", "north", "west"]


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ("from: 1.2 m", "from: 6.5 m", 9, "door ends 200 mm beyond the end of the wall"),
        ("from: 3.5 m", "from: 2 m", 10, "window and door overlap"),
        ("width: 0.9 m", "width: 7.5 m", 9, "door is wider than the wall, which is 7200 mm long"),
        ("height: 2.1 m", "height: 2.8 m", 9, "the head of door, 2800 mm above the floor, is over the wall"),
        ("sill: 0.9 m", "sill: 3 m", 10, "the sill of window is over the wall, 2700 mm high there"),
        ("name: window", "name: door", 10, "two openings are called door"),
        ("600 x 300 x 200 mm", "20 x 8 x 10 mm", 5, "the joint is no smaller than the block, 8 mm"),
        ("length: 7.2 m\n", "", 1, "length is missing"),
        ("bond: half", "bond: flemish", 6, "flemish is not known here"),
        ("joint: 10 mm", "joint: 10 mm\nring_beams: [12]", 6, "the wall has no course 12"),
        ("joint: 10 mm", "joint: 10 mm\noverlap: a bit", 6, "a bit is no overlap"),
        (
            "joint: 10 mm",
            "joint: 10 mm\ngable: 1 m\ntops: [{at: 0 m, height: 2 m}, {at: 7.2 m, height: 3 m}]",
            6,
            "both",
        ),
        ("joint: 10 mm", "joint: 10 mm\ntops: [{at: 0 m, height: 3 m}, {at: 5 m, height: 3 m}]", 6, "from end to end"),
        ("joint: 10 mm", "joint: 10 mm\npiers: [{at: 7 m, width: 400 mm}]", 6, "the pier ends beyond the wall"),
        ("joint: 10 mm", "joint: 10 mm\npiers: [{at: 1 m, width: 400 mm}]", 6, "the pier stands in the opening door"),
        (
            "joint: 10 mm",
            "joint: 10 mm\npiers: [{at: 5 m, width: 400 mm}, {at: 5.3 m, width: 400 mm}]",
            6,
            "two piers overlap",
        ),
        ("height: 2.7 m", "height: 50 mm", 3, "lower than the lowest course and its joint, 85 mm"),
        ("length: 7.2 m", "length: 7200 m", 2, "7200 m is out of range"),
        ("600 x 300 x 200 mm", "12 x 11 x 5 mm", 4, "the wall would take some 42078 blocks"),
        ("length: 7.2 m", "length: 0.1 m", 2, "north is shorter than the shortest block, 150 mm"),
    ],
)
def test_a_wall_is_refused(tmp_path: Path, old: str, new: str, line: int, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(WALL, old, new))
    fault = caught.value
    assert said in str(fault)
    assert fault.todo
    if "tops" not in new:
        assert (fault.line, Path(fault.file or "").name) == (line, "order.yaml")


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ("{run: west, length: 4 m}", "{run: west, length: 4.5 m}", 6, "the outline ends 500 mm from where it starts"),
        ("{run: east, length: 4 m}", "{run: east, length: 4 m, corner: inside}", 6, "turn 180 deg in all"),
        ("{run: west, length", "{run: east, length", 12, "two runs are called east"),
        ("from: 1 m, sill", "from: 0.2 m, sill", 11, "door leaves no room for a block beside the corner of north"),
        ("to: north", "to: nowhere", 14, "there is no run nowhere"),
        (", to_at: 3.8 m", "", 14, "where on north it ends is missing"),
        ("to_at: 3.8 m", "to_at: 1.2 m", 14, "hall meets north within a joint of its opening door"),
        ("at: 2 m", "at: 6.5 m", 14, "hall meets south beyond its end, at 6000 mm"),
        ("at: 2 m", "at: 0.1 m", 14, "hall meets south too near its end to be bonded"),
        ("  - {inner: hall", "  - {inner: a, from: south, at: 1.8 m, length: 1 m}\n  - {inner: hall", 15, "each other"),
        ("to_at: 3.8 m", "to_at: 3.6 m", 14, "hall meets north 3800 mm from its start, not 3600 mm"),
        ("length: 3.6 m, to", "length: 3 m, to", 14, "hall ends 600 mm short of north"),
        ("length: 3.6 m, to: north, to_at: 3.8 m", "length: 3.7 m", 14, "hall ends within north"),
        ("length: 3.6 m, to", "length: 3.7 m, to", 14, "hall ends within north"),
        ("to: north, to_at: 3.8 m", "to: east, to_at: 2 m", 14, "hall does not meet east square"),
        (
            "  - {inner: hall",
            "  - {inner: a, from: west, at: 2 m, length: 3 m}\n  - {inner: hall",
            15,
            "hall and a cross",
        ),
        (
            "{run: south, length: 6 m}",
            "{run: south, length: 6 m, piers: [{at: 0.1 m, width: 200 mm}]}",
            7,
            "the pier stands in the corner of south",
        ),
        (
            "{run: south, length: 6 m}",
            "{run: south, length: 6 m, piers: [{at: 1.9 m, width: 200 mm}]}",
            7,
            "the pier stands where an inner wall meets the run",
        ),
        ("bond: half", "bond: half\nlength: 4 m", 7, "length and outline are both given"),
        ("bond: half", "bond: half\ngable: 4 m", 6, "gable stands beside an outline"),
    ],
)
def test_a_house_is_refused(tmp_path: Path, old: str, new: str, line: int, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(HOUSE, old, new))
    assert said in str(caught.value)
    assert abs((caught.value.line or 0) - line) <= 1
    assert caught.value.todo


NOOK = """\
wall: bay
height: 2.5 m
block: 400 x 200 x 200 mm
joint: 10 mm
bond: half
closed: false
outline:
  - {run: side, length: 2 m, angle: 60 deg}
  - run: front
    length: 2 m
    openings: [{name: door, from: 0.5 m, sill: 0 m, width: 1 m, height: 2.1 m}]
"""


@pytest.mark.parametrize(
    ("old", "new", "said", "todo"),
    [
        # 210 / sin 60 = 242.5 mm are the other run's, 200 / tan 60 = 115.5 mm more of the inside, and a block is 100 mm
        ("from: 0.5 m", "from: 0.4 m", "door leaves no room for a block beside the corner", "from 458 mm to 2000 mm"),
        (
            "side, length: 2 m",
            "side, length: 0.6 m",
            "side is too short to have a corner at each end",
            "at least 668 mm",
        ),
    ],
)
def test_a_skew_corner_takes_room(tmp_path: Path, old: str, new: str, said: str, todo: str) -> None:
    assert read(tmp_path, NOOK).outline
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(NOOK, old, new))
    assert said in str(caught.value)
    assert todo in (caught.value.todo or "")


def test_a_fault_in_an_opening_points_at_its_value(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(WALL, "from: 3.5 m", "from: 6.5 m"))
    assert str(caught.value).splitlines()[1:3] == [
        "    - {name: window, from: 6.5 m, sill: 0.9 m, width: 1.2 m, height: 1.2 m}",
        "                           ^",
    ]


def test_the_pitch_of_a_roof_is_answered_with_the_rise_of_its_gable(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="35 deg is an angle, and the rise of the peak is a length") as caught:
        read(tmp_path, spoilt(WALL, "bond: half", "bond: half\ngable: 35 deg"))
    assert caught.value.todo == "Write half of the run's length x 0.700: over a run of 5 m that is 1.75 m."
    with pytest.raises(BadInput, match="gable: steep"):
        read(tmp_path, spoilt(WALL, "bond: half", "bond: half\ngable: steep"))
    assert read(tmp_path, spoilt(WALL, "bond: half", "bond: half\ngable: 1.75 m")).gable_mm == 1750


def test_an_inner_wall_in_an_opening_is_told_where_it_is_clear(tmp_path: Path) -> None:
    hall = "to: north, to_at: 3.8 m"
    with pytest.raises(BadInput) as caught:
        read(
            tmp_path, spoilt(HOUSE, "from: south, at: 2 m, length: 3.6 m, " + hall, "from: north, at: 2 m, length: 3 m")
        )
    assert "hall meets north within a joint of its opening door" in str(caught.value)
    assert caught.value.todo == "Write up to 790 mm, or from 2010 mm on."


CORNERED = """\
wall: house
height: 2.5 m
block: 600 x 300 x 200 mm
joint: 10 mm
outline:
  - {run: south, length: 7.2 m}
  - {run: east, length: 3 m}
  - {run: nook north, length: 3 m, corner: inside}
  - {run: nook east, length: 2.4 m}
  - {run: north, length: 4.2 m}
  - {run: west, length: 5.4 m}
inner_walls:
  - {inner: hall, from: west, at: 2.5 m, length: 4 m}
"""


@pytest.mark.parametrize("length", ["4 m", "3.85 m", "3.8 m"])
def test_an_inner_wall_that_runs_into_the_corner_of_a_nook_is_told_how_long_it_may_be(
    tmp_path: Path, length: str
) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(CORNERED, "length: 4 m}", f"length: {length}}}"))
    assert "hall ends within nook north and nook east" in str(caught.value)
    assert "up to 3790 mm" in (caught.value.todo or "")
    assert read(tmp_path, spoilt(CORNERED, "length: 4 m}", "length: 3790 mm}")).inner_walls


def test_an_inner_wall_whose_built_in_end_runs_into_another_run_is_refused(tmp_path: Path) -> None:
    text = spoilt(CORNERED, "from: west, at: 2.5 m, length: 4 m", "from: south, at: 4 m, length: 2.7 m")
    with pytest.raises(BadInput, match="hall ends within nook north and nook east"):
        read(tmp_path, text)


def test_a_wall_that_ends_beside_another_is_no_crossing(tmp_path: Path) -> None:
    beside = "  - {inner: a, from: west, at: 2 m, length: 1.8 m}\n  - {inner: hall"
    assert len(read(tmp_path, spoilt(HOUSE, "  - {inner: hall", beside)).inner_walls) == 2


LIGHT = "openings:\n  - {name: light, from: 1.2 m, sill: %s, width: 0.6 m, height: 0.2 m}"


@pytest.mark.parametrize(("sill", "clear"), [("2.12 m", "2480 mm"), ("2.35 m", "2480 mm")])
def test_an_opening_over_another_leaves_a_course_for_a_lintel(tmp_path: Path, sill: str, clear: str) -> None:
    text = spoilt(WALL, "height: 2.7 m", "height: 3.1 m")
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(text, "openings:", LIGHT % sill))
    assert "no whole course is left between door and light over it for a lintel" in str(caught.value)
    assert f"Write a sill of light from {clear}" in (caught.value.todo or "")
    assert read(tmp_path, spoilt(text, "openings:", LIGHT % clear)).openings


@pytest.mark.parametrize(
    ("old", "new", "todo"),
    [
        ("width: 0.9 m", "width: 7.5 m", "Write a width up to 2150 mm."),
        ("from: 3.5 m", "from: 6.5 m", "Write from up to 6000 mm, or a smaller width."),
        (
            "from: 3.5 m, sill: 0.9 m, width: 1.2 m",
            "from: 3 m, sill: 0.9 m, width: 5 m",
            "Write a width up to 4200 mm.",
        ),
        ("width: 0.9 m", "width: 0.9", "0.9 of what? Write 0.9 m."),
        ("width: 0.9 m", "width: 900", "900 of what? Write 900 mm."),
        ("joint: 10 mm", "joint: 10", "10 of what? Write 10 mm."),
        ("height: 2.7 m", "height: 2700", "2700 of what? Write 2700 mm."),
    ],
)
def test_a_limit_told_leaves_room_and_a_unit_told_is_one_of_the_file(
    tmp_path: Path, old: str, new: str, todo: str
) -> None:
    with pytest.raises(BadInput) as caught:
        read(tmp_path, spoilt(WALL, old, new))
    assert caught.value.todo == todo


def test_a_wall_measured_in_inches_is_refused_in_inches(tmp_path: Path) -> None:
    text = WALL.replace("600 x 300 x 200 mm", "24 x 12 x 8 in").replace("from: 3.5 m", "from: 262 in")
    with pytest.raises(BadInput) as caught:
        read(tmp_path, text.replace("length: 7.2 m", "length: 24 ft").replace("width: 1.2 m", "width: 48 in"))
    assert "window ends 22 in beyond the end of the wall" in str(caught.value)


def test_every_key_is_described_to_editors() -> None:
    schema = WallPart.model_json_schema(by_alias=True)
    models = [schema, *(model for name, model in schema["$defs"].items() if name != "Need")]
    assert [key for model in models for key, entry in model["properties"].items() if "description" not in entry] == []


@pytest.mark.parametrize(("unit", "length"), [("in", "24"), ("ft", "2")])
def test_a_length_without_a_unit_is_answered_in_inches_or_feet_where_those_are_used(
    tmp_path: Path, unit: str, length: str
) -> None:
    text = re.sub(r"\bm\b", "ft", WALL.replace("600 x 300 x 200 mm", "24 x 12 x 8 in").replace("1.2 m, h", "3 ft, h"))
    with pytest.raises(BadInput) as caught:
        read(tmp_path, text.replace("10 mm", "3/8 in").replace("width: 0.9 ft", f"width: {length}"))
    assert caught.value.todo == f"{length} of what? Write {length} {unit}."
