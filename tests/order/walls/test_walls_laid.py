"""How walls are laid: what a mason would look for in each course."""

from __future__ import annotations

import itertools
import math
import re
from collections import Counter

import pytest

from blockrun.order.laid import Laid, Role
from blockrun.order.walls import InnerWall, Opening, Pier, Run, Top, WallLayout, WallPart, lay_wall
from blockrun.order.walls.notes import WIND


def wall(**changes: object) -> WallPart:
    """6.09 m by 3.1 m: ten whole blocks by ten whole courses."""
    given = {
        "name": "north",
        "length_mm": 6090,
        "height_mm": 3100,
        "block": (600, 300, 200),
        "joint_mm": 10,
        "bond": "half",
    }
    return WallPart(**{**given, **changes})


def house(*, height: float = 2520, **changes: object) -> WallPart:
    """5.24 m by 3.56 m outside, of blocks twice as long as they are thick: whole and half blocks alone."""
    runs = tuple(
        Run(name=name, length_mm=length) for name, length in zip("abcd", (5240, 3560, 5240, 3560), strict=True)
    )
    given = {
        "name": "house",
        "outline": runs,
        "height_mm": height,
        "block": (410, 200, 200),
        "joint_mm": 10,
        "bond": "half",
    }
    return WallPart(**{**given, **changes})


def course(layout: WallLayout, number: int, face: int = 1) -> list[Laid]:
    return [block for block in layout.blocks if (block.course, block.face) == (number, face)]


def lengths(blocks: list[Laid]) -> list[float]:
    return [round(block.corners[1][0] - block.corners[0][0], 3) for block in blocks]


def hole(**changes: float | str) -> Opening:
    """A door in the module of `wall`, seven courses high."""
    given = {"name": "door", "from_mm": 1220, "sill_mm": 0, "width_mm": 1200, "height_mm": 2180}
    return Opening.model_validate({**given, **changes})


def test_half_bond_alternates_whole_blocks_with_halves_at_the_ends() -> None:
    layout = lay_wall(wall())
    assert lengths(course(layout, 1)) == [600] * 10
    assert lengths(course(layout, 2)) == [295, *[600] * 9, 295]


def test_third_bond_starts_every_second_course_with_a_third() -> None:
    assert lengths(course(lay_wall(wall(bond="third")), 2)) == pytest.approx([193.333, *[600] * 9, 396.667], abs=1e-3)


def test_stack_bond_has_no_halves() -> None:
    assert set(lengths(list(lay_wall(wall(bond="stack")).blocks))) == {600}


def test_jambs_of_an_opening_in_the_module_are_whole_and_half_by_turns() -> None:
    layout = lay_wall(wall(openings=(hole(from_mm=1210, width_mm=1230),)))
    assert lengths(course(layout, 1))[:3] == [600, 600, 600]
    assert lengths(course(layout, 2))[:4] == [295, 600, 295, 295]
    assert not any(block.cut for block in layout.blocks if block.role is Role.PLAIN)


def test_the_bond_runs_on_past_an_opening() -> None:
    blank, holed = lay_wall(wall()), lay_wall(wall(openings=(hole(),)))
    beyond = [block.corners for block in course(blank, 3) if block.corners[0][0] > 3100]
    assert beyond == [block.corners for block in course(holed, 3) if block.corners[0][0] > 3100]


def test_a_sliver_is_merged_into_its_neighbour() -> None:
    layout = lay_wall(wall(length_mm=6090 + 60))
    assert min(lengths(list(layout.blocks))) >= 150
    assert not any("under" in note for note in layout.notes)


def test_joints_open_a_little_rather_than_blocks_being_cut() -> None:
    layout = lay_wall(wall(length_mm=6095))
    assert lengths(course(layout, 1)) == [600] * 10
    said = "End joints are 10.6 mm, not 10 mm: blocks shorter than whole are then 10, not 25."
    assert layout.notes == (said, WIND)


def test_joints_stay_as_written_where_opening_them_cuts_no_fewer_blocks() -> None:
    runs = tuple(Run(name=one, length_mm=long) for one, long in zip("abcd", (7200, 5400, 7200, 5400), strict=True))
    hall = InnerWall(name="hall", from_run="d", at_mm=2500, length_mm=3800)
    given = {"outline": runs, "inner_walls": (hall,), "height": 2480, "block": (600, 300, 200)}
    layout, as_written = lay_wall(house(**given)), lay_wall(house(**given, joint_give_mm=0))
    assert not any(note.startswith("d: end joints") for note in layout.notes)
    assert [lengths(course(layout, n, 4)) for n in range(1, 9)] == [
        lengths(course(as_written, n, 4)) for n in range(1, 9)
    ]


