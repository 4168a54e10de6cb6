"""Counts of blocks against tables that builders estimate from.

Navy Builder manuals (seen in text, tables 4-3 and 8-4 and the rules beside them): blocks of 8 x 8 x 16 in nominal are
7 5/8 in thick and high with 3/8 in joints, 0.75 units to the foot of a course and 1.5 courses to the foot of height, so
1.125 units to the square foot; an actual length is the nominal one less a joint. The actual length of the block,
15 5/8 in, is from memory. Tolerance: none, these are whole numbers of blocks.
"""

from __future__ import annotations

import pytest

from blockrun.order.walls import Run, WallLayout, WallPart, lay_wall

IN, FT = 25.4, 304.8
JOINT = 0.375 * IN
BLOCK = (15.625 * IN, 7.625 * IN, 7.625 * IN)


def units(layout: WallLayout, course: int | None = None) -> float:
    """Whole blocks, each piece counted by its length: two halves are one."""
    pieces = [block for block in layout.blocks if course in (None, block.course)]
    return sum(piece.shape.length_mm + JOINT for piece in pieces) / (16 * IN)


def straight(length_ft: float, height_ft: float) -> WallLayout:
    wall = WallPart(
        name="any", length_mm=length_ft * FT - JOINT, height_mm=height_ft * FT, block=BLOCK, joint_mm=JOINT, bond="half"
    )
    return lay_wall(wall)


def test_a_wall_of_100_by_10_ft_takes_1125_blocks() -> None:
    layout = straight(100, 10)
    assert layout.courses == 15
    assert units(layout, 1) == pytest.approx(75)
    assert units(layout) == pytest.approx(1125)


def test_a_building_of_20_by_8_ft_8_ft_high_takes_42_a_course_and_504_without_corner_allowance() -> None:
    layouts = [straight(length, 8) for length in (20, 8, 20, 8)]
    assert {layout.courses for layout in layouts} == {12}
    assert sum(units(layout, 1) for layout in layouts) == pytest.approx(42)
    assert sum(units(layout) for layout in layouts) == pytest.approx(504)


def test_a_rectangle_of_22_by_32_ft_takes_79_a_course_and_790_for_10_courses() -> None:
    runs = tuple(Run(name=f"{n}", length_mm=length * FT - JOINT) for n, length in enumerate((32, 22, 32, 22)))
    wall = WallPart(name="any", outline=runs, height_mm=10 * 8 * IN, block=BLOCK, joint_mm=JOINT, bond="half")
    layout = lay_wall(wall)
    assert layout.courses == 10
    assert [units(layout, course) for course in range(1, 11)] == pytest.approx([79] * 10)
    assert units(layout) == pytest.approx(790)
    assert not any("overlap" in note for note in layout.notes)


# Arithmetic: 1 m2 / (400 mm x 200 mm), blocks of 390 x 190 mm with 10 mm joints. Tolerance: none.
def test_metric_modular_blocks_are_12_and_a_half_to_the_square_metre() -> None:
    wall = WallPart(name="any", length_mm=9990, height_mm=4000, block=(390, 190, 190), joint_mm=10, bond="half")
    layout = lay_wall(wall)
    halves = sum(block.shape.length_mm == 190 for block in layout.blocks)
    assert (len(layout.blocks) - halves / 2) / (10 * 4) == 12.5
    assert {block.shape.length_mm for block in layout.blocks} == {390, 190}
