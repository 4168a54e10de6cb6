"""Blocks that take less of the round than the others of their course."""

from __future__ import annotations

import math
from dataclasses import replace

from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.ways import Setting, Way
from blockrun.order.domes.wedge import end_bevel_rad, face_taper_rad, gaps_mm, room
from blockrun.order.shape import Shape


def shorter(dome: DomePart, course: Course, setting: Setting, half_rad: float, usual_rad: float) -> Setting | None:
    """A block sawn shorter, between others of its course; None where it or its joints come out of their limits.

    Parameters
    ----------
    half_rad, usual_rad : half of what it takes of the round with its joint, and half of what the others take.
    """
    if setting.way is Way.SAWN:
        laid = exact(dome, course, setting, half_rad)
    else:
        spare = min(gaps_mm(course, setting.laid, half_rad)) - dome.joint_mm
        laid = replace(setting.laid, length_mm=math.floor(setting.laid.length_mm + spare / math.cos(half_rad)))
    halves = zip(gaps_mm(course, laid, half_rad), gaps_mm(course, setting.laid, usual_rad), strict=True)
    joints = [(one + other) / 2 for one, other in halves]
    fits = dome.least_joint_mm <= min(joints) and max(joints) <= dome.most_joint_mm
    return replace(setting, laid=laid) if fits and laid.length_mm >= dome.shortest_mm else None


def exact(dome: DomePart, course: Course, setting: Setting, half_rad: float) -> Shape:
    """A block with leans of its own for what it takes of the round."""
    return replace(
        setting.laid,
        length_mm=room(course, half_rad, dome.joint_mm, setting.laid.bed_deg).outside_bottom_mm,
        bevel_deg=math.degrees(end_bevel_rad(half_rad, course.lean_rad)),
        taper_deg=math.degrees(face_taper_rad(half_rad, course.lean_rad)),
    )