def test_lengths_that_joints_can_take_up_are_one_and_joints_keep_within_their_give() -> None:
    openings = (hole(from_mm=1000.4, width_mm=1000), hole(name="window", from_mm=3600.9, width_mm=800.7))
    layout = lay_wall(wall(length_mm=6133.3, openings=openings))
    casts = sorted({block.shape.length_mm for block in layout.blocks})
    assert min(two - one for one, two in itertools.pairwise(casts)) >= 1
    for number in range(1, layout.courses + 1):
        row = course(layout, number)
        gaps = [two.corners[0][0] - one.corners[1][0] for one, two in itertools.pairwise(row)]
        assert all(8 - 1e-6 <= gap <= 12 + 1e-6 for gap in gaps if gap < 100)


def test_no_two_lengths_differ_by_what_no_saw_can_tell() -> None:
    given = {"block": (396.875, 193.675, 193.675), "joint_mm": 9.525, "height": 2438.4}
    runs = tuple(Run(name=one, length_mm=long) for one, long in zip("abcd", (7315.2, 5486.4) * 2, strict=True))
    casts = sorted({block.shape.length_mm for block in lay_wall(house(**given, outline=runs)).blocks})
    assert min(two - one for one, two in itertools.pairwise(casts)) > 0.5


def test_beds_open_a_little_rather_than_a_course_being_cut() -> None:
    layout = lay_wall(wall(height_mm=3110))
    assert layout.courses == 10
    assert layout.notes == ("Beds are 11 mm, not 10 mm: whole courses make up the height.", WIND)


def test_without_give_every_joint_is_as_stated() -> None:
    layout = lay_wall(wall(length_mm=6095, joint_give_mm=0))
    first = course(layout, 1)
    assert {round(b.corners[0][0] - a.corners[1][0], 6) for a, b in itertools.pairwise(first)} == {10}


def test_a_levelling_course_is_laid_where_a_door_spares_its_blocks() -> None:
    layout = lay_wall(wall(height_mm=2700, openings=(hole(height_mm=2080, width_mm=2000),)))
    assert layout.notes[0].startswith("A levelling course of 210 mm makes up the height: ")
    assert {block.cut for block in course(layout, 1)} == {"to 210 mm high"}
    assert {block.shape.height_mm for block in layout.blocks} == {300}


def test_a_cut_top_course_is_laid_where_neither_is_less_work() -> None:
    layout = lay_wall(wall(height_mm=2700))
    assert "A cut top course of 210 mm makes up the height: 10 sawn blocks either way" in layout.notes[0]


def test_a_rest_too_low_for_a_course_is_shared_by_two() -> None:
    layout = lay_wall(wall(height_mm=2480 + 50))
    assert {block.cut for block in layout.blocks if block.cut} == {"to 170 mm high"}
    assert layout.courses == 9


def test_blocks_over_an_opening_are_troughs_with_their_bearing() -> None:
    layout = lay_wall(wall(openings=(hole(),)))
    over = [block for block in layout.blocks if block.role is Role.LINTEL]
    assert {block.course for block in over} == {8}
    assert over[0].corners[0][0] <= 1220 - 200
    assert over[-1].corners[1][0] >= 2420 + 200
    assert {block.cut for block in over} == {"hollow to a trough"}
    assert layout.notes[-1].endswith("by a licensed engineer, the width and depth of their troughs too.")


def test_a_lintel_cast_in_one_piece_has_a_length_of_its_own() -> None:
    layout = lay_wall(wall(openings=(hole(),), lintel="cast"))
    assert [block.shape.length_mm for block in layout.blocks if block.role is Role.LINTEL] == [1600]


def test_a_bought_lintel_is_drawn_and_not_counted() -> None:
    layout = lay_wall(wall(openings=(hole(),), lintel="bought"))
    assert not any(block.role is Role.LINTEL for block in layout.blocks)
    assert layout.faces[0].lintels == (((1020, 2180), (2620, 2180), (2620, 2480), (1020, 2480)),)


