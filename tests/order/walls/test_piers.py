"""How piers are laid and bonded into their walls."""

from __future__ import annotations

import pytest

from blockrun.order.laid import Laid, Role
from blockrun.order.walls import Pier, Top, WallLayout, lay_wall
from tests.order.walls.some_walls import course, hole, wall


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


@pytest.mark.parametrize("height_mm", [2700, 2600])
def test_blocks_of_piers_are_among_those_that_are_sawn_to_make_up_the_height(height_mm: float) -> None:
    layout = piered(height_mm=height_mm)
    sawn = [block for block in layout.blocks if "high" in block.cut]
    assert any(block.role is Role.PIER for block in sawn)
    assert f" {len(sawn)} sawn blocks" in layout.notes[0]
