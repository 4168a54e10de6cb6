"""What all pictures share: the room on a sheet, scales, kinds of block, and the templates."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined

from blockrun.order.laid import Laid, Role
from blockrun.order.shape import Shape
from blockrun.show.page import GLUE
from blockrun.show.tape import on_tape, size_said
from blockrun.units import show

WIDTH_MM: Final = 259.0
HEIGHT_MM: Final = 185.0
"""Room on a sheet on its side that A4 (297 x 210 mm) and Letter (279 x 216 mm) both have, margins taken off."""
SCALES: Final = (10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 100, 150, 200, 250, 500, 1000)
INDEX: Final = "index.html"
"""The page that shows all pictures of a folder."""
OURS: Final = '<meta name="generator" content="blockrun">'
"""A line of that page, by which it is known from other pages of the name."""
LETTER_MM: Final = 2.8
"""Usual size of letters on paper."""
LEAST_MM: Final = 2.0
"""Least size of letters: smaller ones are not read at arm's length (our choice)."""
_NARROWEST: Final = 0.67
"""Width of a letter to its size in the fonts asked for, at most: marks begin with a W, and stay clear of their box."""
_LOWEST: Final = 0.85
"""Size of letters to the height of the box they stand in."""


@dataclass(frozen=True)
class Kind:
    """A kind of block in a picture: a letter, words, a fill colour, and the name of a pattern in the templates.

    The colours are light tints of a set that colour-blind readers tell apart (Okabe and Ito, 2008, from memory); the
    pattern and the letter say the same without them.
    """

    letter: str
    words: str
    colour: str
    pattern: str


PLAIN: Final = Kind("", "as cast", "#ffffff", "")
SAWN: Final = Kind("x", "sawn", "#d9d9d9", "slant")
_ROLES: Final = {
    Role.LINTEL: Kind("L", "lintel", "#f6c98f", "dots"),
    Role.SILL: Kind("S", "sill", "#bfe6d8", "bars"),
    Role.RING_BEAM: Kind("R", "ring beam", "#b9d9ee", "cross"),
    Role.PIER: Kind("P", "pier", "#ecd3e2", "uprights"),
    Role.CROWN: Kind("C", "crown", "#f7f0a8", "dots"),
}


def kind_of(block: Laid) -> Kind:
    """What a block is drawn as: its role, else whether it is sawn."""
    return _ROLES.get(block.role) or (SAWN if block.cut else PLAIN)


@cache
def templates(package: str = "blockrun.show.pictures") -> Environment:
    """Templates that lie in the folder of a package; text is escaped, and ``p`` writes a place on paper."""
    environment = Environment(
        loader=PackageLoader(package, "."),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )
    environment.filters["p"] = place
    return environment


def render(template: str, **values: Any) -> str:
    """A template of this folder filled with values; text is escaped."""
    return templates().get_template(template).render(**values)


def place(number: float) -> str:
    """A place on paper, in mm to a hundredth."""
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def wrapped(said: str, letters: int) -> list[str]:
    """A sentence as lines of at most so many letters."""
    return textwrap.wrap(said.replace(GLUE, " "), letters)


def points(corners: Sequence[tuple[float, float]]) -> str:
    """Corners as an SVG polygon wants them."""
    return " ".join(f"{place(x)},{place(y)}" for x, y in corners)


def level_mm(text: str, width_mm: float, height_mm: float = 10.0) -> float:
    """Size of letters with which a text fits a box."""
    return min(LETTER_MM, _LOWEST * height_mm, width_mm * 0.92 / (_NARROWEST * max(1, len(text))))


def letters_mm(text: str, width_mm: float, height_mm: float) -> tuple[float, bool]:
    """Size of letters with which a text fits a box, and whether it must stand upright for that."""
    level, upright = level_mm(text, width_mm, height_mm), level_mm(text, height_mm, width_mm)
    return (upright, True) if upright > 1.15 * level else (level, False)


def number(length_mm: float, units: str) -> str:
    """A length without its unit, for sheets that name it once; inches as a tape has them."""
    if units == "US":
        return on_tape(length_mm, units)
    return show(length_mm, "length", units).rpartition(" ")[0]


def sides_said(shape: Shape, units: str) -> str:
    """What a block measures as it is cast."""
    return size_said(units, shape.length_mm, shape.height_mm, shape.thickness_mm)


def unit(units: str) -> str:
    """What lengths on a sheet are in."""
    return "inches" if units == "US" else "mm"