def test_openings_close_together_share_a_lintel() -> None:
    pair = (hole(), hole(name="light", from_mm=2600, sill_mm=930, height_mm=1250, width_mm=600))
    layout = lay_wall(wall(openings=pair, lintel="cast"))
    assert [block.shape.length_mm for block in layout.blocks if block.role is Role.LINTEL] == [2380]


def test_a_short_bearing_is_said() -> None:
    notes = lay_wall(wall(openings=(hole(from_mm=100),))).notes
    assert "door: its lintel bears on 100 mm, not 200 mm; widen what stands beside it, or ask the engineer." in notes


def test_a_head_between_beds_is_raised() -> None:
    layout = lay_wall(wall(openings=(hole(height_mm=2100),)))
    assert layout.faces[0].openings[0][1][2][1] == 2180


def test_a_sill_between_beds_has_a_sawn_strip_under_it() -> None:
    layout = lay_wall(wall(openings=(hole(sill_mm=900, height_mm=1280),), sill="sloped"))
    strip = [block for block in layout.blocks if block.role is Role.SILL]
    assert {block.cut for block in strip} == {"to 270 mm high, top sawn to fall outwards"}
    assert (strip[0].corners[0][0], strip[-1].corners[1][0]) == (1230, 2410)


def test_a_ring_beam_is_a_course_of_troughs() -> None:
    layout = lay_wall(wall(ring_beams=(0, 4)))
    assert {block.course for block in layout.blocks if block.role is Role.RING_BEAM} == {4, 10}
    assert layout.notes == (
        WIND,
        "Caution: ring beams are to be designed by a licensed engineer, the width and depth of their troughs too.",
    )


def test_gable_blocks_are_cast_plain_and_sawn_to_the_slope() -> None:
    layout = lay_wall(wall(gable_mm=2000))
    sawn = [block for block in layout.blocks if "slope" in block.cut]
    assert {block.shape.height_mm for block in sawn} == {300}
    points = ("50 mm high at 0 mm", "300 mm high at 380.6 mm", "300 mm high at 509 mm")
    assert sawn[0].cut == f"top sawn to the slope: {', '.join(points)}"
    assert max(up for block in layout.blocks for _, up in block.corners) == pytest.approx(5100, abs=60)


def test_thin_wedges_under_a_slope_are_made_up_in_mortar_and_said() -> None:
    layout = lay_wall(wall(gable_mm=2000))
    assert all(max(up for _, up in wedge) - wedge[0][1] <= 50 + 1e-6 for wedge in layout.faces[0].mortar)
    assert layout.notes == ("Wedges under slopes lower than 50 mm or shorter than 150 mm are made up in mortar.", WIND)


def test_short_wedges_under_a_slope_are_made_up_in_mortar_too() -> None:
    tops = (Top(at_mm=0, height_mm=2480), Top(at_mm=3000, height_mm=2480), Top(at_mm=6090, height_mm=3477))
    layout = lay_wall(wall(height_mm=2480, tops=tops))
    assert min(lengths(list(layout.blocks))) >= 150
    assert not any("under 150 mm" in note for note in layout.notes)


def test_whole_courses_run_on_into_a_gable_where_nothing_ends_level() -> None:
    layout = lay_wall(wall(height_mm=2700, gable_mm=2000))
    assert not any(block.cut.startswith("to ") for block in layout.blocks)


def test_a_sloped_top_follows_its_heights() -> None:
    layout = lay_wall(wall(tops=(Top(at_mm=0, height_mm=2000), Top(at_mm=6090, height_mm=3000))))
    assert all(up <= 2000 + along * 1000 / 6090 + 1e-6 for block in layout.blocks for along, up in block.corners)


def test_blocks_twice_as_long_as_thick_turn_every_corner_whole() -> None:
    layout = lay_wall(house())
    assert layout.notes == (WIND,)
    assert Counter(block.shape.length_mm for block in layout.blocks).keys() == {410}
    starts = [course(layout, number)[0].corners[0][0] for number in (1, 2, 3, 4)]
    assert starts == [210, 0, 210, 0]


def test_no_corner_is_counted_twice() -> None:
    """A course covers its centre line, less its joints."""
    layout = lay_wall(house())
    around = 2 * (5240 + 3560) - 4 * 200
    one = course(layout, 1) + course(layout, 1, 2) + course(layout, 1, 3) + course(layout, 1, 4)
    assert sum(lengths(one)) + 10 * len(one) == pytest.approx(around)


