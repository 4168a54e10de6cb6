"""Blocks that no mould of a yard can cast, and what would have to be otherwise: one message for one cause."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.castable import Lack, castable, obstacles
from blockrun.order.domes import DomePart
from blockrun.order.laid import Role
from blockrun.order.lines import OrderLine
from blockrun.order.model import ListPart, Order
from blockrun.order.shape import Shape
from blockrun.order.walls import WallPart
from blockrun.site.model import Site
from blockrun.site.moulds import MouldKind
from blockrun.units import listed

_NAMED: Final = 4
"""Marks named of those that fail for one cause."""

_LEANING: Final = Lack("", "inserts for the faces that lean")
"""Said in place of angles where a side does not fit: a dome is laid anew by the moulds that do."""


@dataclass(frozen=True)
class _Cause:
    """Why no mould casts some blocks: two sides that look swapped, or what the nearest mould lacks."""

    kind: str
    swapped: tuple[str, str] | None
    lacks: tuple[tuple[str, str], ...]


def check_castable(site: Site, lines: Iterable[OrderLine], order: Order | None = None) -> None:
    """Refuse blocks that no mould of the site can cast.

    Parameters
    ----------
    site, lines : as read and taken off.
    order : where the lines come from, to say in which row, or with which part, each block stands.

    Raises
    ------
    BadInput : with a fault for all marks of a part that fail for one cause, naming the mould that comes nearest and
        what it lacks.
    """
    made = {part.name: part for part in order.parts if not isinstance(part, ListPart)} if order else {}
    marks: dict[str, OrderLine] = {}
    for line in lines:
        marks.setdefault(line.mark, line)
    alike: dict[tuple[str, _Cause], list[OrderLine]] = defaultdict(list)
    for _, line in sorted(marks.items()):
        if not any(castable(kind, line) for kind in site.moulds):
            alike[line.part, _cause(site, line, made.get(line.part))].append(line)
    faults = [_fault(site, cause, of_cause, made.get(part)) for (part, cause), of_cause in alike.items()]
    if order:
        first = (of_cause[0] for of_cause in alike.values())
        faults = [
            order.place(fault, line.mark, fault.name or "", line.part)
            for fault, line in zip(faults, first, strict=True)
        ]
    if faults:
        raise BadInput.of(faults)


def _cause(site: Site, line: OrderLine, made: WallPart | DomePart | None) -> _Cause:
    for one, other in _swappable(line, made):
        turned = _turned(line, (one, other))
        for kind in site.moulds:
            if castable(kind, turned):
                return _Cause(kind.kind, (one, other), ())
    nearest = min(
        site.moulds, key=lambda kind: (len(list(obstacles(kind, line, "SI"))), _distance(kind, line), kind.kind)
    )
    lacks = _lacks(site, nearest, line)
    return _Cause(nearest.kind, None, tuple(lack.alike for lack in lacks if lack != _LEANING))


def _swappable(line: OrderLine, made: WallPart | DomePart | None) -> Iterator[tuple[str, str]]:
    """Sides that may have been written in each other's place; the tool itself works out the lengths of walls and domes.

    Only the whole block of a wall is as long as written, and what a dome's blocks measure is its thickness and course.
    """
    if isinstance(made, DomePart):
        return
    yield "height", "thickness"
    if made is None or line.shape == Shape(*made.block):
        yield from (("height", "length"), ("thickness", "length"))


def _lacks(site: Site, kind: MouldKind, line: OrderLine) -> list[Lack]:
    """What a mould lacks for a block; where its sides do not fit, all that leans as one thing."""
    lacks = list(obstacles(kind, line, site.units))
    upright = [lack for lack in lacks if lack.side or not lack.differs]
    return [*upright, _LEANING] if upright and len(upright) < len(lacks) else lacks


def _turned(line: OrderLine, sides: tuple[str, str]) -> OrderLine:
    """The block with two of its sides in each other's place."""
    one, other = sides
    return replace(line, **{f"{one}_mm": getattr(line, f"{other}_mm"), f"{other}_mm": getattr(line, f"{one}_mm")})


def _fault(site: Site, cause: _Cause, lines: Sequence[OrderLine], made: WallPart | DomePart | None) -> BadInput:
    """What to say of blocks that no mould casts for one cause."""
    named = [f"{line.mark} ({_size(line, site)})" for line in lines]
    if len(named) > _NAMED + 1:
        named[_NAMED:] = [f"{len(named) - _NAMED} more"]
    of_part = f"{len(lines)} marks of {lines[0].part}: " if lines[1:] and lines[0].part else "block " * (not lines[1:])
    side, todo = _swapped(site, cause, lines) if cause.swapped else _nearest(site, cause, lines, made)
    return BadInput(f"no mould can cast {of_part}{listed(named)}", todo, name=side or "mark", value=lines[0].mark)


def _swapped(site: Site, cause: _Cause, lines: Sequence[OrderLine]) -> tuple[str, str]:
    """The first of two sides that look to have changed places, and what to do."""
    assert cause.swapped is not None
    one, other = cause.swapped
    casts = f"{cause.kind} casts blocks of {_size(_turned(lines[0], cause.swapped), site)}"
    theirs = "Their" if lines[1:] else "Its"
    return one, f"{theirs} {one} and {other} look swapped: {casts}. Swap them, or add a mould."


def _nearest(
    site: Site, cause: _Cause, lines: Sequence[OrderLine], made: WallPart | DomePart | None
) -> tuple[str, str]:
    """The first side in which the mould that comes nearest differs, and what that mould lacks."""
    nearest = next(kind for kind in site.moulds if kind.kind == cause.kind)
    dues: dict[Lack, list[str]] = defaultdict(list)
    for line in lines:
        for lack in _lacks(site, nearest, line):
            dues[replace(lack, due="") if lack.differs else lack].append(lack.due)
    needs = [lack.said(of_lack) for lack, of_lack in dues.items()]
    cavity = units.show_size(*nearest.cavity, site.units)
    todo = f"The nearest is {nearest.kind} ({cavity}); it would need {' and '.join(needs)}."
    change = "change the blocks" if lines[1:] else "change the block"
    if isinstance(made, DomePart) and all(line.role == Role.CROWN.value for line in lines):
        change = "write crown: ring or crown: eye"
    return cause.lacks[0][0], f"{todo} Add a mould, or {change}."


def _size(line: OrderLine, site: Site) -> str:
    return units.show_size(line.length_mm, line.height_mm, line.thickness_mm, site.units)


def _distance(kind: MouldKind, line: OrderLine) -> float:
    """How far apart cavity and block are, in mm."""
    return math.dist(kind.cavity, (line.length_mm, line.height_mm, line.thickness_mm))
