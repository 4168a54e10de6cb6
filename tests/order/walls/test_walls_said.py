"""What notes say of a wall: what is not as written, what is seldom meant, and what may hurt somebody."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from blockrun.order.walls import InnerWall, Run, Top, WallLayout, lay_wall
from blockrun.order.walls.notes import WIND
from tests.order.walls.some_walls import hole, house, wall


def test_heights_that_need_no_cut_course_are_named() -> None:
    note = lay_wall(wall(height_mm=2700)).notes[0]
    assert note.endswith("; none is needed at 2480 mm or 2790 mm.")


def test_a_wall_lower_than_a_course_is_told_of_the_height_of_one() -> None:
    assert lay_wall(wall(height_mm=200)).notes[0].endswith("; none is needed at 310 mm.")


def test_a_wall_of_blocks_measured_in_inches_is_told_in_inches() -> None:
    inch = 25.4
    block = (15.625 * inch, 7.625 * inch, 7.625 * inch)
    layout = lay_wall(wall(length_mm=288 * inch, height_mm=108 * inch, block=block, joint_mm=0.375 * inch))
    assert layout.notes[0].endswith("; none is needed at 104 in or 112 in.")
    assert "to 3.625 in high" in {block.cut for block in layout.blocks}
    assert not any(" mm" in note for note in layout.notes)


def off_the_bond(**changes: float) -> list[str]:
    door = hole(**{"from_mm": 1210, "width_mm": 1230, "height_mm": 2170, **changes})
    return [note for note in lay_wall(wall(openings=(door,))).notes if "off the bond" in note]


@pytest.mark.parametrize(("from_mm", "off"), [(1220, "10 mm"), (1205, "5 mm")])
def test_a_door_a_joint_off_the_bond_is_told_where_fewer_blocks_are_short(from_mm: float, off: str) -> None:
    (note,) = off_the_bond(from_mm=from_mm)
    assert note.startswith(f"door: it is {off} off the bond; write from: 1210 mm, and ")
    assert note.endswith(" fewer blocks are shorter than whole.")


@pytest.mark.parametrize("changes", [{}, {"from_mm": 1300}])
def test_one_on_the_bond_or_far_off_it_is_not(changes: dict[str, float]) -> None:
    assert off_the_bond(**changes) == []


def said_of_two(a: tuple[float, float], b: tuple[float, float], high: float, **changes: object) -> list[str]:
    """Of two doors so high, each from where and how wide, in third bond: what is said of the bond and of bearings."""
    doors = tuple(
        hole(name=name, from_mm=at, width_mm=wide, height_mm=high) for name, (at, wide) in (("a", a), ("b", b))
    )
    notes = lay_wall(wall(bond="third", openings=doors, **changes)).notes
    return [note for note in notes if "off the bond" in note or "bears on" in note]


@pytest.mark.parametrize("from_mm", [2005, 2018])
def test_a_place_off_the_bond_is_said_as_it_was_tried_and_not_again_once_it_is_written(from_mm: float) -> None:
    """A third of 610 mm is no whole millimetre."""
    for note in said_of_two((1215, 590), (from_mm, 600), 900, length_mm=4641, height_mm=1657):
        off, place = re.findall(r"[\d.]+(?= mm)", note)
        assert float(off) >= 1
        assert float(place) == int(float(place))
        assert float(place) != from_mm


@pytest.mark.parametrize("from_mm", [205, 206, 208])
def test_no_place_is_told_where_a_lintel_bears_on_less_than_the_least(from_mm: float) -> None:
    """From 193 mm on it would be on the bond, but 200 mm are needed beside it."""
    for note in said_of_two((from_mm, 610), (2440, 610), 2170, height_mm=2480):
        _, place = re.findall(r"[\d.]+(?= mm)", note)
        assert float(place) >= 200


@pytest.mark.parametrize("width_mm", [600, 900])
def test_a_place_where_a_short_bearing_grows_is_told(width_mm: float) -> None:
    doors = hole(name="a", from_mm=510, width_mm=900), hole(name="b", from_mm=1570, width_mm=width_mm)
    low = [door.model_copy(update={"height_mm": 900}) for door in doors]
    part = wall(length_mm=6580, height_mm=2143, block=(500, 250, 150), openings=tuple(low))
    assert [note for note in lay_wall(part).notes if note.startswith("a: it is 10 mm off the bond; write from: 500 mm")]


def n_short(layout: WallLayout) -> int:
    return sum(block.shape.length_mm < 600 for block in layout.blocks)


@pytest.mark.parametrize(
    ("doors", "high", "bond", "told"),
    [
        (((640, 1200), (2430, 610)), 2170, "third", 1),
        (((615, 1220), (2445, 1010)), 900, "third", 1),
        (((1215, 920), (2740, 600)), 1240, "half", 1),
        (((1215, 605), (2435, 610)), 1240, "half", 2),
    ],
)
def test_all_places_that_are_told_are_tried_together(
    doors: Sequence[tuple[float, float]], high: float, bond: str, told: int
) -> None:
    """Of the first three each place alone leaves fewer short blocks, and both together hardly any fewer, or more."""
    a, b = (
        hole(name=name, from_mm=at, width_mm=wide, height_mm=high) for name, (at, wide) in zip("ab", doors, strict=True)
    )
    before = lay_wall(wall(bond=bond, openings=(a, b)))
    (note,) = [note for note in before.notes if "off the bond" in note]
    names, places = note.partition(":")[0].split(" and "), re.findall(r"from: ([\d.]+) mm", note)
    assert len(names) == len(places) == told
    there = dict(zip(names, map(float, places), strict=True))
    moved = tuple(one.model_copy(update={"from_mm": there.get(one.name, one.from_mm)}) for one in (a, b))
    after = lay_wall(wall(bond=bond, openings=moved))
    fewer = re.findall(r"(\d+) fewer", note)
    assert fewer == [f"{n_short(before) - n_short(after)}"]
    assert not any("off the bond" in note for note in after.notes)


def vented_gable(**changes: float) -> WallLayout:
    """Eaves at 2480 mm and a slope of a third; the peak is over 3045 mm."""
    vent = hole(**{"name": "vent", "from_mm": 700, "sill_mm": 1870, "width_mm": 600, "height_mm": 600, **changes})
    return lay_wall(wall(height_mm=2480, gable_mm=1015, openings=(vent,)))


def test_a_slope_that_ends_lower_than_the_wall_it_meets_is_said() -> None:
    tops = (Top(at_mm=0, height_mm=2520), Top(at_mm=900, height_mm=2520), Top(at_mm=3560, height_mm=500))
    runs = house().outline
    sloped = (*runs[:3], runs[3].model_copy(update={"tops": tops}))
    notes = lay_wall(house(outline=sloped)).notes
    what = "d is 500 mm high where it meets a, and that 2520 mm: "
    assert [note for note in notes if "where it meets" in note] == [
        f"{what}give both one height there, or let an engineer say how a is held above."
    ]


def test_gables_and_lower_wings_meet_their_neighbours_without_a_word() -> None:
    runs = house().outline
    low = (Top(at_mm=0, height_mm=2100), Top(at_mm=3560, height_mm=2100))
    gabled, lower = runs[1].model_copy(update={"gable_mm": 1000}), runs[3].model_copy(update={"tops": low})
    outline = (runs[0], gabled, runs[2], lower)
    hall = InnerWall(name="hall", from_run="b", at_mm=1600, length_mm=1240)
    low_hall = lay_wall(house(outline=outline, inner_walls=(hall,)))
    assert [note for note in low_hall.notes if "where it meets" in note] == []


def test_an_inner_wall_higher_than_a_slope_it_meets_is_said() -> None:
    tops = (Top(at_mm=0, height_mm=2520), Top(at_mm=3560, height_mm=500))
    runs = house().outline
    hall = InnerWall(name="hall", from_run="d", at_mm=1600, length_mm=1240)
    notes = lay_wall(house(outline=(*runs[:3], runs[3].model_copy(update={"tops": tops})), inner_walls=(hall,))).notes
    assert any(note.startswith("d is 1612 mm high where it meets hall, and that 2520 mm: ") for note in notes)


def test_joints_that_are_said_alike_are_not_said() -> None:
    assert lay_wall(wall(length_mm=6090.3, height_mm=3100.3)).notes == (WIND,)


def test_a_lintel_cut_by_a_slope_is_said_with_the_head_that_mends_it() -> None:
    said = "Caution: vent: the slope cuts its lintel; lower its head to 2180 mm, or move it towards the peak."
    assert said in vented_gable().notes


@pytest.mark.parametrize("changes", [{"height_mm": 310}, {"from_mm": 2700}])
def test_a_lintel_clear_of_the_slope_is_not_spoken_of(changes: dict[str, float]) -> None:
    assert not any("slope cuts" in note for note in vented_gable(**changes).notes)


def pair(apart_mm: float) -> WallLayout:
    light = hole(name="light", from_mm=2420 + apart_mm, sill_mm=930, height_mm=1250, width_mm=600)
    return lay_wall(wall(openings=(hole(), light)))


def test_openings_that_touch_are_said() -> None:
    assert (
        "Nothing stands between door and light; make them one opening, or leave 150 mm or more between."
        in pair(0).notes
    )


def test_a_pier_narrower_than_the_shortest_block_is_said() -> None:
    said = "Only 60 mm stand between door and light; make them one opening, or leave 150 mm or more between."
    assert said in pair(60).notes
    assert not any("between" in note for note in pair(150).notes)


def test_an_opening_at_the_end_of_a_wall_is_said() -> None:
    notes = lay_wall(wall(openings=(hole(from_mm=0),))).notes
    assert "Nothing stands between door and the start of the wall; leave 150 mm or more there." in notes
    notes = lay_wall(wall(openings=(hole(from_mm=6090 - 1200 - 100),))).notes
    assert "Only 100 mm stand between door and the end of the wall; leave 150 mm or more there." in notes


def test_a_hole_that_is_not_as_written_says_both() -> None:
    said = "door: height written 2100 mm, laid 2180 mm to meet a bed; pack it, or write height: 2180 mm."
    assert said in lay_wall(wall(openings=(hole(height_mm=2100),))).notes


def test_inner_walls_and_nooks_say_which_face_their_lengths_are_of() -> None:
    layout = lay_wall(house(inner_walls=(InnerWall(name="i", from_run="a", at_mm=2100, length_mm=1240),)))
    said = "i: lengths and places are of the side that is seen; every second course goes on into the wall it meets."
    assert said in layout.notes
    assert [(face.left_mm, face.seen_mm) for face in layout.faces][0::4] == [(0, (0, 5240)), (-200, (0, 1240))]


def test_notes_of_a_building_say_of_which_run_they_are() -> None:
    runs = tuple(
        Run(name=name, length_mm=length, openings=(hole(from_mm=600, height_mm=2250),) if name == "a" else ())
        for name, length in zip("abcd", (5240, 3560, 5240, 3560), strict=True)
    )
    notes = lay_wall(house(outline=runs)).notes
    assert any(note.startswith("a, door: height written 2250 mm, laid 2320 mm to meet a bed") for note in notes)


def test_lintels_of_one_piece_have_no_troughs_to_speak_of() -> None:
    assert "trough" not in lay_wall(wall(openings=(hole(),), lintel="cast")).notes[-1]


@pytest.mark.parametrize("changes", [{}, {"openings": (hole(),)}, {"height_mm": 600}])
def test_every_wall_is_cautioned_about_the_wind(changes: dict[str, object]) -> None:
    (note,) = (note for note in lay_wall(wall(**changes)).notes if "blown over" in note)
    assert note.startswith("Caution: ")
    assert "prop it" in note
    assert "engineer" in note


def test_a_bearing_is_said_as_a_tape_has_it_and_no_shorter() -> None:
    """US practice is 8 in, where 200 mm is the metric one; 200 mm written are 7.874 in, and a tape has 7 7/8."""
    inches = {"block": (16 * 25.4, 8 * 25.4, 8 * 25.4), "height_mm": 2540.0, "length_mm": 6096.0}
    (note,) = (note for note in lay_wall(wall(openings=(hole(),), **inches)).notes if "bearing of" in note)
    assert "a bearing of at least 8 in each side" in note
    (told,) = (
        note for note in lay_wall(wall(openings=(hole(),), bearing_mm=200.0, **inches)).notes if "g of at" in note
    )
    assert "a bearing of at least 7.875 in each side" in told
    (metric,) = (note for note in lay_wall(wall(openings=(hole(),))).notes if "bearing of" in note)
    assert "a bearing of at least 200 mm each side" in metric


def test_lintels_and_ring_beams_share_a_caution() -> None:
    notes = lay_wall(wall(openings=(hole(),), ring_beams=(0,))).notes
    cautions = [note for note in notes if note.startswith("Caution") and "engineer, the width" in note]
    assert len(cautions) == 1
    assert cautions[0].endswith(
        "each side, and ring beams are to be designed by a licensed engineer, the width and depth of their troughs too."
    )


@pytest.mark.parametrize("height", [1850, 2470, 3100, 3095])
@pytest.mark.parametrize(("sill", "tall"), [(620, 600), (600, 633), (905, 420), (0, 1300), (310, 900)])
def test_an_opening_written_as_the_note_says_is_laid_as_written(height: float, sill: float, tall: float) -> None:
    def noted(**changes: float) -> list[str]:
        layout = lay_wall(wall(height_mm=height, openings=(hole(**{"sill_mm": sill, "height_mm": tall, **changes}),)))
        return [note for note in layout.notes if "written" in note]

    for note in noted():
        told = re.findall(r"(sill|height): ([\d.]+) mm", note.partition("or write")[2])
        assert not noted(**{f"{key}_mm": float(length) for key, length in told})


@pytest.mark.parametrize("sill", [616.6, 616.7])
def test_sills_and_heads_that_a_rounded_length_puts_a_hair_off_a_bed_are_on_it(sill: float) -> None:
    layout = lay_wall(wall(height_mm=1850, openings=(hole(sill_mm=sill, height_mm=1241.7 - sill),)))
    assert not any(block.cut.startswith("to ") for block in layout.blocks)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"block": (203.2, 203.2, 406.4), "joint_mm": 10},
            "Blocks are 8 in long and 16 in thick: a block is written length x height x thickness.",
        ),
        ({"block": (406.4, 203.2, 203.2), "joint_mm": 9.525}, "if these have it in them, write 15.625 in x 7.625 in"),
        ({"height_mm": 31_000}, "The wall is 31000 mm high, over 15000 mm: look at the unit."),
        ({"joint_mm": 100}, "Joints are 100 mm wide, over 30 mm: look at the unit."),
        ({"block": (60, 30, 20), "height_mm": 1000}, "Blocks are 60 mm long, under 100 mm: look at the unit."),
    ],
)
def test_measures_that_are_seldom_meant_are_said(changes: dict[str, object], said: str) -> None:
    assert [note for note in lay_wall(wall(**changes)).notes if said in note]


def test_usual_measures_raise_no_doubt() -> None:
    assert lay_wall(wall(height_mm=14_880)).notes == (WIND,)
    inches = {"block": (396.875, 193.675, 193.675), "joint_mm": 9.525, "length_mm": 4054.475, "height_mm": 2032}
    assert lay_wall(wall(**inches)).notes == (WIND,)


def test_joints_beside_a_run_that_a_slope_does_not_reach_are_no_overlaps() -> None:
    """Run e comes down to 930 mm, three courses; in the others it ends at its slope, far from the run it meets."""
    tops = tuple(Top(at_mm=at, height_mm=up) for at, up in ((0, 3100), (3000, 930), (3660, 930)))
    runs = (Run(name="e", length_mm=3660, tops=tops), Run(name="n", length_mm=3660))
    layout = lay_wall(wall(length_mm=None, height_mm=1240, outline=runs, closed=False))
    assert not any("overlaps under" in note for note in layout.notes)
    assert any("high where it meets n" in note for note in layout.notes)


@pytest.mark.parametrize("lintel", ["trough", "cast", "bought"])
def test_an_opening_as_wide_as_its_wall_is_not_looked_for_beyond_its_ends(lintel: str) -> None:
    layout = lay_wall(wall(length_mm=6000, openings=(hole(from_mm=0, width_mm=6000),), lintel=lintel))
    assert not any("off the bond" in note for note in layout.notes)
