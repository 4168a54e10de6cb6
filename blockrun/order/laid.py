"""Blocks in their places: what a wall or a dome comes down to, before equal ones are counted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.order.shape import Shape

Point = tuple[float, float]

CAUTION: Final = "Caution:"
"""What a note of a wall or a dome begins with where somebody may be hurt."""


class Role(Enum):
    """What a block is for, where that is more than filling its place."""

    PLAIN = ""
    LINTEL = "lintel"
    SILL = "sill"
    RING_BEAM = "ring beam"
    PIER = "pier"
    CROWN = "crown"


@dataclass(frozen=True)
class Laid:
    """One block in its place.

    Parameters
    ----------
    course : from 1 at the bottom.
    shape : what is cast for it.
    face : the picture it is in: the number of a wall's run from 1, or 0 for a dome's developed view.
    corners : its visible outline there, in mm: along the run and up from the floor; in a dome's developed view
        x and y from the crown. Counted anti-clockwise, without the joint.
    cut : what is sawn off the cast block, in words for the saw ("to 412 mm"); empty when it is laid as cast.
    role : lintel, sill and the like.
    """

    course: int
    shape: Shape
    face: int
    corners: tuple[Point, ...]
    cut: str = ""
    role: Role = Role.PLAIN
