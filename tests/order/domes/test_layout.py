"""A hemisphere on a stem with a door, block by block, and the other profiles."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import pytest

from blockrun.order.domes import Way, lay_dome
from blockrun.order.domes.clip import area
from blockrun.order.laid import Role
from blockrun.order.shape import Shape
from tests.order.domes.made import dome, mould, shell
from tests.order.domes.volumes import volumes_of

ROUND = shell(stem="1240 mm")


def adds_up(dome, moulds=()):
    volumes = volumes_of(dome, moulds)
    return abs((volumes.blocks_l + volumes.joints_l) / volumes.dome_l - 1) < volumes.tolerance < 0.03


@pytest.mark.parametrize("width", ["0.5 m", "0.9 m", "1.3 m"])
def test_a_ring_begins_at_a_head_joint_that_a_block_left_whole_stands_beside(width):
    layout = lay_dome(dome(openings=[{"name": "door", "width": width, "height": "2 m"}]))
    for ring in layout.courses:
        turns = [(math.radians(ring.begin_deg) - joint) % (2 * math.pi) for joint in ring.joints_rad]
        assert min(min(turn, 2 * math.pi - turn) for turn in turns) == pytest.approx(0, abs=1e-9)
        after = math.radians(ring.begin_deg) + math.pi / ring.count
        beside = [b for b in layout.blocks if b.course == ring.course and abs(_azimuth(b) - after) < 0.2 / ring.count]
        assert len(beside) == 1
        assert "door" not in beside[0].cut
        assert "saw off" not in beside[0].cut


def _azimuth(block):
    x, y = (sum(axis) / len(block.corners) for axis in zip(*block.corners, strict=True))
    return math.atan2(y, x) % (2 * math.pi)


def test_the_dome_of_the_design_is_laid_in_rings_up_to_its_crown():
    layout = lay_dome(dome())
    assert [ring.course for ring in layout.courses] == list(range(1, 16))
    assert [ring.stem for ring in layout.courses] == [True] * 4 + [False] * 11
    assert layout.blocks[-1].role is Role.CROWN
    assert layout.blocks[-1].course == 16


def test_every_ring_closes():
    for ring in lay_dome(dome()).courses:
        turns = [b - a for a, b in itertools.pairwise(ring.joints_rad)]
        last = 2 * math.pi - sum(turns)
        assert len(ring.joints_rad) == ring.count
        assert last == pytest.approx(turns[0])


def test_without_openings_every_block_of_the_rings_is_there_and_blocks_lie_as_cast():
    layout = lay_dome(ROUND)
    assert Counter(block.course for block in layout.blocks if block.role is Role.PLAIN) == {
        ring.course: ring.count for ring in layout.courses
    }
    assert {block.cut for block in layout.blocks if block.course < 15} == {""}


def test_the_door_takes_blocks_out_and_cuts_its_jambs():
    whole, cut = lay_dome(shell()), lay_dome(dome())
    assert len(cut.blocks) < len(whole.blocks)
    second = [block.cut for block in cut.blocks if block.course == 2 and block.cut]
    assert len(second) == 2
    assert any("left end" in words for words in second)
    assert any("right end" in words for words in second)


def test_blocks_over_the_door_are_cut_below():
    over = [block.cut for block in lay_dome(dome()).blocks if "saw off below" in block.cut]
    assert over
    assert {words.split()[-4] for words in over} == {"109"}


def test_nothing_above_the_door_is_cut():
    assert {block.cut for block in lay_dome(dome()).blocks if 7 < block.course < 15} == {""}


def test_radii_fall_and_the_lean_grows_above_the_stem():
    rings = [ring for ring in lay_dome(dome()).courses if not ring.stem]
    for below, above in itertools.pairwise(rings):
        assert above.inside_radius_mm < below.inside_radius_mm
        assert above.outside_radius_mm < below.outside_radius_mm
        assert above.lean_deg > below.lean_deg


def test_tops_of_courses_are_a_course_and_a_joint_apart_along_the_curve():
    """A straight block of 300 mm spans 300.23 mm of a curve of 2.2 m radius, which leaves 9.77 mm to the joint."""
    layout = lay_dome(ROUND)
    for section, above in itertools.pairwise(layout.sections[:14]):
        assert section.from_crown_mm[1] - above.from_crown_mm[1] == pytest.approx(310)
        joint = math.dist(section.outline[3], above.outline[0])
        assert joint == pytest.approx(9.77 if above.course > 4 else 10, abs=0.01)
        assert math.dist(above.outline[0], above.outline[3]) == pytest.approx(300, abs=1e-6)


def test_the_compass_arm_of_a_hemisphere_is_its_radius():
    for ring in lay_dome(ROUND).courses:
        if not ring.stem:
            assert ring.arm_mm == pytest.approx(2200, abs=0.01)
    assert [ring.arm_deg for ring in lay_dome(ROUND).courses][-1] == pytest.approx(86.2, abs=0.1)


def test_the_pivot_may_stand_elsewhere():
    layout = lay_dome(shell(stem="1240 mm", pivot="0 mm"))
    first = layout.courses[0]
    assert layout.pivot_mm == 0
    assert first.arm_mm == pytest.approx(math.hypot(2200, 310))
    assert first.arm_deg == pytest.approx(math.degrees(math.atan2(310, 2200)))


@pytest.mark.parametrize("moulds", [(), (mould(),), (mould(stop_ends=False, cavity="450 x 300 x 200 mm"),)])
@pytest.mark.parametrize("make", [dome, shell])
def test_blocks_and_joints_add_up_to_the_dome(make, moulds):
    assert adds_up(make(), moulds)


@pytest.mark.parametrize("crown", ["block", "ring", "eye"])
@pytest.mark.parametrize(
    ("profile", "rise"),
    [("pointed", "3.6 m"), ("ellipse", "2.8 m"), ("ellipse", "1.5 m"), ("catenary", "2.6 m"), ("segment", "1.2 m")],
)
def test_every_profile_and_crown_adds_up(profile, rise, crown):
    eye = "700 mm" if crown == "eye" else None
    part = dome(profile=profile, rise=rise, crown=crown, eye_diameter=eye)
    assert adds_up(part)
    assert all(ring.count >= 6 for ring in lay_dome(part).courses)


def test_the_eye_is_as_wide_as_it_is_asked_for():
    layout = lay_dome(dome(crown="eye", eye_diameter="600 mm"))
    assert 2 * layout.crown.edge_radius_mm == pytest.approx(600, abs=0.01)
    assert all(block.role is Role.PLAIN for block in layout.blocks)
    assert any("eye is 600 mm wide" in note for note in layout.notes)


def test_outlines_are_counted_anticlockwise_and_do_not_overlap_in_a_ring():
    layout = lay_dome(dome())
    assert all(area(block.corners) > 0 for block in layout.blocks)
    for ring in layout.courses:
        taken = sum(area(block.corners) for block in layout.blocks if block.course == ring.course)
        away = [math.hypot(*point) for b in layout.blocks if b.course == ring.course for point in b.corners]
        assert taken < math.pi * (max(away) ** 2 - min(away) ** 2)


def test_a_stem_that_is_no_multiple_of_the_course_gets_a_levelling_course():
    layout = lay_dome(shell(stem="1.2 m"))
    assert layout.courses[0].height_mm == pytest.approx(260)
    assert {block.cut for block in layout.blocks if block.course == 1} == {"saw to 260 mm high"}
    assert any("level the stem: one of 930 mm or 1240 mm needs no cut course" in note for note in layout.notes)


def test_a_stem_that_nearly_is_one_stretches_its_joints():
    layout = lay_dome(shell(stem="1.25 m"))
    assert [ring.bed_joint_mm[0] for ring in layout.courses[:4]] == pytest.approx([12.5] * 4)
    assert {block.cut for block in layout.blocks if block.course <= 4} == {""}


def test_two_low_courses_share_a_rest_too_low_for_one():
    layout = lay_dome(shell(stem="1000 mm"))
    assert [round(ring.height_mm) for ring in layout.courses[:3]] == [180, 180, 300]


def test_moulds_of_one_length_get_closing_pieces():
    layout = lay_dome(shell(stem="1240 mm"), [mould("300 x 300 x 200 mm", stop_ends=False)])
    closed = [ring for ring in layout.courses if ring.closing]
    assert closed
    for ring in closed:
        piece = [block for block in layout.blocks if block.course == ring.course and "closing piece" in block.cut]
        assert len(piece) == 1
        assert 150 <= ring.closing.outside_bottom_mm <= 340
        assert {block.shape for block in layout.blocks if block.course == ring.course} == {ring.setting.cast}


def test_no_dome_needs_a_stem():
    assert not any(ring.stem for ring in lay_dome(shell(stem=None)).courses)
    assert adds_up(shell(stem=None))


def test_sawn_blocks_say_how_they_are_sawn():
    layout = lay_dome(shell(), [mould()])
    sawn = next(ring for ring in layout.courses if ring.setting.way is Way.SAWN)
    words = next(block.cut for block in layout.blocks if block.course == sawn.course)
    through, up, _ = sawn.setting.set_deg
    assert f"each end {through:.1f} deg through the thickness and {up:.1f} deg up the face" in words
    assert (through, up) == pytest.approx(sawn.even_deg[:2], abs=0.06)


def test_the_unit_of_the_sizes_does_not_change_the_blocks():
    feet = dome(inside_diameter="14 ft", stem="4 ft", thickness="8 in", course="12 in", block_length="18 in")
    metric = dome(inside_diameter="4267.2 mm", stem="121.92 cm", thickness="203.2 mm", course="304.8 mm",
                  block_length="0.4572 m")  # fmt: skip
    there, here = lay_dome(feet), lay_dome(metric)
    assert [(block.course, block.cut) for block in there.blocks] == [(block.course, block.cut) for block in here.blocks]
    assert [ring.count for ring in there.courses] == [ring.count for ring in here.courses]


def test_the_same_dome_gives_the_same_blocks():
    assert lay_dome(dome(), [mould()]) == lay_dome(dome(), [mould()])


def crown_block(moulds=(), **changes):
    return lay_dome(shell(**changes), moulds).blocks[-1].shape


IN_INCHES = {"thickness": "8 in", "course": "8 in", "block_length": "18 in", "joint": "3/8 in", "stem": "3 ft"}


@pytest.mark.parametrize("width", ["4 ft", "13 ft", "24 ft"])
@pytest.mark.parametrize("moulds", [(), (mould("18 x 8 x 8 in"),)])
def test_a_crown_block_of_whole_inches_is_no_larger_than_the_course_it_was_made_for(width, moulds):
    """8 in are 203.2 mm, and 204 mm come out of no mould of theirs."""
    shape = crown_block(moulds, inside_diameter=width, **IN_INCHES)
    assert shape.length_mm == pytest.approx(203.2, abs=0.01)
    assert (shape.height_mm, shape.thickness_mm) == pytest.approx((203.2, 203.2))


POINTED = {"inside_diameter": "4 m", "course": "200 mm", "profile": "pointed", "rise": "3 m", "stem": None}


def test_a_crown_block_wider_than_a_course_is_sawn_out_of_any_mould_that_holds_it():
    moulds = [mould("450 x 200 x 200 mm"), mould()]
    assert crown_block(moulds, **POINTED) == Shape(241, 300, 200)
    assert crown_block([mould("450 x 200 x 200 mm"), mould(stop_ends=False)], **POINTED) == Shape(600, 300, 200)


def test_a_crown_block_that_a_slab_or_a_filler_alone_would_hold_is_cast_as_large_as_it_is():
    slab = mould("1200 x 900 x 200 mm", cavities=1, stop_ends=False, saw={"kerf": "4 mm", "time": "20 min"})
    for other in (slab, mould(filler=True)):
        assert crown_block([mould("450 x 200 x 200 mm"), other], **POINTED) == Shape(241, 241, 200)


def test_a_dome_for_moulds_yet_to_be_made_has_no_crown_block_out_of_a_large_one_of_another_course():
    assert crown_block([mould("600 x 400 x 200 mm", stop_ends=False)]) == crown_block()
