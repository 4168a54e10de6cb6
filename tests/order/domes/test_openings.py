"""What doors and windows take out of blocks."""

from __future__ import annotations

import math

import pytest

from blockrun.order.domes import lay_dome
from blockrun.order.domes.clip import narrowest
from blockrun.order.domes.frame import Course
from blockrun.order.domes.openings import cuts_into, meets, piece, taken
from blockrun.order.domes.part import DomeOpening
from blockrun.order.shape import Shape
from tests.order.domes.made import dome

BLOCK = Shape(400, 300, 200)
COURSE = Course(1, (2000.0, 1000.0), (2000.0, 1300.0), 0.0, 200.0, 300.0, 300.0, (3000.0, 2700.0))


def opening(sill=900.0, head=1400.0, width=400.0, at=0.0):
    return DomeOpening(name="w", at_deg=at, sill_mm=sill, width_mm=width, height_mm=head - sill)


def cut(azimuth_rad=0.0, **changes):
    found = piece(COURSE, BLOCK, azimuth_rad, [opening(**changes)])
    assert found is not None
    return found


def test_an_opening_over_all_of_a_block_leaves_nothing():
    assert piece(COURSE, BLOCK, 0.0, [opening(width=600)]) is None


def test_a_block_elsewhere_or_on_the_far_side_is_whole():
    for azimuth in (0.5, math.pi):
        found = cut(azimuth)
        assert (found.cut, found.share) == ("", 1.0)


def test_a_head_cuts_blocks_below():
    found = cut(head=1120, width=900)
    assert found.cut == "saw off below, to 180 mm high inside"
    assert found.share == pytest.approx(0.6)


def test_a_sill_cuts_blocks_above():
    assert cut(sill=1120, width=900).cut == "saw off above, to 120 mm high inside"


def test_a_jamb_cuts_the_end_that_is_next_to_it():
    """A block anti-clockwise of the opening, seen from above, loses its left end as seen from outside."""
    left = cut(0.15).cut
    assert left.startswith("saw off the left end, to 3")
    assert left.endswith("mm long inside")
    assert cut(-0.15).cut == left.replace("left", "right")


def test_a_corner_of_an_opening_takes_a_notch():
    assert "out of the lower left corner" in cut(0.15, head=1120).cut
    assert "out of the upper right corner" in cut(-0.15, sill=1120).cut


def test_a_small_opening_goes_through_one_block():
    assert cut(width=100, sill=1100, head=1200).cut == "saw 100 x 100 mm (inside) out of the face"
    assert cut(width=100, head=1200).cut == "saw 100 x 200 mm (inside) out of the bottom edge"
    assert cut(width=100, sill=1200).cut == "saw 100 x 100 mm (inside) out of the top edge"
    assert cut(width=100).cut == "saw 100 x 300 mm (inside) out of the middle: two pieces"


def test_two_openings_may_cut_one_block():
    found = piece(COURSE, BLOCK, 0.0, [opening(head=1060, width=900), opening(sill=1250, head=1500, width=900)])
    assert found is not None
    assert found.share == pytest.approx(1 - 60 / 300 - 50 / 300)
    assert found.cut == "saw off below, to 240 mm high inside; saw off above, to 250 mm high inside"


def test_an_opening_that_just_touches_cuts_nothing():
    assert cut(head=1000.5, width=900).cut == ""


def test_a_nub_that_stands_into_an_opening_is_sawn_off_however_little_of_the_block_it_is():
    """20 x 4 mm of 400 x 300 mm are a fifteenth of a hundredth, and keep out what fits the clear size; 2 mm do not."""
    assert cut(width=20, sill=1280).cut == "saw 20 x 20 mm (inside) out of the top edge"
    assert cut(width=4, sill=1280).cut == "saw 4 x 20 mm (inside) out of the top edge"
    assert cut(width=20, sill=1296).cut == "saw 20 x 4 mm (inside) out of the top edge"
    assert cut(width=2, sill=1280).cut == ""


@pytest.mark.parametrize("width", ["0.8 m", "0.9 m", "1 m"])
def test_blocks_beside_a_door_leave_it_as_clear_as_it_is_asked_for(width):
    door = {"name": "door", "width": width, "height": "2 m", "at": "40 deg"}
    part = dome(openings=[door])
    for spot in lay_dome(part).spots:
        if not cuts_into(spot.course, spot.shape, spot.middle_rad, part.openings[0]):
            for depth in (0.0, 100.0, 200.0):
                stands_in = taken(spot.course, spot.shape, depth, spot.middle_rad, part.openings[0])
                assert not stands_in or narrowest(stands_in) <= 3


def test_an_opening_is_met_at_its_levels_only():
    assert meets(COURSE, opening())
    assert not meets(COURSE, opening(sill=0, head=1000))
    assert not meets(COURSE, opening(sill=1300, head=1500))


def test_a_leaning_block_may_lose_its_inside_alone():
    lean = 1.0
    top = (2000 - 300 * math.sin(lean), 1000 + 300 * math.cos(lean))
    course = Course(1, (2000.0, 1000.0), top, 0.0, 200.0, 300.0, 300.0, (900.0, 600.0))
    found = piece(course, BLOCK, 0.0, [opening(sill=0, head=1000 + 302 * math.cos(lean), width=900)])
    assert found is not None
    assert 0 < found.share < 1
    assert found.outline
    assert found.cut


def test_an_end_that_is_sawn_skew_keeps_its_length_at_the_edge_that_is_not_sawn():
    """The jamb takes the upper corner and comes within a hair of the lower one, which it does not reach."""
    sin, cos = math.sin(0.2), math.cos(0.2)
    leaning = Course(5, (2000.0, 1000.0), (2000 - 300 * sin, 1000 + 300 * cos), 0.0, 200.0, 300.0, 300.0, (2500, 2200))
    found = piece(leaning, Shape(400, 300, 200, 6), 0.38, [opening(width=1150)])
    assert found is not None
    assert found.share == pytest.approx(0.995, abs=0.001)
    assert found.cut == "saw off the left end, to 358 mm long at the bottom, 335 mm at the top inside"
