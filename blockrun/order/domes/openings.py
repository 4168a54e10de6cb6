"""What doors and windows take out of the blocks of a course."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from blockrun.order.domes.clip import HalfPlane, Point, area, clipped, left_over, narrowest, within
from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomeOpening
from blockrun.order.shape import Shape

_TOUCHED = 0.005
"""Share of a block that an opening must take for the block to count as cut (our choice)."""
_STANDS_IN_MM = 3.0
"""How far a block may stand into an opening and not be cut (our choice): its clear size is what was asked for."""
_GONE = 0.98
"""Share that it must take for no block to be cast (our choice)."""
_FACES = ("inside", "at half its thickness", "outside")


@dataclass(frozen=True)
class Piece:
    """What openings leave of a block.

    Parameters
    ----------
    outline : of its inside face: across from its middle (anti-clockwise seen from above) and up from its bottom, mm.
    share : of its volume that is left, 0 to 1.
    cut : what is sawn off, in words; empty when nothing is.
    long_mm, high_mm : of what is left beside an opening, and over or under it, on the mean.
    in_way_mm : the least width of what is taken, on the face where that is most.
    """

    outline: tuple[Point, ...]
    share: float
    cut: str
    long_mm: float
    high_mm: float
    in_way_mm: float = 0.0


def face(course: Course, shape: Shape, depth_mm: float) -> list[Point]:
    """A block so far from its outside: across from the middle and up from the bottom of its inside face."""
    lean = math.tan(math.radians(shape.bed_deg))
    foot = course.thickness_mm * lean
    over = (course.thickness_mm - depth_mm) * lean
    low, high = -over, course.height_mm + over
    bottom, top = (shape.length_at_mm(depth_mm, up + foot) / 2 for up in (low, high))
    return [(-bottom, low), (bottom, low), (top, high), (-top, high)]


def piece(course: Course, shape: Shape, azimuth_rad: float, openings: Sequence[DomeOpening]) -> Piece | None:
    """What is left of a block whose middle is at an azimuth; None when openings take it all.

    Openings never overlap, so what they take adds up; the outline is that of the one which takes most.
    """
    outline = tuple(face(course, shape, course.thickness_mm))
    whole = Piece(outline, 1.0, "", *extent(outline))
    after = (_after(course, shape, azimuth_rad, opening) for opening in openings)
    cuts = sorted((cut for cut in after if cut and _counts(cut)), key=lambda cut: cut.share)
    share = 1 - sum(1 - cut.share for cut in cuts)
    if share < 1 - _GONE:
        return None
    return replace(cuts[0], share=share, cut="; ".join(cut.cut for cut in cuts)) if cuts else whole


def _after(course: Course, shape: Shape, azimuth_rad: float, opening: DomeOpening) -> Piece | None:
    """What one opening leaves of a block; None when they do not come near each other.

    The opening is cut out of the inside face, the middle of the thickness and the outside face, and the volume taken
    is added up from the three by Simpson's rule.
    """
    if not _near(course, shape, _turn_rad(azimuth_rad, opening), opening):
        return None
    depths = (course.thickness_mm, course.thickness_mm / 2, 0.0)
    faces = [face(course, shape, depth) for depth in depths]
    out = [taken(course, shape, depth, azimuth_rad, opening) for depth in depths]
    shares = [area(part) / area(whole) for part, whole in zip(out, faces, strict=True)]
    share = 1 - (shares[0] + 4 * shares[1] + shares[2]) / 6
    in_way = max((narrowest(part) for part in out if part), default=0.0)
    partly = [number for number in range(3) if out[number] and shares[number] < 1 - _TOUCHED]
    if not partly:
        words = "saw away all but the outside" if out[0] else ""
        return Piece(tuple(faces[2]), share, words, *extent(faces[2]), in_way)
    sawn = partly[0]
    shown = sawn if out[0] else 0
    words = _words(faces[sawn], out[sawn], _FACES[sawn])
    (long, high), (across, up), taken_mm2 = extent(faces[sawn]), extent(out[sawn]), area(out[sawn])
    left = tuple(left_over(faces[shown], out[shown]))
    return Piece(left, share, words, long - taken_mm2 / up, high - taken_mm2 / across, in_way)


def cuts_into(course: Course, shape: Shape, azimuth_rad: float, opening: DomeOpening) -> bool:
    """Whether an opening takes enough of a block for it to count as cut; see `piece`."""
    after = _after(course, shape, azimuth_rad, opening)
    return after is not None and _counts(after)


def _counts(after: Piece) -> bool:
    return after.share < 1 - _TOUCHED or after.in_way_mm > _STANDS_IN_MM


def taken(course: Course, shape: Shape, depth_mm: float, azimuth_rad: float, opening: DomeOpening) -> list[Point]:
    """What an opening takes of a block so far from its outside, as `face` tells it; empty where that is nothing.

    Parameters
    ----------
    azimuth_rad : of the middle of the block.
    """
    turn = _turn_rad(azimuth_rad, opening)
    if not _near(course, shape, turn, opening):
        return []
    return clipped(face(course, shape, depth_mm), _prism(course, depth_mm, turn, opening))


def extent(outline: Sequence[Point]) -> tuple[float, float]:
    """Length and height of the box round an outline."""
    xs, ys = zip(*outline, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def meets(course: Course, opening: DomeOpening) -> bool:
    """Whether an opening comes to the level of a course."""
    levels = [level for _, level in course.outline()]
    return opening.sill_mm < max(levels) and opening.head_mm > min(levels)


def half_width_rad(course: Course, opening: DomeOpening) -> float:
    """Half of the round that an opening takes at the middle of a course's inside face."""
    radius = (course.bottom[0] + course.top[0]) / 2
    return math.asin(min(1.0, opening.width_mm / 2 / radius))


