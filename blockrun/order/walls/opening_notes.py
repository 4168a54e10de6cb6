"""What is said of the openings of a run: where they are not as written, and what stands too narrow or is cut."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from blockrun.order.laid import CAUTION
from blockrun.order.walls.bond import EPS_MM
from blockrun.order.walls.found import Found
from blockrun.order.walls.heights import Levels
from blockrun.order.walls.openings import Hole, Lintel
from blockrun.order.walls.part import Opening, WallPart
from blockrun.order.walls.runs import Stretch
from blockrun.order.walls.tops import lowest


def opening_notes(part: WallPart, way: Levels, found: Found) -> Iterator[str]:
    """Sentences on the openings of a run, one after the other, then on what stands between them."""
    bearings = bearings_mm(found, way)
    for opening, hole, bearing in zip(found.stretch.openings, found.holes, bearings, strict=True):
        name = found.called(opening.name)
        yield from _not_as_written(part, way, name, opening, hole)
        if hole.over:
            yield from _bearing(part, name, bearing)
            yield from _cut_by_a_slope(part, way, name, hole, found)
        else:
            yield f"{name}: no course goes over it, so it has no lintel of blocks."
    yield from _too_narrow(part, found)


def bearings_mm(found: Found, way: Levels) -> list[float]:
    """How far the lintel over each opening of a run can bear on its narrower side; without end where there is none."""
    return [max(0.0, min(_bearings(hole, found, way))) if hole.over else math.inf for hole in found.holes]


def _not_as_written(part: WallPart, way: Levels, name: str, opening: Opening, hole: Hole) -> Iterator[str]:
    """Where a hole is more than a bed larger than its opening."""
    sill, height = max(0.0, hole.bottom_mm), hole.top_mm - max(0.0, hole.bottom_mm)
    if max(opening.sill_mm - sill, hole.top_mm - opening.head_mm) <= way.bed_mm + EPS_MM:
        return
    sizes = (("sill", opening.sill_mm, sill), ("height", opening.height_mm, height))
    changed = [(key, part.said(written), part.said(laid)) for key, written, laid in sizes if abs(laid - written) > 0.1]
    both = " and ".join(f"{key} written {written}, laid {laid}" for key, written, laid in changed)
    todo = " and ".join(f"{key}: {laid}" for key, _, laid in changed)
    yield f"{name}: {both} to meet a bed; pack it, or write {todo}."


def _bearing(part: WallPart, name: str, bearing: float) -> Iterator[str]:
    if bearing < part.least_bearing_mm - EPS_MM:
        short = f"its lintel bears on {part.said(bearing)}, not {part.said(part.least_bearing_mm)}"
        yield f"{name}: {short}; widen what stands beside it, or ask the engineer."


def _bearings(hole: Hole, found: Found, way: Levels) -> Iterator[float]:
    """How far a lintel can bear on each side: to the end of the run, or to a hole in its own course or that below."""
    course = way.courses[hole.over - 1]
    left, right = hole.left_mm - found.stretch.start.at_mm, found.stretch.end.at_mm - hole.right_mm
    for other in found.holes:
        if other is hole or other.bottom_mm > course.bottom_mm or other.top_mm <= course.bottom_mm + EPS_MM:
            continue
        if other.right_mm <= hole.left_mm + EPS_MM:
            left = min(left, hole.left_mm - other.right_mm)
        if other.left_mm >= hole.right_mm - EPS_MM:
            right = min(right, other.left_mm - hole.right_mm)
    yield left
    yield right


def _cut_by_a_slope(part: WallPart, way: Levels, name: str, hole: Hole, found: Found) -> Iterator[str]:
    room = min((_room(found.stretch, one) for one in found.lintels if _carries(one, hole)), default=None)
    if room is None or room >= way.courses[hole.over - 1].top_mm - EPS_MM:
        return
    head = max((one.bottom_mm for one in way.courses if one.top_mm <= room + EPS_MM), default=0.0)
    lower = f"lower its head to {part.said(head)}" if head > hole.bottom_mm + EPS_MM else "lower it"
    yield f"{CAUTION} {name}: the slope cuts its lintel; {lower}, or move it towards the peak."


def _carries(lintel: Lintel, hole: Hole) -> bool:
    return lintel.course == hole.over and lintel.left_mm < hole.right_mm and hole.left_mm < lintel.right_mm


def _room(stretch: Stretch, lintel: Lintel) -> float:
    """How high the run is over all of a lintel."""
    return lowest(stretch.line, lintel.left_mm, lintel.right_mm)


def _too_narrow(part: WallPart, found: Found) -> Iterator[str]:
    """What stands between two openings, or between one and the end of the run, and is shorter than any block."""
    least = part.said(part.least_mm)
    holes = sorted(found.holes, key=lambda hole: hole.left_mm)
    for one, other in itertools.combinations(holes, 2):
        gap = other.left_mm - one.right_mm
        if -EPS_MM <= gap < part.least_mm - EPS_MM and one.bottom_mm < other.top_mm and other.bottom_mm < one.top_mm:
            what = _between(part, gap, one.name, other.name)
            yield found.said(f"{what}; make them one opening, or leave {least} or more between.")
    for hole in holes:
        ends = (("start", hole.left_mm), ("end", found.stretch.length_mm - hole.right_mm))
        for end, gap in ends:
            if gap < part.least_mm - EPS_MM:
                what = _between(part, gap, hole.name, f"the {end} of the wall")
                yield found.said(f"{what}; leave {least} or more there.")


def _between(part: WallPart, gap: float, one: str, other: str) -> str:
    what = f"only {part.said(gap)} stand" if gap > EPS_MM else "nothing stands"
    return f"{what} between {one} and {other}"
