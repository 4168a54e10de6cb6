"""A block in its place: what is cast for it, and what is sawn off. Words of a cut are written and read here alone."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from blockrun import units
from blockrun.order.laid import Laid, Point, Role
from blockrun.order.shape import Shape
from blockrun.order.walls.alike import Spot
from blockrun.order.walls.bond import EPS_MM
from blockrun.order.walls.heights import Course
from blockrun.order.walls.openings import Hole, Lintel
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.runs import Stretch
from blockrun.order.walls.tops import cut_to

TROUGH: Final = "hollow to a trough"
_TO_SLOPE: Final = "top sawn to the slope"
_SKEW: Final = "end sawn at"
_HIGH: Final = "high"


def is_sloped(cut: str) -> bool:
    """Whether the words of a cut have the top follow a slope."""
    return _TO_SLOPE in cut


def is_skew(cut: str) -> bool:
    """Whether they have an end sawn skew."""
    return _SKEW in cut


def is_lower(cut: str) -> bool:
    """Whether they take some of the height off: to a line across, or to a slope."""
    return _HIGH in cut


def has_sizes(cut: str) -> bool:
    """Whether they have a size to saw to; a trough and a sloped sill have none."""
    return any(char.isdigit() for char in cut)


def is_sawn(cut: str) -> bool:
    """Whether more than a trough comes of it."""
    return bool(cut.replace(TROUGH, "").strip(", "))


def laid_block(part: WallPart, stretch: Stretch, spot: Spot, cast_mm: float, low_mm: float) -> Laid:
    """A block in its spot.

    Parameters
    ----------
    cast_mm : length of what is cast for it.
    low_mm : the lowest point of the line the run ends at; under it no block needs cutting to the line.
    """
    (left, right), piece, role = spot.ends, spot.piece, spot.role
    bottom, top = piece.bottom_mm, piece.top_mm
    if top <= low_mm + EPS_MM:
        corners: tuple[Point, ...] = ((left, bottom), (right, bottom), (right, top), (left, top))
    else:
        corners = cut_to(stretch.line, left, right, bottom, top)
    cuts = [*_height(corners, part), *_skew_ends(part, piece.skews_of(spot.ends))]
    if role in (Role.LINTEL, Role.RING_BEAM) and not piece.lintel:
        cuts.append(TROUGH)
    if role is Role.SILL:
        cuts.append("top sawn to fall outwards")
    shape = Shape(*map(exact_mm, (cast_mm, *part.block[1:])))
    return Laid(spot.course.number, shape, stretch.face, corners, ", ".join(cuts), role)


def role_of(
    part: WallPart,
    course: Course,
    ends: tuple[float, float],
    holes: Sequence[Hole],
    lintels: Sequence[Lintel],
    beams: set[int],
) -> Role:
    """What a block is for."""
    left, right = ends
    for lintel in lintels:
        if lintel.course == course.number and left < lintel.right_mm - EPS_MM and right > lintel.left_mm + EPS_MM:
            return Role.LINTEL
    if course.number in beams:
        return Role.RING_BEAM
    if part.sill == "sloped":
        for hole in holes:
            if hole.under == course.number and left < hole.right_mm - EPS_MM and right > hole.left_mm + EPS_MM:
                return Role.SILL
    return Role.PLAIN


def exact_mm(length_mm: float) -> float:
    """A length without the dust of arithmetic: to a ten-thousandth of a millimetre."""
    return round(length_mm + 1e-8, 4)


def _height(corners: Sequence[Point], part: WallPart) -> list[str]:
    """What is sawn off the top, in words."""
    bottom, left, right = corners[0][1], corners[0][0], max(along for along, _ in corners)
    upper = sorted((along, up - bottom) for along, up in corners if up > bottom + EPS_MM)
    heights = [up for _, up in upper]
    wide = upper[0][0] <= left + EPS_MM and upper[-1][0] >= right - EPS_MM
    if max(heights) - min(heights) <= EPS_MM and wide:
        return [] if heights[0] >= part.block[1] - EPS_MM else [f"to {part.said(heights[0])} {_HIGH}"]
    if upper[0][0] > left + EPS_MM:
        upper.insert(0, (left, 0.0))
    if upper[-1][0] < right - EPS_MM:
        upper.append((right, 0.0))
    points = [f"{part.said(up)} {_HIGH} at {part.said(along - left)}" for along, up in upper]
    return [f"{_TO_SLOPE}: " + ", ".join(points)]


def _skew_ends(part: WallPart, skews: tuple[float, float]) -> Iterator[str]:
    """Ends that are sawn skew: the angle off square, and by how much that shortens one face."""
    for side, skew in zip(("left", "right"), skews, strict=True):
        if abs(skew) > EPS_MM:
            angle = units.show_angle(math.degrees(math.atan(abs(skew) / part.block[2])))
            yield f"{side} {_SKEW} {angle}, {part.said(abs(skew))} shorter {'outside' if skew > 0 else 'inside'}"


def solid_l(corners: Sequence[Point], deep_mm: float, skews: tuple[float, float]) -> float:
    """Litres of a block as laid: its outline by the shoelace formula, and half of what each skew end adds behind."""
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))
    alongs = [along for along, _ in corners]
    added = sum(skew * _tall(corners, end) for skew, end in zip(skews, (min(alongs), max(alongs)), strict=True))
    return (abs(twice) + added) / 2 * deep_mm / 1e6


def _tall(corners: Sequence[Point], at_mm: float) -> float:
    """How high an outline is at one of its ends."""
    ups = [up for along, up in corners if abs(along - at_mm) <= EPS_MM]
    return max(ups) - min(ups)