def _turn_rad(azimuth_rad: float, opening: DomeOpening) -> float:
    """From the middle of an opening to a block's, the shorter way round."""
    return (azimuth_rad - math.radians(opening.at_deg) + math.pi) % (2 * math.pi) - math.pi


def _near(course: Course, shape: Shape, turn_rad: float, opening: DomeOpening) -> bool:
    """Whether block and opening can meet at all."""
    reach = course.point(0.0, 0.0)[0]
    apart = abs(reach * math.sin(turn_rad)) - opening.width_mm / 2 - shape.length_mm
    return abs(turn_rad) < math.pi / 2 and apart < 0 and meets(course, opening)


def _prism(course: Course, depth_mm: float, turn_rad: float, opening: DomeOpening) -> list[HalfPlane]:
    """The opening in the plane of a face: its two upright sides, its head and its sill.

    A point y across and v up is x - v sin e from the axis and z + v cos e above the floor, and
    (x - v sin e) sin(turn) + y cos(turn) to the side of the opening's middle.
    """
    x, z = course.point(depth_mm, 0.0)
    (cos, sin), half = course.lean, opening.width_mm / 2
    across, up, middle = math.cos(turn_rad), -sin * math.sin(turn_rad), x * math.sin(turn_rad)
    return [
        (across, up, half - middle),
        (-across, -up, half + middle),
        (0.0, cos, opening.head_mm - z),
        (0.0, -cos, z - opening.sill_mm),
    ]


def _words(whole: Sequence[Point], out: Sequence[Point], where: str) -> str:
    """What is sawn off, for the saw; left and right as seen from outside the dome, as in its developed view."""
    left_low, right_low, right_high, left_high = (within(out, corner, 1.0) for corner in whole)
    across = max(x for x, _ in out) - min(x for x, _ in out)
    low, high = min(y for _, y in out), max(y for _, y in out)
    size = f"{across:.0f} x {high - low:.0f} mm ({where})"
    match (right_low, left_low, right_high, left_high):
        case (True, True, False, False):
            return f"saw off below, to {whole[2][1] - high:.0f} mm high {where}"
        case (False, False, True, True):
            return f"saw off above, to {low - whole[0][1]:.0f} mm high {where}"
        case (True, False, True, False):
            return f"saw off the right end, to {_left_lengths(whole, out, -1)} {where}"
        case (False, True, False, True):
            return f"saw off the left end, to {_left_lengths(whole, out, 1)} {where}"
        case (False, False, False, False):
            return _within_the_face(whole, out, size)
    taken = {"lower right": right_low, "lower left": left_low, "upper right": right_high, "upper left": left_high}
    gone = [name for name, is_out in taken.items() if is_out]
    if len(gone) == 1:
        return f"saw a notch of {size} out of the {gone[0]} corner"
    kept = [name for name, is_out in taken.items() if not is_out]
    return f"saw away all but the {' and '.join(kept)} corner"


def _within_the_face(whole: Sequence[Point], out: Sequence[Point], size: str) -> str:
    """Words for a piece out of an edge or the middle, that takes no corner."""
    low, high = min(y for _, y in out) - whole[0][1], whole[2][1] - max(y for _, y in out)
    if low < 1 and high < 1:
        return f"saw {size} out of the middle: two pieces"
    side = "bottom edge" if low < 1 else "top edge" if high < 1 else "face"
    return f"saw {size} out of the {side}"


def _left_lengths(whole: Sequence[Point], out: Sequence[Point], side: int) -> str:
    """Lengths left at the bottom and at the top of a block that loses its end: the left (1) or the right (-1)."""
    bottom = whole[1][0] - max((side * x for x, y in out if abs(y - whole[0][1]) < 1), default=whole[0][0])
    top = whole[2][0] - max((side * x for x, y in out if abs(y - whole[2][1]) < 1), default=whole[3][0])
    if round(bottom) == round(top):
        return f"{bottom:.0f} mm long"
    return f"{bottom:.0f} mm long at the bottom, {top:.0f} mm at the top"
