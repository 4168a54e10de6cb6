"""A building seen from above, to set it out by: runs, corners, inner walls, piers and openings with their places."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from blockrun.order.walls import InnerWall, Opening, Pier, Run, WallPart
from blockrun.order.walls.from_above import Body, bodies_of, corners_of, inner_body, insides_of
from blockrun.show.pictures.paper import (
    HEIGHT_MM,
    LEAST_MM,
    LETTER_MM,
    SCALES,
    WIDTH_MM,
    level_mm,
    number,
    points,
    render,
    unit,
)
from blockrun.units import show_angle

_TOP: Final = 8.0
_MARGIN: Final = 19.0
"""Room round the building for its dimensions, mm on paper."""
_FOOT: Final = 6.0
_CHAIN: Final = 6.0
_WHOLE: Final = 13.0
"""How far outside a run the dimensions of its openings stand, and that of all of it."""
_SQUARE_DEG: Final = 90.0
_SAME_MM: Final = 1.0


@dataclass(frozen=True)
class _Sheet:
    """Where places of the building, x + yj in mm with y up, are on paper."""

    scale: int
    left: float
    low: float

    def at(self, place: complex) -> complex:
        """On the sheet, with y down."""
        return complex(self.left + place.real / self.scale, self.low - place.imag / self.scale)

    def shape(self, places: Sequence[complex]) -> str:
        """Corners of a polygon."""
        return points([(one.real, one.imag) for one in map(self.at, places)])


def wall_plan(wall: WallPart, *, units: str) -> str:
    """SVG of the outline of a building from above, on one sheet."""
    bodies = bodies_of(wall)
    sheet = _fitted([*corners_of(wall), *insides_of(wall)])
    runs = [(run, bodies[run.name]) for run in wall.outline]
    inner = [(one, inner_body(wall, one, bodies[one.from_run])) for one in wall.inner_walls]
    texts = [
        *(text for run, body in runs for text in _along(sheet, wall, run, body, units)),
        *(text for run, body in runs for text in _openings(sheet, run.openings, body)),
        *(text for run, body in runs for text in _piers(sheet, wall, run, body, units)),
        *(text for one, body in inner for text in _inner(sheet, one, body, units)),
        *_angles(sheet, wall),
    ]
    return render(
        "wall_plan.svg.jinja",
        title=f"Wall {wall.name}: from above",
        said=f"drawn 1:{sheet.scale}, lengths in {unit(units)}",
        width=WIDTH_MM,
        height=HEIGHT_MM,
        body=_body(sheet, wall),
        walls=[sheet.shape(_clear(wall, one, body).corners) for one, body in inner],
        piers=[sheet.shape(_pier(wall, body, pier)) for run, body in runs for pier in run.piers],
        openings=[sheet.shape(_hole(body, one)) for one_run, body in (*runs, *inner) for one in one_run.openings],
        lines=[line for run, body in runs for line in _lines(sheet, wall, run, body)],
        texts=texts,
    )


def _fitted(corners: Sequence[complex]) -> _Sheet:
    """The largest scale at which a building and its dimensions fit, the building in the middle."""
    xs, ys = [one.real for one in corners], [one.imag for one in corners]
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    room, high = WIDTH_MM - 2 * _MARGIN, HEIGHT_MM - _TOP - _FOOT - 2 * _MARGIN
    scale = next((one for one in SCALES if wide / one <= room and deep / one <= high), SCALES[-1])
    left = (WIDTH_MM - wide / scale) / 2 - min(xs) / scale
    low = _TOP + _MARGIN + (high + deep / scale) / 2 + min(ys) / scale
    return _Sheet(scale, left, low)


def _body(sheet: _Sheet, wall: WallPart) -> str:
    """Path of the outside faces and the inside faces: two loops, or one round an outline with free ends."""
    outer, inner = corners_of(wall), insides_of(wall)
    loops = [outer[:-1], inner[:-1]] if wall.closed else [[*outer, *reversed(inner)]]
    return " ".join(f"M{sheet.shape(loop)}Z" for loop in loops)


def _clear(wall: WallPart, inner: InnerWall, body: Body) -> Body:
    """An inner wall as it is drawn: it goes into the runs it meets."""
    return body.longer(wall.block[2] / 2, wall.block[2] / 2 if inner.to else 0.0)


def _pier(wall: WallPart, body: Body, pier: Pier) -> list[complex]:
    """Corners of a pier at the inside of a run, the joint behind it included."""
    near, far, thick, reach = pier.at_mm, pier.at_mm + pier.width_mm, wall.block[2], _reach(wall, pier)
    return [_in(body, *place) for place in ((near, thick), (far, thick), (far, reach), (near, reach))]


def _reach(wall: WallPart, pier: Pier) -> float:
    """How far in from the outside of its run a pier goes."""
    return wall.block[2] + wall.joint_mm + (pier.projection_mm or wall.block[2])


def _hole(body: Body, opening: Opening) -> list[complex]:
    thick = abs(body.corners[1] - body.corners[0])
    ends = opening.from_mm, opening.to_mm
    return [_in(body, *place) for place in ((ends[0], 0), (ends[1], 0), (ends[1], thick), (ends[0], thick))]


def _in(body: Body, along: float, inwards: float) -> complex:
    """A place so far along a wall and so far in from its outside face."""
    return body.corners[0] + body.along * complex(along, inwards)


def _chain(run: Run) -> list[float]:
    places = sorted({0.0, run.length_mm, *(side for one in run.openings for side in (one.from_mm, one.to_mm))})
    return places if len(places) > 2 else []


def _lines(sheet: _Sheet, wall: WallPart, run: Run, body: Body) -> Iterator[tuple[complex, complex]]:
    """Dimension lines of a run, with a tick at each place."""
    for places, off in ((_chain(run), _CHAIN), ([0.0, run.length_mm], _WHOLE)):
        at = _off(sheet, wall, run, off)
        if places:
            yield sheet.at(_in(body, 0.0, at)), sheet.at(_in(body, run.length_mm, at))
        tick = sheet.scale * 1.2
        for place in places:
            yield sheet.at(_in(body, place, at + tick)), sheet.at(_in(body, place, at - tick))


def _off(sheet: _Sheet, wall: WallPart, run: Run, paper_mm: float) -> float:
    """How far inwards dimensions stand that far from a run: outside, or inside of one that comes out of a nook."""
    before = wall.outline[wall.outline.index(run) - 1]
    in_nook = before.corner == "inside" and (wall.closed or run is not wall.outline[0])
    return wall.block[2] + paper_mm * sheet.scale if in_nook else -paper_mm * sheet.scale


def _along(sheet: _Sheet, wall: WallPart, run: Run, body: Body, units: str) -> Iterator[dict[str, Any]]:
    """Name and length of a run, and the places of its openings."""
    said = f"{run.name}: {number(run.length_mm, units)}"
    yield _text(sheet, said, _in(body, run.length_mm / 2, _off(sheet, wall, run, _WHOLE + 2)), body.along, bold=True)
    for left, right in itertools.pairwise(_chain(run)):
        if right - left > _SAME_MM:
            said, room = number(right - left, units), (right - left) / sheet.scale
            place = _in(body, (left + right) / 2, _off(sheet, wall, run, _CHAIN + _clear_of(said, room)))
            yield _text(sheet, said, place, body.along, room=room)


def _clear_of(text: str, room: float) -> float:
    """How far from a line the middle of words stands: further where they stand across it."""
    return 2.0 if level_mm(text, room) >= LEAST_MM else 1.0 + 0.3 * LEAST_MM * len(text)


def _openings(sheet: _Sheet, openings: Sequence[Opening], body: Body) -> Iterator[dict[str, Any]]:
    """Names of openings, just inside the wall."""
    thick = abs(body.corners[1] - body.corners[0])
    for one in openings:
        room = one.width_mm / sheet.scale
        place = _in(body, (one.from_mm + one.to_mm) / 2, thick + _clear_of(one.name, room) * sheet.scale)
        yield _text(sheet, one.name, place, body.along, room=room)


def _piers(sheet: _Sheet, wall: WallPart, run: Run, body: Body, units: str) -> Iterator[dict[str, Any]]:
    for index, pier in enumerate(run.piers, 1):
        sizes = f"{number(pier.width_mm, units)} wide, at {number(pier.at_mm, units)}"
        place = _in(body, pier.at_mm + pier.width_mm / 2, _reach(wall, pier) + 2 * sheet.scale)
        yield _text(sheet, f"pier {index}: {sizes}", place, body.along)


def _inner(sheet: _Sheet, inner: InnerWall, body: Body, units: str) -> Iterator[dict[str, Any]]:
    """Name, length and place of an inner wall, beside it, and the places of its openings along it."""
    said = f"{inner.name}: {number(inner.length_mm, units)}, at {number(inner.at_mm, units)} of {inner.from_run}"
    if inner.to and inner.to_at_mm is not None:
        said += f" and {number(inner.to_at_mm, units)} of {inner.to}"
    yield _text(sheet, said, _in(body, inner.length_mm / 2, -2 * sheet.scale), body.along, bold=True)
    thick = abs(body.corners[1] - body.corners[0])
    for one in inner.openings:
        place = _in(body, (one.from_mm + one.to_mm) / 2, thick + 2 * sheet.scale)
        sizes = f"{number(one.width_mm, units)} at {number(one.from_mm, units)}"
        yield _text(sheet, f"{one.name}: {sizes}", place, body.along)


def _angles(sheet: _Sheet, wall: WallPart) -> Iterator[dict[str, Any]]:
    """Angles of corners that are not square, just inside them."""
    turns = zip(wall.outline, insides_of(wall)[1:], corners_of(wall)[1:], strict=True)
    for run, inside, corner in turns:
        if run.angle_deg != _SQUARE_DEG:
            out = (inside - corner) / abs(inside - corner) * (1 if run.corner == "outside" else -1)
            place = (inside if run.corner == "outside" else corner) + out * 5 * sheet.scale
            yield _text(sheet, show_angle(run.angle_deg), place, 1 + 0j)


def _text(
    sheet: _Sheet, text: str, place: complex, along: complex, *, room: float = math.inf, bold: bool = False
) -> dict[str, Any]:
    """Words along a wall that are read from below or from the right, across it where they have no room along it."""
    size = level_mm(text, room) if room < math.inf else LETTER_MM
    turn = -math.degrees(cmath.phase(along)) + (90 if size < LEAST_MM else 0)
    turn = (turn + 90) % 180 - 90
    turn = -90.0 if abs(turn - 90) < 0.01 or abs(turn + 90) < 0.01 else turn
    at = sheet.at(place)
    return {"x": at.real, "y": at.imag, "text": text, "turn": turn, "size": max(LEAST_MM, size), "bold": bold}
