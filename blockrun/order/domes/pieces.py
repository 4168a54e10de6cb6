"""What is cast for each place of a ring: whole blocks, and pieces beside openings.

A piece beside an opening that would be shorter than the least length shares the room of its neighbour evenly; where
both would then be too short, its gap is filled with mortar. So is a strip over or under an opening that is lower than
the lowest cut course. (A neighbour longer by the piece is no way out: blocks are as long as joints and moulds allow.)
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blockrun.order.domes.develop import developed
from blockrun.order.domes.faces import Spot
from blockrun.order.domes.frame import Course
from blockrun.order.domes.openings import Piece, face, half_width_rad, meets, piece
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.shorter import exact, shorter
from blockrun.order.domes.stagger import middles_rad
from blockrun.order.domes.ways import Setting, Way
from blockrun.order.domes.wedge import Fit
from blockrun.order.laid import Laid
from blockrun.order.shape import Shape

_NUB_MM: Final = 15.0
"""No more than so wide a strip is a nub, without which a block still has all of its room to share (our choice)."""


@dataclass(frozen=True)
class Place:
    """Room for a block, before openings.

    Parameters
    ----------
    middle_rad, half_rad : azimuth of its middle, and half of what it takes of the round with its joint.
    setting : the block as cast and laid.
    closing : whether it is the closing piece.
    """

    middle_rad: float
    half_rad: float
    setting: Setting
    closing: bool = False


Room = tuple[Place, Piece]
"""A place, and what openings leave of its block."""


@dataclass(frozen=True)
class Pieces:
    """A ring after its openings.

    Parameters
    ----------
    laid : every block cast for it.
    spots : where each of them stands, in the same order.
    n_fills : gaps too small for one that are filled with mortar, if wider than a joint.
    begin_rad : where its first block that is left as it goes round begins, anti-clockwise from 0 to 2 pi.
    """

    laid: tuple[Laid, ...]
    spots: tuple[Spot, ...]
    n_fills: int
    begin_rad: float


def pieces(dome: DomePart, course: Course, setting: Setting, found: Fit, first_rad: float) -> Pieces:
    """The blocks of a ring that are cast, cut where openings cut them."""
    kept, filled = kept_and_filled(dome, course, setting, found, first_rad)
    laid = tuple(_laid(dome, course, place, one) for place, one in kept)
    spots = tuple(Spot(course, place.setting.laid, place.middle_rad) for place, _ in kept)
    whole = [place for place, one in kept if not one.cut and place.half_rad == found.half_angle_rad]
    begin = min(((place.middle_rad - place.half_rad) % (2 * math.pi) for place in whole), default=first_rad)
    n_fills = sum(max(one.long_mm, one.high_mm) > dome.joint_mm for _, one in filled)
    return Pieces(laid, spots, n_fills, begin)


def kept_and_filled(
    dome: DomePart, course: Course, setting: Setting, found: Fit, first_rad: float
) -> tuple[list[Room], list[Room]]:
    """Room of a ring with what openings leave of it: where a block is cast, and where it is left to mortar."""
    openings = [opening for opening in dome.openings if meets(course, opening)]
    places = list(places_of(dome, course, setting, found, first_rad))
    left = [_left(course, place, openings) for place in places]
    filled: list[Room] = []
    for index, one in enumerate(left):
        if one is None or _is_enough(dome, one):
            continue
        away = 1 if sum(x for x, _ in one.outline) > 0 else -1
        beside = (index + away) % len(places)
        pair = _shared(dome, course, places[beside], left[beside], away, openings)
        if pair and one.long_mm > dome.joint_mm:
            places[beside], places[index] = pair
            left[beside], left[index] = (_left(course, place, openings) for place in pair)
        else:
            filled.append((places[index], one))
            left[index] = None
    return [(place, one) for place, one in zip(places, left, strict=True) if one], filled


def places_of(dome: DomePart, course: Course, setting: Setting, found: Fit, first_rad: float) -> Iterator[Place]:
    """Room for each block of a ring, before openings."""
    middles = middles_rad(first_rad, found)
    yield from (Place(middle, found.half_angle_rad, setting) for middle in middles[: found.whole])
    if found.closing_rad:
        closing = replace(setting, laid=exact(dome, course, setting, found.closing_rad))
        yield Place(middles[-1], found.closing_rad, closing, closing=True)


def _left(course: Course, place: Place, openings: Sequence[DomeOpening]) -> Piece | None:
    return piece(course, place.setting.laid, place.middle_rad, openings)


def _is_enough(dome: DomePart, left: Piece) -> bool:
    """Whether a block is whole, or an opening leaves a piece of it that is worth casting it for."""
    return not left.cut or left.long_mm >= dome.shortest_mm or left.high_mm >= dome.lowest_mm


def _shared(
    dome: DomePart, course: Course, beside: Place, left: Piece | None, away: int, openings: Sequence[DomeOpening]
) -> tuple[Place, ...]:
    """A shorter block and one cut by the jamb, in the room from the far end of a whole block to the nearest jamb.

    `away` is the side of the jamb that the wall is on. Empty where of the block more than a nub is taken already, or
    either would be short.
    """
    if left is None or left.in_way_mm > _NUB_MM or beside.closing:
        return ()
    far = beside.middle_rad + away * beside.half_rad
    room = min(away * (far - _jamb_rad(course, opening, away)) % (2 * math.pi) for opening in openings)
    setting = shorter(dome, course, beside.setting, room / 4, beside.half_rad)
    if setting is None:
        return ()
    cut = Place(far - away * (room / 2 + beside.half_rad), beside.half_rad, beside.setting)
    rest = _left(course, cut, openings)
    if rest is None or not _is_enough(dome, rest):
        return ()
    return Place(far - away * room / 4, room / 4, setting), cut


def _jamb_rad(course: Course, opening: DomeOpening, side: int) -> float:
    """Azimuth of a jamb at the middle of a course's inside face, to one side or the other."""
    return math.radians(opening.at_deg) + side * half_width_rad(course, opening)


