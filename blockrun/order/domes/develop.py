"""The developed view: a point's distance from the middle is its distance from the crown along the curve.

A plan would squeeze the low courses; here every course is as high as it is. What is measured round the dome stretches
instead, by half as much again at the springing of a hemisphere.
"""

from __future__ import annotations

import math

from blockrun.order.domes.clip import Point
from blockrun.order.domes.courses import Crown
from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.profile import along_at_height_mm

_SIDES = 24


def developed(course: Course, middle_rad: float, point: Point) -> Point:
    """A point of a block's inside face in the developed view, mm from the crown.

    Parameters
    ----------
    middle_rad : azimuth of the block's middle.
    point : across from its middle and up from its bottom edge, mm.
    """
    across, up = point
    azimuth = middle_rad + math.atan2(across, course.point(course.thickness_mm, up)[0])
    bottom, top = course.from_crown_mm
    away = bottom + (top - bottom) * up / course.height_mm
    return away * math.cos(azimuth), away * math.sin(azimuth)


def crown_outline(crown: Crown, joint_mm: float) -> tuple[Point, ...]:
    """The crown block in the developed view."""
    away = max(crown.from_crown_mm - joint_mm, 1.0)
    turns = [2 * math.pi * side / _SIDES for side in range(_SIDES)]
    return tuple((away * math.cos(turn), away * math.sin(turn)) for turn in turns)


def opening_outline(dome: DomePart, opening: DomeOpening) -> tuple[Point, ...]:
    """An opening on the inside face, in the developed view: up its right side, down its left, as seen from outside."""
    levels = [opening.sill_mm + opening.height_mm * step / _SIDES for step in range(_SIDES + 1)]
    sides = [(*_place(dome, level), opening) for level in levels]
    right = [_corner(away, radius, opening, 1) for away, radius, opening in sides]
    left = [_corner(away, radius, opening, -1) for away, radius, opening in reversed(sides)]
    return (*right, *left)


def _place(dome: DomePart, level_mm: float) -> tuple[float, float]:
    """Distance from the crown along the inside, and radius there, at a height above the floor."""
    total = dome.curve.length_mm
    if level_mm <= dome.stem_mm:
        return total + dome.stem_mm - level_mm, dome.radius_mm
    along = along_at_height_mm(dome.curve, level_mm - dome.stem_mm)
    return total - along, dome.curve.at(along).radius_mm


def _corner(away_mm: float, radius_mm: float, opening: DomeOpening, side: int) -> Point:
    half = math.asin(min(1.0, opening.width_mm / 2 / max(radius_mm, 1.0)))
    azimuth = math.radians(opening.at_deg) + side * half
    return away_mm * math.cos(azimuth), away_mm * math.sin(azimuth)
