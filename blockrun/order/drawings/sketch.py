"""What a drawing says of walls, whatever its format: closed outlines and openings, in mm, seen from above."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from blockrun.order.drawings.plane import Line, Point

NAME_LENGTH: Final = 40


def printable(text: str) -> str:
    """A text of a drawing on one line, with a question mark for what does not print."""
    return "".join(letter if letter.isprintable() else "?" for letter in text).strip()


def opening_name(text: str | None) -> str:
    """What to call an opening, by its name in the drawing."""
    return printable(text or "")[:NAME_LENGTH].strip() or "opening"


@dataclass(frozen=True)
class Outline:
    """A closed line of a wall or a building.

    Parameters
    ----------
    label : what to call it to the user, such as ``polyline 2F``.
    points : its corners, anti-clockwise, none in a straight line with its neighbours.
    is_wall : whether the drawing says that it is one straight wall, and no building however wide it is.
    """

    label: str
    points: Line
    is_wall: bool = False


@dataclass(frozen=True)
class Hole:
    """An opening as it is drawn.

    Parameters
    ----------
    label : what to call it to the user, such as ``insert 3A of DOOR``.
    name : what its opening in the wall is called.
    at : a point of it within its wall.
    drawn : points it was drawn with; along the wall their middle is its middle.
    sill_mm : from the floor, at least 0.
    """

    label: str
    name: str
    at: Point
    drawn: Line
    width_mm: float
    height_mm: float
    sill_mm: float


@dataclass(frozen=True)
class Sketch:
    """The outlines and openings of walls on one floor.

    Parameters
    ----------
    height_mm : of its walls, where the drawing says it.
    """

    outlines: tuple[Outline, ...]
    holes: tuple[Hole, ...] = ()
    height_mm: float | None = None
