"""Pieces beside openings that are too short for a block: they share the room of a neighbour, or are mortar."""

from __future__ import annotations

import re

import pytest
from shapely import Polygon, unary_union

from blockrun.order.domes import lay_dome
from blockrun.order.laid import Role
from tests.order.domes.made import dome, mould
from tests.order.domes.volumes import volumes_of

MOULDS = {"any": (), "long": (mould(),), "short": (mould("320 x 300 x 200 mm"),)}


def beside(width_mm, at_deg=0.0, moulds="long", **changes):
    return lay_dome(with_openings(width_mm, at_deg, **changes), MOULDS[moulds])


def with_openings(width_mm, at_deg, **changes):
    door = {"name": "door", "width": f"{width_mm} mm", "height": "2.0 m", "at": f"{at_deg} deg"}
    window = {"name": "window", "width": "700 mm", "height": "0.6 m", "sill": "1 m", "at": "130 deg"}
    return dome(openings=[door, window], **changes)


def left(layout, side):
    """The greatest length or height left of each piece that loses an end, or its foot or head, mm."""
    sawn = [block.cut.partition("saw off")[2] for block in layout.blocks if "saw off" in block.cut]
    lengths = [re.findall(r"(\d+) mm (?:long|high|at the top)", words) for words in sawn if side in words]
    return [max(map(float, found)) for found in lengths]


@pytest.mark.parametrize("moulds", MOULDS)
@pytest.mark.parametrize("width", [800, 835, 870, 905, 940])
def test_no_piece_that_is_cast_is_shorter_than_the_least_length_or_lower_than_the_lowest_course(width, moulds):
    layout = beside(width, 7.0, moulds)
    assert min(left(layout, "long")) >= 149.5
    assert min(left(layout, "high")) >= 99.5


@pytest.mark.parametrize("moulds", MOULDS)
@pytest.mark.parametrize("width", [800, 870, 940])
def test_blocks_joints_and_fills_add_up_to_the_dome(width, moulds):
    volumes = volumes_of(with_openings(width, 7.0), MOULDS[moulds])
    assert volumes.blocks_l + volumes.joints_l == pytest.approx(volumes.dome_l, rel=volumes.tolerance)


def test_a_gap_filled_with_mortar_is_told_and_costs_no_block():
    layout = beside(870, 7.0, "short", least_length="200 mm")
    (note,) = [note for note in layout.notes if "with mortar and chips" in note]
    assert re.fullmatch(r"Courses? [\d, andto]+: fill (a gap|\d+ gaps) at openings, .*", note)
    assert [ring.laid for ring in layout.courses] == [
        sum(block.course == ring.course for block in layout.blocks) for ring in layout.courses
    ]


def test_two_blocks_share_the_room_of_one_and_of_a_piece_that_would_be_too_short():
    layout = beside(870, 7.0, "long")
    shared = [block for block in layout.blocks if block.cut.startswith("saw to") and block.cut.endswith("mm long")]
    assert shared
    usual = {ring.course: ring.setting.cast for ring in layout.courses}
    for block in shared:
        assert block.shape == usual[block.course]
        assert 150 <= float(block.cut.split()[2]) < block.shape.length_mm


@pytest.mark.parametrize("width", [950, 1050, 1250])
def test_a_block_that_would_lose_no_more_than_a_nub_shares_its_room_and_no_gap_is_left(width):
    door = {"name": "door", "width": f"{width} mm", "height": "2.0 m"}
    assert not any("gap" in note for note in lay_dome(dome(openings=[door])).notes)


def test_blocks_of_a_ring_do_not_overlap():
    for width in (800, 835, 870, 905, 940):
        blocks = beside(width, 7.0, "long").blocks
        for course in range(1, 8):
            outlines = [Polygon(block.corners) for block in blocks if block.course == course]
            assert unary_union(outlines).area == pytest.approx(sum(outline.area for outline in outlines), rel=1e-6)


@pytest.mark.parametrize("moulds", MOULDS)
def test_no_block_is_cast_for_thin_strips_over_and_beside_a_corner_of_an_opening(moulds):
    door = {"name": "door", "width": "0.8 m", "height": "1.8 m"}
    changes = {"inside_diameter": "3 m", "stem": "0.84 m", "course": "200 mm", "openings": [door]}
    layout = lay_dome(dome(**changes), MOULDS[moulds])
    whole = {
        ring.course: max(Polygon(block.corners).area for block in layout.blocks if block.course == ring.course)
        for ring in layout.courses
    }
    for block in layout.blocks:
        if block.role is Role.PLAIN:
            assert Polygon(block.corners).area > whole[block.course] / 5
