"""The true size of faces, against the table of the courses and the words for the saw."""

from __future__ import annotations

import math
import re

import pytest

from blockrun.order.domes import lay_dome
from blockrun.order.domes.clip import area
from blockrun.order.domes.faces import Face, Spot, crown_faces, faces
from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomeOpening
from blockrun.order.shape import Shape
from tests.order.domes.made import dome, mould, shell

BOX = ((0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0))
LONG = re.compile(r"saw off the (?:left|right) end, to (\d+) mm long(?: at the bottom, (\d+) mm at the top)? inside")


def lengths(face: Face) -> list[float]:
    return sorted(math.dist(*side) for side in face.sides_left())


def test_a_face_that_nothing_is_taken_of_has_its_own_sides():
    assert lengths(Face(BOX)) == pytest.approx([2, 2, 4, 4])


def test_a_notch_out_of_a_corner_leaves_six_sides():
    face = Face(BOX, (((3.0, 0.0), (4.0, 0.0), (4.0, 0.5), (3.0, 0.5)),))
    assert lengths(face) == pytest.approx([0.5, 1, 1.5, 2, 3, 4])


def test_a_notch_out_of_an_edge_leaves_that_edge_in_two():
    face = Face(BOX, (((1.0, 0.0), (1.5, 0.0), (1.5, 1.0), (1.0, 1.0)),))
    assert lengths(face) == pytest.approx([0.5, 1, 1, 1, 2, 2, 2.5, 4])


def test_a_hole_leaves_all_sides_and_its_own():
    face = Face(BOX, (((1.0, 0.5), (2.0, 0.5), (2.0, 1.5), (1.0, 1.5)),))
    assert lengths(face) == pytest.approx([1, 1, 1, 1, 2, 2, 4, 4])


def test_a_face_from_behind_has_its_left_at_the_right():
    notched = Face(BOX, (((3.0, 0.0), (4.0, 0.0), (4.0, 0.5), (3.0, 0.5)),)).mirrored()
    assert min(x for part in notched.taken for x, _ in part) == -4
    assert area(notched.outline) > 0
    assert all(area(part) > 0 for part in notched.taken)


@pytest.mark.parametrize("moulds", [(), (mould(),)], ids=["any mould", "plain blocks to saw"])
def test_whole_blocks_have_the_edges_of_the_table(moulds):
    layout = lay_dome(shell(), moulds)
    rings = {ring.course: ring for ring in layout.courses}
    by_course = {spot.course.number: spot for spot in layout.spots}
    for number, spot in by_course.items():
        edges = rings[number].edges
        outside, inside = faces(spot, ())
        for face, bottom_mm, top_mm in (
            (outside, edges.outside_bottom_mm, edges.outside_top_mm),
            (inside, edges.inside_bottom_mm, edges.inside_top_mm),
        ):
            left_low, right_low, right_high, left_high = face.outline
            assert right_low[0] - left_low[0] == pytest.approx(bottom_mm)
            assert right_high[0] - left_high[0] == pytest.approx(top_mm)


def test_blocks_at_a_door_are_as_long_as_the_words_for_the_saw_say():
    part = dome()
    layout = lay_dome(part, (mould(),))
    said = [(LONG.search(block.cut), spot) for block, spot in zip(layout.blocks, layout.spots, strict=False)]
    cut = [(found, spot) for found, spot in said if found]
    assert len(cut) > 3
    for found, spot in cut:
        _, inside = faces(spot, part.openings)
        sides = list(inside.sides_left())
        levels = sorted({round(y, 3) for side in sides for _, y in side})
        for level, long in ((levels[0], found[1]), (levels[-1], found[2] or found[1])):
            flat = [side for side in sides if all(abs(y - level) < 0.01 for _, y in side)]
            assert sum(math.dist(*side) for side in flat) == pytest.approx(int(long), abs=0.51)


@pytest.mark.parametrize(("sill_mm", "is_cut"), [(1299, False), (1290, True)])
def test_a_sliver_that_is_not_sawn_off_is_left_on_both_faces(sill_mm, is_cut):
    course = Course(1, (2000.0, 1000.0), (2000.0, 1300.0), 0.0, 200.0, 300.0, 300.0, (3000.0, 2700.0))
    window = DomeOpening(name="window", sill_mm=sill_mm, width_mm=900, height_mm=500)
    for face in faces(Spot(course, Shape(400, 300, 200), 0.0), [window]):
        assert bool(face.taken) == is_cut


def test_every_block_but_a_crown_block_has_its_spot():
    layout = lay_dome(shell())
    assert len(layout.spots) == len(layout.blocks) - 1
    assert [spot.course.number for spot in layout.spots] == [block.course for block in layout.blocks[:-1]]


def test_a_crown_block_is_round_to_a_hair():
    crown = lay_dome(shell()).crown
    for face, radius_mm in zip(crown_faces(crown), (crown.outside_radius_mm, crown.inside_radius_mm), strict=True):
        middles = [math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in face.sides_left()]
        assert radius_mm - 0.02 <= min(middles) <= max(middles) < radius_mm
