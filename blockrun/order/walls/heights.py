"""A height into courses: whole ones, and what is done with the rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

LEAST_SHARE: Final = 0.25
"""Lowest course laid, as a share of the block's height (our choice)."""
THIN_SHARE: Final = 1 / 6
"""Height below which a wedge under a slope is made up in mortar, as a share of the block's height (our choice)."""
_EPS_MM: Final = 1e-6


@dataclass(frozen=True)
class Course:
    """One course: its number from 1, and the bottom and top of its blocks above the floor in mm."""

    number: int
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True)
class Levels:
    """The courses of a wall.

    Parameters
    ----------
    courses : from the bottom up.
    bed_mm : mortar under each of them.
    special : heights of the courses that are no whole block high; empty when there are none.
    at_top : whether those are at the top, not at the bottom.
    """

    courses: tuple[Course, ...]
    bed_mm: float
    special: tuple[float, ...] = ()
    at_top: bool = True


def levels(
    height_mm: float, peak_mm: float, block_mm: float, joint_mm: float, give_mm: float, *, level: bool = True
) -> list[Levels]:
    """Ways to make up a height in courses.

    Parameters
    ----------
    height_mm : of the wall or to its eaves; each course takes a bed of mortar under it.
    peak_mm : of the highest point, where whole courses go on above the eaves.
    block_mm, joint_mm : height of a whole block, and the bed.
    give_mm : how far beds may open or close so that whole courses fit.
    level : whether any of the wall ends at that height; slopes alone are sawn wherever they meet whole courses.

    Returns
    -------
    One way when whole courses fit, else two: special courses at the bottom, and at the top.
    """
    if not level:
        return [Levels(_stack([], joint_mm, block_mm, peak_mm), joint_mm)]
    pitch = block_mm + joint_mm
    nearest = max(1, round(height_mm / pitch))
    bed = height_mm / nearest - block_mm
    if abs(bed - joint_mm) <= give_mm + _EPS_MM and bed >= 0:
        return [Levels(_stack([block_mm] * nearest, bed, block_mm, peak_mm), bed)]
    n_whole = int(height_mm / pitch)
    special = _special(height_mm - n_whole * pitch, n_whole, block_mm, joint_mm)
    whole = [block_mm] * (n_whole + 1 - len(special))
    return [
        Levels(_stack(heights, joint_mm, block_mm, peak_mm), joint_mm, special, at_top)
        for at_top, heights in ((False, [*special, *whole]), (True, [*whole, *special]))
    ]


def _special(rest_mm: float, n_whole: int, block_mm: float, joint_mm: float) -> tuple[float, ...]:
    """One course of what is left, or two even ones when that would be too low."""
    height = rest_mm - joint_mm
    if height >= LEAST_SHARE * block_mm - _EPS_MM or not n_whole:
        return (max(height, _EPS_MM),)
    return ((height + block_mm) / 2,) * 2


def _stack(heights: list[float], bed_mm: float, block_mm: float, peak_mm: float) -> tuple[Course, ...]:
    courses: list[Course] = []
    up = 0.0
    for height in heights:
        courses.append(Course(len(courses) + 1, up + bed_mm, up + bed_mm + height))
        up = courses[-1].top_mm
    while up + bed_mm < peak_mm - 1.0:
        courses.append(Course(len(courses) + 1, up + bed_mm, up + bed_mm + block_mm))
        up = courses[-1].top_mm
    return tuple(courses)