def _laid(dome: DomePart, course: Course, place: Place, left: Piece) -> Laid:
    outline = tuple(developed(course, place.middle_rad, point) for point in left.outline)
    words = (*_cast_words(dome, course, place), left.cut)
    return Laid(course.number, place.setting.cast, 0, outline, "; ".join(filter(None, words)))


def _cast_words(dome: DomePart, course: Course, place: Place) -> Iterator[str]:
    """What is sawn off a block whether or not an opening comes near."""
    laid = place.setting.laid
    if place.closing:
        yield f"closing piece: saw to {_edge_words(course, laid)}"
    elif place.setting.way is Way.SAWN:
        yield (
            f"saw to {laid.length_mm:.0f} mm long outside at the bottom, each end {laid.bevel_deg:.1f} deg"
            f" through the thickness and {laid.taper_deg:.1f} deg up the face"
            + (f", each bed {laid.bed_deg:.1f} deg" if laid.bed_deg else "")
        )
    elif laid.length_mm < place.setting.cast.length_mm - 0.5:
        yield f"saw to {laid.length_mm:.0f} mm long" + (" outside at the bottom" if laid.bevel_deg else "")
    if course.height_mm < course.cast_height_mm - 1:
        yield f"saw to {course.height_mm:.0f} mm high" + (" inside" if laid.bed_deg else "")


def _edge_words(course: Course, closing: Shape) -> str:
    """The four edges of a closing piece in words."""
    (a, _), (b, _), (c, _), (d, _) = face(course, closing, 0.0)
    inner = face(course, closing, course.thickness_mm)
    return (
        f"{b - a:.0f} mm at the bottom and {c - d:.0f} mm at the top outside,"
        f" {inner[1][0] - inner[0][0]:.0f} and {inner[2][0] - inner[3][0]:.0f} mm inside"
    )
