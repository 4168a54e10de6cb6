"""Openings a little off the bond: where else they would begin for a jamb to stand where blocks end anyway."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.order.walls.bond import EPS_MM
from blockrun.order.walls.course import gauge_of

if TYPE_CHECKING:
    from blockrun.order.walls.part import Opening, WallPart
    from blockrun.order.walls.runs import Stretch

NEAR_JOINTS: Final = 1.5
"""So many joints off an opening is likely to have been meant on the bond (our choice): a joint is what is forgotten."""

FEWER: Final = 3
"""With so many fewer blocks shorter than whole, another place is worth a word (our choice)."""


def places_near(part: WallPart, stretch: Stretch, opening: Opening) -> Iterator[float]:
    """Where an opening would begin, from the start of its run in mm, nearest first; none where it is on the bond.

    The near jamb stands where a block of the bond ends that is reckoned from the start of the run, or the far one where
    one begins that is reckoned from its end; it stays within the run and clear of other openings. Each is a whole step
    of the tape, as it is said, and a step off at least.
    """
    joint, gauge = part.joint_mm, gauge_of(part, part.joint_mm)
    step = gauge.module_mm / (len(gauge.parts_mm) + 1)
    near = (opening.from_mm - stretch.start.at_mm + joint) % step
    far = (opening.to_mm - stretch.end.at_mm - joint) % step
    on_it = (opening.from_mm + (-off if off <= step / 2 else step - off) for off in (near, far))
    places = {round(place / part.step_mm) * part.step_mm for place in on_it}
    for place in sorted(places, key=lambda one: (abs(one - opening.from_mm), one)):
        is_within = place >= -EPS_MM and place + opening.width_mm <= stretch.length_mm + EPS_MM
        if (
            is_within
            and _is_clear(stretch, opening, place)
            and part.step_mm - EPS_MM <= abs(place - opening.from_mm) <= NEAR_JOINTS * joint + EPS_MM
        ):
            yield place


def _is_clear(stretch: Stretch, opening: Opening, place: float) -> bool:
    """Whether an opening that begins there overlaps none, along the run, that it does not overlap as it is."""
    before, after = opening.from_mm, place
    return not any(
        after < other.to_mm and other.from_mm < after + opening.width_mm
        for other in stretch.openings
        if not (before < other.to_mm and other.from_mm < before + opening.width_mm)
    )
