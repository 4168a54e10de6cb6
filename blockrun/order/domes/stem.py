"""What to say of a stem: courses cut to level it, openings that break the ring on it, a height that mends both."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Final

from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring

_MOST_OF_RING: Final = 0.5


def stem_notes(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    """One sentence of cut courses and one of openings; only one of them advises a height."""
    cutting = [opening for opening in dome.openings if _cuts(opening, dome.stem_mm)]
    lower = [ring for ring in rings if ring.stem and ring.height_mm < dome.course_mm - 1e-6]
    if lower:
        which = "Course 1 is" if len(lower) == 1 else "Courses 1 and 2 are"
        advice = "" if cutting else f": one of {' or '.join(map(dome.said, _whole_mm(dome)))} needs no cut course"
        yield f"{which} cut to {dome.said(lower[0].height_mm)} high to level the stem{advice}."
    if cutting:
        names, takes = " and ".join(opening.name for opening in cutting), "takes" if len(cutting) == 1 else "take"
        yield (
            f"{names} {takes} {_share(dome, cutting)} of the ring that ties the dome: a stem of"
            f" {dome.said(freeing_mm(dome, cutting))} would leave it whole, and needs no cut course."
        )


def freeing_mm(dome: DomePart, cutting: Sequence[DomeOpening]) -> float:
    """Lowest stem of whole courses that has one of them over these openings, and breaks at no other opening."""
    pitch = dome.course_mm + dome.joint_mm
    least = math.ceil(max(opening.head_mm for opening in cutting) / pitch - 1e-9) + 1
    whole = (pitch * count for count in itertools.count(least))
    return next(stem for stem in whole if not any(_cuts(opening, stem) for opening in dome.openings))


def _whole_mm(dome: DomePart) -> list[float]:
    """The next stems of whole courses, below and above, that break at no opening."""
    pitch = dome.course_mm + dome.joint_mm
    below = math.floor(dome.stem_mm / pitch)
    found = [pitch * count for count in (below, below + 1) if count]
    free = [stem for stem in found if not any(_cuts(opening, stem) for opening in dome.openings)]
    return free or [freeing_mm(dome, [opening for opening in dome.openings if _cuts(opening, found[-1])])]


def _cuts(opening: DomeOpening, stem_mm: float) -> bool:
    """Whether an opening breaks the ring at the springing; on the ground, whether it stands on the ground."""
    return opening.sill_mm < stem_mm < opening.head_mm or opening.sill_mm <= 0 == stem_mm


def _share(dome: DomePart, cutting: Sequence[DomeOpening]) -> str:
    share = sum(math.asin(min(1.0, opening.width_mm / dome.inside_diameter_mm)) for opening in cutting) / math.pi
    return "most" if share > _MOST_OF_RING else f"{100 * share:.0f} %"