def test_an_inner_wall_goes_through_in_every_second_course() -> None:
    part = house(inner_walls=(InnerWall(name="i", from_run="a", at_mm=2100, length_mm=1240),))
    layout = lay_wall(part)
    assert [course(layout, number, 5)[0].corners[0][0] for number in (1, 2)] == [10, -200]
    assert not [block for block in course(layout, 2) if 2090 < block.corners[0][0] < 2310]
    ends = [block.corners[1][0] for block in course(layout, 1)]
    assert min(abs(end - joint) for end in ends for joint in (2090, 2300)) >= 410 / 4 - part.give_mm / 2


def bay(angle: float, corner: str = "outside", **changes: object) -> WallPart:
    """Two runs of some 3.5 m that meet at an angle, two courses high; 3650 mm are six whole blocks."""
    skew = abs(200 / math.tan(math.radians(180 - angle)))
    longer_inside = (angle > 90) == (corner == "outside")
    length = 3650 - skew * longer_inside
    runs = (
        Run(name="a", length_mm=length, corner=corner, angle_deg=angle),
        Run(name="b", length_mm=length),
    )
    given = {"outline": runs, "closed": False, "height": 620, "block": (600, 300, 200)}
    return house(**{**given, **changes})


@pytest.mark.parametrize(("angle", "face"), [(120, "outside"), (60, "inside")])
def test_a_run_goes_through_a_skew_corner_by_turns(angle: float, face: str) -> None:
    """A cut through 200 mm leans by 200 / tan 60 = 115.5 mm; the other run and its joint take 210 / sin 60."""
    layout = lay_wall(bay(angle))
    through, butts = course(layout, 1)[-1], course(layout, 2)[-1]
    assert through.cut == butts.cut == f"right end sawn at 30 deg, 115.5 mm shorter {face}"
    length = 3650 - 115.470 * (angle > 90)
    assert through.corners[1][0] == pytest.approx(length, abs=1e-3)
    assert butts.corners[1][0] == pytest.approx(length - (200 + 10) / math.sin(math.radians(60)), abs=1e-3)
    assert [block.shape.length_mm for block in course(layout, 1)] == [600] * 6
    starts = [course(layout, number, 2)[0].corners[0][0] for number in (1, 2)]
    assert starts == pytest.approx([242.487, 0], abs=1e-3)


def test_an_inside_corner_at_an_angle_goes_on_behind_its_neighbour() -> None:
    layout = lay_wall(bay(120, "inside"))
    through, butts = course(layout, 1)[-1], course(layout, 2)[-1]
    assert through.cut == butts.cut == "right end sawn at 30 deg, 115.5 mm shorter inside"
    assert through.corners[1][0] == pytest.approx(3650 + 200 / math.sin(math.radians(60)), abs=1e-3)
    assert butts.corners[1][0] == pytest.approx(3650 - 10 / math.sin(math.radians(60)), abs=1e-3)


@pytest.mark.parametrize("corner", ["outside", "inside"])
@pytest.mark.parametrize("angle", [60, 75, 120, 135, 150])
def test_skew_corners_are_filled_once(angle: float, corner: str) -> None:
    """Two walls, less what they share by the mitre, or at an inside corner and what is missing there; less joints."""
    part = bay(angle, corner, joint_give_mm=0)
    layout = lay_wall(part)
    half = math.radians((180 - angle) / 2)
    whole = 200 * sum(run.length_mm for run in part.outline)
    whole += 200 * 200 * math.tan(half) * (1 if corner == "inside" else -1)
    skew = 200 / math.cos(half) if angle > 135 else 200 / math.sin(2 * half)
    joints = 200 * (len(layout.blocks) / 2 - 2) + skew
    assert layout.volume_l == pytest.approx((whole - 10 * joints) * 600 / 1e6)


def test_what_a_mould_casts_is_as_long_as_the_longer_face_of_a_skew_block() -> None:
    for angle in (60, 75, 105, 135, 150, 175):
        layout = lay_wall(bay(angle))
        assert max(block.shape.length_mm for block in layout.blocks) <= 600
        assert not any(" block under" in note or " blocks under" in note for note in layout.notes)


def test_a_skew_end_leaves_no_sliver_on_its_shorter_face() -> None:
    layout = lay_wall(bay(120, outline=(Run(name="a", length_mm=3100, angle_deg=120), Run(name="b", length_mm=3100))))
    skew = [block for block in layout.blocks if "sawn at" in block.cut]
    assert len(skew) == 4
    assert min(block.shape.length_mm for block in skew) >= 150 + 115.47


