"""What may hurt somebody at a dome: rings that pull, a foot that pushes, blocks not held yet, cut rings, fire.

Nothing is computed of what it takes: a licensed engineer says that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.said import courses_said
from blockrun.order.laid import CAUTION

TENSION_FROM_CROWN_DEG: Final = math.degrees(math.acos((math.sqrt(5) - 1) / 2))
"""On a hemisphere under its own weight, where the pull round the rings begins: cos = (sqrt 5 - 1)/2.

The ring force a unit of width is w R (cos a - 1/(1 + cos a)), a the angle from the crown: nought where
cos^2 a + cos a = 1. Membrane theory, from memory; the root is derived (51.827 deg).
"""
_UPRIGHT_DEG: Final = 0.5
"""A curve that springs no further from upright is upright."""
_SPHERES: Final = ("hemisphere", "segment")
"""Profiles on which the angle above tells where rings pull; on others nobody says here."""
_OVENS: Final = ("oven", "kiln", "furnace", "fireplace", "chimney")
_ENGINEER: Final = "is to be designed by a licensed engineer"

HOLD: Final = "Hold or prop each block until the ring is closed; keep out from under it."
PULLS: Final = "This ring pulls outward: what ties it is a licensed engineer's."
MAY_PULL: Final = "This ring may pull outward: what ties it is a licensed engineer's."
PUSHES: Final = "The dome pushes outward at its foot: the tie there is a licensed engineer's."
"""Cautions as short as a card asks for."""


def cautions_of(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    """A sentence on each, for those who build and for their engineer."""
    yield "Begin a course only when all its blocks are ready: a ring carries nothing until its last block is in."
    yield from _held(rings)
    yield from _pull(dome, rings)
    yield from _push(dome)
    if dome.openings:
        yield "Mark cuts at openings on both faces, as they run level or straight through; left is as from outside."
        names = ", ".join(opening.name for opening in _by_place(dome.openings))
        yield f"{CAUTION} what carries the cut rings over and beside {names} {_ENGINEER}."
    yield from _fire(dome)


def on_cards(dome: DomePart, rings: Sequence[Ring]) -> dict[int, tuple[str, ...]]:
    """What of it holds for each course, by its number, a few words each; that of the foot is said of the first."""
    first = _first_leaning(rings)
    return {ring.course: tuple(_on_card(dome, ring, ring.course == first)) for ring in rings}


def _on_card(dome: DomePart, ring: Ring, is_first: bool) -> Iterator[str]:
    if ring.stem:
        return
    yield HOLD
    if dome.profile not in _SPHERES:
        yield MAY_PULL
    elif _pulls(ring):
        yield PULLS
    if is_first and _pushes(dome):
        yield PUSHES


def _first_leaning(rings: Sequence[Ring]) -> int:
    return min(ring.course for ring in rings if not ring.stem)


def _held(rings: Sequence[Ring]) -> Iterator[str]:
    """Common practice, no source: until a ring is closed only mortar keeps its blocks from sliding in."""
    yield (
        f"{CAUTION} from course {_first_leaning(rings)} on, where blocks lean in, each can slide off until its ring is"
        " closed: hold or prop it, and keep out from under."
    )


def _pull(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    pulled = [ring.course for ring in rings if not ring.stem and _pulls(ring)]
    if dome.profile == "segment" and not pulled:
        return
    is_sphere = dome.profile in _SPHERES
    where = f" (here {courses_said(pulled).lower()})" if pulled and is_sphere else ""
    other = "" if is_sphere else ", and elsewhere on this profile,"
    yield (
        f"{CAUTION} further than {TENSION_FROM_CROWN_DEG:.1f} deg from the crown of a sphere{where}{other} rings"
        f" pull outward, which blocks and mortar do not hold: what ties the dome {_ENGINEER}."
    )


def _pulls(ring: Ring) -> bool:
    """Whether the rings of a sphere pull outward where one lies."""
    return not ring.stem and 90 - ring.lean_deg > TENSION_FROM_CROWN_DEG


def _push(dome: DomePart) -> Iterator[str]:
    if _pushes(dome):
        springs_deg = math.degrees(dome.curve.at(0.0).lean_rad)
        yield (
            f"{CAUTION} {springs_deg:.0f} deg from upright where it springs, this dome pushes outward at its foot: a"
            f" ring beam or a tie there {_ENGINEER}, before it is built."
        )


def _pushes(dome: DomePart) -> bool:
    """Whether a dome pushes outward where it springs.

    What a shell carries runs down along its curve, so that it pushes outward by the cosine of the curve's slope there:
    not at all where it springs upright. Membrane theory, from memory.
    """
    return math.degrees(dome.curve.at(0.0).lean_rad) > _UPRIGHT_DEG


def _fire(dome: DomePart) -> Iterator[str]:
    """A word on fire for a dome that is called an oven. Common practice, no source."""
    if any(oven in dome.name.lower() for oven in _OVENS):
        yield f"{CAUTION} foamed concrete is no lining for a fire by itself: it needs one that stands the heat."


def _by_place(openings: Sequence[DomeOpening]) -> list[DomeOpening]:
    return sorted(openings, key=lambda opening: (opening.at_deg, opening.name))
