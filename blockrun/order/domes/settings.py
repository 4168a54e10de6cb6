"""What the moulds are set to for each course: plain, tapered or sawn blocks, and courses that share a setting."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from blockrun.order.domes.frame import Course
from blockrun.order.domes.inserts import SLACK_MM, Inserts, beds_of, usable
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.sharing import shared
from blockrun.order.domes.tapers import FEWEST, exact, needed_bed_deg, sawn
from blockrun.order.domes.ways import Setting, Way, bed_fits, limits_of
from blockrun.order.domes.wedge import Limits, fit
from blockrun.order.shape import Shape

_THINNEST_EDGE_MM: Final = 20.0
"""Shortest edge of a tapered block (our choice): a thinner one breaks off."""

Option = tuple[int, Shape, Setting]
"""Blocks in the ring, the shape, the setting."""


def settings(dome: DomePart, courses: Sequence[Course], moulds: Sequence[Inserts]) -> list[Setting]:
    """A setting for each course: the best of its own, then shared with neighbours where the limits allow.

    Parameters
    ----------
    dome, courses : from the bottom up.
    moulds : what there is to cast with; none for moulds yet to be made, which may have any angle.
    """
    return shared(dome, courses, [_own(dome, course, moulds) for course in courses])


def _own(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Setting:
    """The setting with the fewest blocks, and of those the one with the fewest angles; sawn where none will do."""
    fitting = usable(dome, moulds)
    found = list(_from_moulds(dome, course, fitting) if fitting else _from_any_mould(dome, course))
    if found:
        return min(found, key=lambda option: (option[0], _n_leans(option[1]), -option[1].length_mm))[2]
    return sawn(dome, course, fitting)


def _from_any_mould(dome: DomePart, course: Course) -> Iterator[Option]:
    """Plain blocks and exact tapers, from moulds that are yet to be made."""
    bed = _bed_deg(dome, course)
    if dome.blocks != "tapered" and not bed:
        cavity = (dome.block_length_mm, dome.course_mm, dome.thickness_mm)
        yield from _options(dome, course, Inserts(cavity, stop_ends=True), (0.0, 0.0, 0.0))
    if dome.blocks != "plain":
        count, shape = exact(dome, course, bed, dome.block_length_mm)
        if _thinnest_mm(shape) >= _THINNEST_EDGE_MM:
            yield count, shape, _cast_so(shape)


def _from_moulds(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Iterator[Option]:
    """All that the inserts of the moulds can cast within the limits."""
    for mould in moulds:
        beds = [bed for bed in beds_of(dome, mould) if bed_fits(dome, course, bed)]
        for bevel, taper, bed in itertools.product(mould.bevels_deg, mould.tapers_deg, beds):
            angles = (bevel, taper, bed)
            if (dome.blocks == "plain" and any(angles)) or (dome.blocks == "tapered" and not (bevel or taper)):
                continue
            yield from _options(dome, course, mould, angles)


def _options(dome: DomePart, course: Course, mould: Inserts, angles: tuple[float, float, float]) -> Iterator[Option]:
    """The longest block of a mould with these leans that goes round within the limits, if there is one."""
    limits = limits_of(dome, Way.TAPERED if any(angles[:2]) else Way.PLAIN)
    length, height, thickness = mould.cavity_mm
    whole = Shape(length, height, thickness, *angles)
    if mould.stop_ends:
        found = _longest(course, replace(whole, length_mm=min(length, limits.longest_mm)), limits)
    else:
        fits = fit(course, whole, limits) if length <= limits.longest_mm + SLACK_MM else None
        found = (fits.count, whole) if fits else None
    if found and _thinnest_mm(found[1]) >= _THINNEST_EDGE_MM:
        yield *found, _cast_so(found[1])


def _longest(course: Course, box: Shape, limits: Limits) -> tuple[int, Shape] | None:
    """The fewest blocks no longer than the box, with its leans, whose joints stay within the limits.

    For each count the length is the most that leaves the usual joint at the tightest corner.
    """
    reach = course.point(0.0, 0.0)[0]
    most = int(math.pi / math.atan((limits.shortest_mm + limits.joint_mm) / (2 * reach))) + 1
    half_angle = math.pi / np.arange(FEWEST, max(most, FEWEST) + 1)
    corners = course.corners(math.radians(box.bed_deg))
    foot = -corners[0][1]
    x = np.array([[course.point(depth, up)[0]] for depth, up in corners])
    less = np.array([[box.length_mm - box.length_at_mm(depth, up + foot)] for depth, up in corners])
    open_mm = 2 * x * np.tan(half_angle)
    length = np.floor(np.min(open_mm - limits.joint_mm / np.cos(half_angle) + less, axis=0) + 1e-6)
    length = np.where(length > box.length_mm, np.minimum(length, box.length_mm), length)
    widest = np.max(np.cos(half_angle) * (open_mm - length + less), axis=0)
    thinnest = length - np.max(less)
    good = (widest <= limits.most_mm) & (length >= limits.shortest_mm) & (thinnest >= _THINNEST_EDGE_MM)
    if not good.any():
        return None
    first = int(np.argmax(good))
    return FEWEST + first, replace(box, length_mm=float(length[first]))


def _bed_deg(dome: DomePart, course: Course) -> float:
    """No lean of the beds where mortar can make it up, else the lean that is needed."""
    return 0.0 if bed_fits(dome, course, 0.0) and dome.blocks != "tapered" else needed_bed_deg(dome, course)


def _thinnest_mm(shape: Shape) -> float:
    """The shortest edge of a block as cast: inside at the top."""
    return shape.length_at_mm(shape.thickness_mm, shape.height_mm)


def _cast_so(shape: Shape) -> Setting:
    return Setting(Way.TAPERED if _n_leans(shape) else Way.PLAIN, shape, shape)


def _n_leans(shape: Shape) -> int:
    """How many of its leans are not nought."""
    return sum(1 for angle in (shape.bevel_deg, shape.taper_deg, shape.bed_deg) if angle)