def test_an_overlap_that_no_block_keeps_over_a_skew_corner_is_said_with_the_block_that_would() -> None:
    """At 135 deg a block reaches from its tip, 200 mm behind the corner, past 297 mm of the other run, and 140 on."""
    said = "move an opening or a corner, or take blocks of 637 mm: those keep it over the skew corner."
    assert any(note.endswith(said) for note in lay_wall(bay(135)).notes)
    assert not any("overlap" in note for note in lay_wall(bay(135, block=(640, 300, 200), overlap=140.0)).notes)


def test_a_skew_joint_that_crosses_one_below_has_no_overlap() -> None:
    runs = tuple(Run(name=str(n), length_mm=2000, angle_deg=135) for n in range(8))
    assert any("under 92.5 mm, the shortest, 0 mm," in note for note in lay_wall(house(outline=runs)).notes)


def test_flat_corners_are_mitred_and_said() -> None:
    runs = tuple(Run(name=str(n), length_mm=2000, angle_deg=150) for n in range(12))
    layout = lay_wall(house(outline=runs))
    ends = [course(layout, number)[index] for number in (1, 2) for index in (0, -1)]
    cut = "end sawn at 15 deg, 53.6 mm shorter inside"
    assert [end.cut for end in ends] == [f"left {cut}", f"right {cut}"] * 2
    assert ends[0].corners[0][0] == pytest.approx(5 / math.cos(math.radians(15)), abs=1e-3)
    said = "are mitred, not bonded, for blocks bonded through them would break at their tips: ties are to be designed"
    assert (
        sum("Corners flatter than 135 deg, at the end of 0, 1, 2, 3" in one and said in one for one in layout.notes)
        == 1
    )


def test_an_inside_corner_goes_on_behind_its_neighbour() -> None:
    sides = (
        ("outside", 6000),
        ("outside", 2000),
        ("inside", 3000),
        ("outside", 2000),
        ("outside", 3000),
        ("outside", 4000),
    )
    runs = tuple(Run(name=str(n), length_mm=length, corner=corner) for n, (corner, length) in enumerate(sides))
    face = lay_wall(house(outline=runs)).faces[2]
    assert (face.left_mm, face.right_mm) == (0, 3200)


def piered(width: float = 600, at: float = 2000, projection: float | None = None, **changes: object) -> WallLayout:
    return lay_wall(wall(piers=(Pier(at_mm=at, width_mm=width, projection_mm=projection),), **changes))


def sizes(blocks: list[Laid]) -> list[tuple[float, float]]:
    return [(block.shape.length_mm, block.shape.thickness_mm) for block in blocks]


def test_a_pier_is_a_face_of_its_own() -> None:
    layout = piered()
    assert [face.name for face in layout.faces] == ["north", "north, pier 1"]
    assert {block.face for block in layout.blocks if block.role is Role.PIER} == {2}


def test_a_pier_is_bonded_by_a_block_laid_across_in_every_second_course() -> None:
    """Ten courses: a whole block in five, and in five one of 200 + 10 + 200 mm laid across, 390 mm beside it."""
    layout = piered()
    assert sizes(course(layout, 1, 2)) == [(600, 200)]
    assert sorted(sizes(course(layout, 2, 2))) == [(390, 200), (410, 200)]
    assert len([block for block in layout.blocks if block.role is Role.PIER]) == 5 + 2 * 5
    assert "Pier 1: bonded into the wall, a block of 410 mm laid across both in courses 2, 4, 6, 8, 10." in layout.notes


def test_the_wall_leaves_room_for_the_block_laid_across_and_keeps_its_overlaps() -> None:
    layout = piered()
    across = [corners for number, corners in layout.faces[0].returns if number == 2]
    left, right = across[0][0][0], across[0][1][0]
    assert right - left == 200
    assert 2000 <= left <= right <= 2600
    ends = [block.corners[1][0] for block in course(layout, 2)]
    starts = [block.corners[0][0] for block in course(layout, 2)]
    assert left - 10 in ends
    assert right + 10 in starts
    assert not layout.faces[0].short_overlaps
    assert not any("under" in note for note in layout.notes)


