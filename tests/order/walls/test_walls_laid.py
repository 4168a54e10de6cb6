"""How walls are laid: what a mason would look for in each course."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import pytest

from blockrun.order.laid import Role
from blockrun.order.walls import InnerWall, Run, Top, WallPart, lay_wall
from blockrun.order.walls.notes import WIND
from tests.order.walls.some_walls import course, hole, house, lengths, wall


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


@pytest.mark.parametrize("width", [1, 12, 20, 39])
def test_over_and_under_a_slit_too_narrow_for_a_strip_the_hole_goes_to_the_next_bed(width: float) -> None:
    layout = lay_wall(wall(openings=(hole(sill_mm=400, height_mm=1000, width_mm=width),)))
    assert min(block.shape.length_mm for block in layout.blocks) >= 20
    assert not any("high" in block.cut for block in layout.blocks)
    assert any(note.startswith("door: sill written 400 mm, laid 310 mm") for note in layout.notes)
