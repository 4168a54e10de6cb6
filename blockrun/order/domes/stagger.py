"""Where round the dome a ring starts, so that its head joints stand clear of those below and of jambs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blockrun.order.domes.wedge import Fit

_PLACES: Final = 24
"""Starts that are tried within one block."""
_SHORT_PIECE: Final = 4
"""Joints lined up that a short piece at a jamb is as bad as."""
_TURN: Final = 2 * math.pi
_GOLDEN: Final = (math.sqrt(5) - 1) / 2
Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class Jamb:
    """A side of an opening: its azimuth, to which side the wall is (1 anti-clockwise, -1), and the shortest piece.

    All in radians at the level of the course.
    """

    azimuth_rad: float
    wall: int
    shortest_rad: float


def first_joint_rad(course: int, fit: Fit, below: Sequence[float], jambs: Sequence[Jamb]) -> float:
    """Azimuth of a ring's first head joint.

    Of starts spread over one block the one is taken with the fewest joints within a quarter of a block of one below,
    a piece too short at a jamb counting as four of them (our choice), then with the widest least distance. Closing
    pieces move on round the dome from course to course, so that they do not stand one above the other.
    """
    cell = 2 * fit.half_angle_rad
    base = cell * round(fit.whole * ((course * _GOLDEN) % 1)) if fit.closing_rad else 0.0
    starts = base + cell * np.arange(_PLACES) / _PLACES
    joints = starts[:, None] + cell * np.arange(fit.whole + (fit.closing_rad > 0))
    distance = _distances(joints, below)
    lined = (distance < cell / 4 - 1e-9).sum(axis=1)
    order = np.lexsort((-np.round(distance.min(axis=1), 9), lined + _SHORT_PIECE * _slivers(joints, jambs, cell)))
    return float(starts[order[0]])


def head_joints_rad(first_rad: float, fit: Fit) -> tuple[float, ...]:
    """Azimuths of all head joints of a ring, from its first one on."""
    return tuple(first_rad + 2 * fit.half_angle_rad * number for number in range(fit.whole + (fit.closing_rad > 0)))


def middles_rad(first_rad: float, fit: Fit) -> tuple[float, ...]:
    """Azimuths of the middles of all whole blocks, then of the closing piece."""
    cell = 2 * fit.half_angle_rad
    whole = tuple(first_rad + cell * (number + 0.5) for number in range(fit.whole))
    return (*whole, first_rad - fit.closing_rad) if fit.closing_rad else whole


def lined_up(joints: Sequence[float], below: Sequence[float], cell_rad: float) -> int:
    """Head joints that stand within a quarter of a block of one below."""
    return int((_distances(np.array([joints]), below) < cell_rad / 4 - 1e-9).sum())


def _distances(joints: Floats, below: Sequence[float]) -> Floats:
    """Of each joint to the nearest one below, radians."""
    if not below:
        return np.full(joints.shape, math.pi)
    known = np.sort(np.mod(below, _TURN))
    known = np.concatenate([[known[-1] - _TURN], known, [known[0] + _TURN]])
    at = np.mod(joints, _TURN)
    after = np.clip(np.searchsorted(known, at), 1, len(known) - 1)
    nearest: Floats = np.minimum(np.abs(at - known[after - 1]), np.abs(known[after] - at))
    return nearest


def _slivers(joints: Floats, jambs: Sequence[Jamb], cell: float) -> Floats:
    """Pieces at jambs shorter than the shortest and half a block, by start; a joint at the jamb leaves none."""
    count = np.zeros(len(joints))
    for jamb in jambs:
        piece = np.min(np.mod(jamb.wall * (joints - jamb.azimuth_rad), _TURN), axis=1)
        count += (piece > 0.02 * cell) & (piece < min(jamb.shortest_rad, cell / 2))
    return count
