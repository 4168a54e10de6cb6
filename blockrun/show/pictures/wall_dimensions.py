"""Dimensions of an elevation: along the run as it is seen, up the courses, and of each opening."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Any, Final

from blockrun.order.laid import Laid, Point
from blockrun.order.walls import Face
from blockrun.show.pictures.paper import LEAST_MM, level_mm, number, points
from blockrun.show.pictures.strips import Strip
from blockrun.show.tape import tape_unit

_SAME_MM: Final = 1.0
"""Lengths closer than this are the same to a mason."""
_LINE: Final = 1.25
"""Height of a line of words, as a share of its letters."""


def courses(strip: Strip, blocks: Sequence[Laid], units: str) -> list[tuple[int, str, float]]:
    """Number of each course, the height of its top, and where on paper that stands, low courses kept apart."""
    found: list[tuple[int, str, float]] = []
    below = float("inf")
    for course in sorted({block.course for block in blocks}):
        heights = [up for block in blocks if block.course == course for _, up in block.corners]
        below = min(strip.y((max(heights) + min(heights)) / 2), below - 1.1 * LEAST_MM)
        found.append((course, number(max(heights), units), below))
    return found


def chain(strip: Strip, face: Face, units: str) -> Iterator[dict[str, Any]]:
    """Dimensions of what is seen, to jambs, inner walls and piers; in brackets what goes on into other walls."""
    jambs = {along for _, corners in face.openings for along, _ in corners}
    jambs |= {side for _, *sides in face.behind for side in sides}
    places = sorted(jambs | {*face.ends_mm, *face.seen_mm})
    for left, right in itertools.pairwise(places):
        if right - left < _SAME_MM or right <= strip.left_mm or left >= strip.right_mm:
            continue
        near, far = strip.x(max(left, strip.left_mm)), strip.x(min(right, strip.right_mm))
        text = number(right - left, units)
        text = text if face.seen_mm[0] <= (left + right) / 2 <= face.seen_mm[1] else f"({text})"
        text += " in all" if left < strip.left_mm - _SAME_MM or right > strip.right_mm + _SAME_MM else ""
        size = level_mm(text, far - near)
        yield {"left": near, "right": far, "text": text, "size": max(LEAST_MM, size), "upright": size < LEAST_MM}


def behind(strip: Strip, face: Face) -> Iterator[tuple[str, float]]:
    """Name of each inner wall and pier at the back of a run, and the place of its middle across the sheet."""
    for name, near, far in face.behind:
        if strip.left_mm <= (near + far) / 2 <= strip.right_mm:
            yield name, strip.x((near + far) / 2)


def hidden(strip: Strip, face: Face) -> list[float]:
    """Where on paper the faces of the walls are that a run goes on into."""
    edges = [seen for end, seen in zip(face.ends_mm, face.seen_mm, strict=True) if abs(end - seen) > _SAME_MM]
    return [strip.x(edge) for edge in edges if strip.left_mm <= edge <= strip.right_mm]


def length(face: Face, units: str) -> str:
    """How long a run is, as the file measures it."""
    seen = face.seen_mm[1] - face.seen_mm[0]
    where = " as seen" if face.ends_mm != face.seen_mm else ""
    return f"{face.name}: {number(seen, units)} {tape_unit(units)} long{where}"


def heights(strip: Strip, face: Face, peak: float, units: str) -> Iterator[dict[str, Any]]:
    """Heights at the right side: the end of the run, and its peak when that is higher."""
    x = strip.x(strip.right_mm)
    for index, up in enumerate(sorted({face.line[-1][1], peak})):
        if index == 0 or up - face.line[-1][1] > _SAME_MM:
            yield {"x": x + 3 + 5 * index, "y": strip.y(up), "text": number(up, units)}


def openings(strip: Strip, face: Face, units: str) -> Iterator[dict[str, Any]]:
    """Each opening with its sizes, as laid and where these differ as written; a number where it is too small."""
    for index, ((name, corners), written) in enumerate(zip(face.openings, face.written, strict=True), 1):
        if strip.shows(corners):
            yield _opening(strip, str(index), name, corners, written, units)


def _opening(
    strip: Strip, index: str, name: str, corners: Sequence[Point], written: tuple[float, float], units: str
) -> dict[str, Any]:
    across, up = [along for along, _ in corners], [up for _, up in corners]
    left, right = max(min(across), strip.left_mm), min(max(across), strip.right_mm)
    room = (right - left) / strip.scale, (max(up) - min(up)) / strip.scale
    size = number(max(across) - min(across), units), number(max(up) - min(up), units)
    said = _said(name, size, _levels(min(up), max(up), units), written if is_changed(corners, written) else None, units)
    lines = next((lines for lines in (*said, [index]) if _fitted(lines, room) >= LEAST_MM), [index])
    letters = max(LEAST_MM, _fitted(lines, room))
    x, y = strip.x((left + right) / 2), strip.y((min(up) + max(up)) / 2)
    rows = [(text, y + (row - (len(lines) - 1) / 2) * _LINE * letters) for row, text in enumerate(lines)]
    return {"points": points(strip.shape(corners)), "name": name, "x": x, "lines": rows, "size": letters}


def _said(
    name: str, size: tuple[str, str], laid: list[str], written: tuple[float, float] | None, units: str
) -> Iterator[list[str]]:
    """Lines on an opening, from those that take most room to its name alone."""
    wide, high = size
    levels = _levels(*written, units) if written else []
    heights = ", ".join(word.partition(" ")[2] for word in levels)
    yield [name, f"{wide} wide, {high} high", ", ".join(laid), *([f"written {', '.join(levels)}"] if levels else [])]
    yield [name, f"{wide} wide", f"{high} high", *laid, *(["written", *levels] if levels else [])]
    yield [name, f"{wide} x {high}", *laid, *(["written", heights] if levels else [])]
    yield [name, *laid]
    yield [name]


def _fitted(lines: Sequence[str], room: tuple[float, float]) -> float:
    return min(room[1] / (_LINE * len(lines) + 0.3), *(level_mm(text, room[0]) for text in lines))


def _levels(sill_mm: float, head_mm: float, units: str) -> list[str]:
    return [f"sill {number(max(0.0, sill_mm), units)}", f"head {number(head_mm, units)}"]


def is_changed(corners: Sequence[Point], written: tuple[float, float]) -> bool:
    """Whether a hole is laid otherwise than written."""
    up = [up for _, up in corners]
    return abs(max(0.0, min(up)) - written[0]) > _SAME_MM or abs(max(up) - written[1]) > _SAME_MM