def test_a_pier_as_wide_as_the_wall_is_thick_is_one_block_across() -> None:
    layout = piered(200, block=(410, 200, 200), height_mm=2100)
    assert sizes(course(layout, 1, 2)) == [(200, 200)]
    assert sizes(course(layout, 2, 2)) == [(410, 200)]


def test_what_a_pier_takes_is_counted_once() -> None:
    """A header is 200 mm of the wall, a joint and 200 mm of the pier; the wall has 220 mm less."""
    layout = piered(200, block=(410, 200, 200), height_mm=420, length_mm=4190)
    pier = (200 * 200 + 410 * 200) * 200
    row = [4190 - 10 * (len(course(layout, 1)) - 1), 4190 - 220 - 10 * (len(course(layout, 2)) - 2)]
    assert layout.volume_l == pytest.approx((pier + sum(row) * 200 * 200) / 1e6)


def test_a_pier_is_drawn_as_it_is_seen_from_inside() -> None:
    layout = piered()
    header = next(block for block in course(layout, 2, 2) if block.shape.length_mm == 410)
    near = layout.faces[0].returns[0][1][0][0] - 2000
    assert header.corners[1][0] == 600 - near


def test_a_pier_under_a_slope_ends_with_no_sliver() -> None:
    """At the lower side of the pier the wall is 2520 mm high, 30 mm above the bed over course 8."""
    tops = (Top(at_mm=0, height_mm=2320), Top(at_mm=6090, height_mm=2929))
    layout = piered(200, tops=tops)
    top = layout.faces[1].line[0][1]
    assert top == 2480
    assert max(up for block in layout.blocks if block.face == 2 for _, up in block.corners) == top


def test_no_block_is_laid_across_through_a_ring_beam_or_a_lintel() -> None:
    layout = piered(400, 2420, openings=(hole(),), ring_beams=(0,))
    across = {number for number, _ in layout.faces[0].returns}
    assert across == {2, 4, 6}


@pytest.mark.parametrize(
    ("width", "projection", "said"),
    [
        (300, None, "that takes a width of 200 mm, or of 360 mm or more, and a projection of 390 mm at most"),
        (600, 400, "that takes a width of 200 mm, or of 360 mm or more, and a projection of 390 mm at most"),
    ],
)
def test_a_pier_that_is_not_bonded_says_which_sizes_would_be(width: float, projection: float, said: str) -> None:
    layout = piered(width, projection=projection)
    assert not layout.faces[0].returns
    tied = "ties are to be designed by a licensed engineer."
    assert f"Pier 1: laid against the wall, not bonded into it; {said}: {tied}" in layout.notes
    assert "a block of" in " ".join(piered(360, projection=390).notes)


def test_a_pier_without_room_beside_it_says_so() -> None:
    layout = piered(200, 100)
    assert any("that takes 160 mm of wall beside it" in note for note in layout.notes)
    assert any("bonded into the wall" in note for note in piered(200, 0).notes)


def test_blocks_too_short_to_be_laid_across_say_so() -> None:
    notes = piered(200, block=(200, 200, 200), height_mm=2100, bond="stack").notes
    assert any("that takes blocks longer than 210 mm" in note for note in notes)


@pytest.mark.parametrize(("height", "overlap"), [(100, 40), (190, 76), (215, 86), (250, 100), (300, 100)])
def test_the_overlap_of_the_european_code(height: float, overlap: float) -> None:
    """EN 1996-1-1, 8.1.4.1, from memory."""
    assert wall(block=(600, height, 200), overlap="EN 1996-1-1").overlap_mm == pytest.approx(overlap)


def test_the_unit_of_the_input_does_not_change_the_count() -> None:
    inch = 25.4
    rounded = wall(length_mm=7200, block=(15.625 * inch, 7.625 * inch, 7.625 * inch), joint_mm=0.375 * inch)
    written = wall(length_mm=7200.0000001, block=(396.875, 193.675, 193.675), joint_mm=9.525)
    counts = [Counter((b.shape, b.cut, b.role) for b in lay_wall(part).blocks) for part in (rounded, written)]
    assert counts[0] == counts[1]


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
    """200 mm are 7.874 in, and a tape has 7 7/8."""
    inches = {"block": (16 * 25.4, 8 * 25.4, 8 * 25.4), "height_mm": 2540.0, "length_mm": 6096.0}
    (note,) = (note for note in lay_wall(wall(openings=(hole(),), **inches)).notes if "bearing of" in note)
    assert "a bearing of at least 7.875 in each side" in note
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
