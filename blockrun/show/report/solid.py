"""Domes and buildings as solids: each block an outline of the outside face and one of the inside face, in mm.

A picture is drawn from the far blocks to the near ones, each with the faces that are turned to the eye. What stands on
the page without script is drawn here; ``solid.js`` does the same from another side.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.order.laid import Laid, Point
from blockrun.order.walls.from_above import Body, bodies_of, corners_of, inner_body, insides_of
from blockrun.show.report.bare import bare_edges
from blockrun.show.report.drawing import MARGIN_MM, Placed, Scaled, path, words_of

if TYPE_CHECKING:
    from blockrun.order.domes import DomeLayout, DomePart
    from blockrun.order.walls import Face, WallLayout, WallPart
    from blockrun.show.report.lives import Lives

Place = tuple[float, float, float]
"""To the east, to the north and up."""

TURN_DEG: Final = 25
TILT_DEG: Final = 30
MOST_TILT_DEG: Final = 60
"""From which side solids are seen before they are turned, how far from above, and how far at the most."""

_SIDES: Final = 48
"""Of the outline of a round floor."""


class SolidBlock(NamedTuple):
    """A block: its outlines on the outside and on the inside, both anti-clockwise as seen from outside.

    `level` is its course, `bare` are the edges whose faces may be seen.
    """

    life: int
    state: int
    level: int
    words: str
    outside: tuple[Place, ...]
    inside: tuple[Place, ...]
    bare: list[int]

    def faces(self) -> Iterator[tuple[Place, ...]]:
        """The outside face, then all others that may be seen, each anti-clockwise as seen from outside the block."""
        yield self.outside
        yield self.inside[::-1]
        for one in self.bare:
            other = (one + 1) % len(self.outside)
            yield self.inside[one], self.inside[other], self.outside[other], self.outside[one]


class FaceShown(NamedTuple):
    """A face as it is seen: of which block, whether it is its outside face, and the path of its outline."""

    block: SolidBlock
    outside: bool
    path: str


@dataclass(frozen=True)
class Solid(Scaled):
    """A dome or a building, and what of it is seen from one side.

    All is seen from above. The courses of a building lie level: drawn one after the other, the far blocks of each
    first, they hide what is to be hidden. Those of a dome lean over one another; but it is a shell that bulges
    everywhere, so no outside face hides another, and they are drawn last.
    """

    title: str
    said: str
    blocks: tuple[SolidBlock, ...]
    floor: tuple[Place, ...]
    shell: bool
    alone: bool = False

    @cached_property
    def _profile(self) -> set[tuple[int, int]]:
        """How far from the middle axis blocks reach, and how high, to a centimetre."""
        places = (place for block in self.blocks for place in block.outside)
        return {(math.ceil(math.hypot(x, y) / 10) * 10, math.ceil(z / 10) * 10) for x, y, z in places}

    @cached_property
    def width(self) -> int:  # type: ignore[override]
        """Room for it however it is turned."""
        return round(2 * max(reach for reach, _ in self._profile) + 2 * MARGIN_MM)

    @cached_property
    def _up(self) -> tuple[int, int]:
        """How far up from the middle of the floor it goes, and how far down, however it is tilted."""
        tilts = [math.radians(degrees) for degrees in range(0, MOST_TILT_DEG + 1, 10)]
        ups = [(high * math.cos(tilt), reach * math.sin(tilt)) for tilt in tilts for reach, high in self._profile]
        return round(max(up + on for up, on in ups) + MARGIN_MM), round(max(on - up for up, on in ups) + MARGIN_MM)

    @property
    def height(self) -> int:  # type: ignore[override]
        """Room for it however it is tilted."""
        return sum(self._up)

    def seen(self, turn_deg: float = TURN_DEG, tilt_deg: float = TILT_DEG) -> list[FaceShown]:
        """Faces turned to the eye, those of far blocks first.

        Parameters
        ----------
        turn_deg : how far the solid is turned to the right, as seen from above.
        tilt_deg : how far from above it is seen, 0 for from the side.
        """
        eye = _Eye(math.radians(turn_deg), math.radians(tilt_deg))
        shown = []
        for block in self.blocks:
            near = eye.near(block.outside + block.inside)
            for number, outline in enumerate(map(eye.outline, block.faces())):
                if _is_turned_here(outline):
                    drawn = int(number == 0) if self.shell else block.level
                    shown.append((drawn, near, FaceShown(block, number == 0, self._path(outline))))
        return [face for _, _, face in sorted(shown, key=lambda one: one[:2])]

    def floor_seen(self) -> str:
        """The path of the floor."""
        return self._path(_Eye(math.radians(TURN_DEG), math.radians(TILT_DEG)).outline(self.floor))

    def _path(self, outline: Iterable[Point]) -> str:
        return path((self.width / 2 + right, self._up[0] - up) for right, up in outline)

    @cached_property
    def told(self) -> str:
        """What the script needs to know of the blocks."""
        told = {
            "middle": [self.width / 2, self._up[0]],
            "floor": _flat(self.floor),
            "lives": [block.life for block in self.blocks],
            "words": [block.words for block in self.blocks],
            "shell": self.shell,
            "levels": [block.level for block in self.blocks],
            "bare": [block.bare for block in self.blocks],
            "outside": [_flat(block.outside) for block in self.blocks],
            "inside": [_flat(block.inside) for block in self.blocks],
        }
        return json.dumps(told, separators=(",", ":")).replace("<", "\\u003c")


class _Eye(NamedTuple):
    """From where a solid is seen."""

    turn_rad: float
    tilt_rad: float

    def _turned(self, place: Place) -> tuple[float, float, float]:
        """Towards the eye, to the right and up, before the tilt."""
        x, y, z = place
        cos, sin = math.cos(self.turn_rad), math.sin(self.turn_rad)
        return x * cos - y * sin, x * sin + y * cos, z

    def outline(self, places: Iterable[Place]) -> list[Point]:
        """Places as they are seen: to the right, and up."""
        cos, sin = math.cos(self.tilt_rad), math.sin(self.tilt_rad)
        return [(right, up * cos - near * sin) for near, right, up in map(self._turned, places)]

    def near(self, places: Sequence[Place]) -> float:
        """How near to the eye the middle of some places is."""
        cos, sin = math.cos(self.tilt_rad), math.sin(self.tilt_rad)
        return sum(near * cos + up * sin for near, _, up in map(self._turned, places)) / len(places)


def _is_turned_here(outline: Sequence[Point]) -> bool:
    """Whether an outline is seen anti-clockwise, and not on its edge."""
    pairs = zip(outline, [*outline[1:], outline[0]], strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) > 1.0


def _flat(places: Iterable[Place]) -> list[int]:
    return [round(number) for place in places for number in place]


def dome_solid(part: DomePart, layout: DomeLayout, placed: Sequence[Placed], lives: Lives) -> Solid:
    """A dome, its floor level and azimuth 0 to the eye before it is turned."""
    rings = _Rings(part, layout)
    blocks = tuple(_block(one, list(range(len(one[0].corners))), lives, *rings.faces(one[0])) for one in placed)
    radius = layout.sections[0].outline[0][0]
    floor = tuple(_round((radius, 0.0), math.tau * side / _SIDES) for side in range(_SIDES))
    return Solid(f"Dome {part.name} as a solid", "Seen from outside and above.", blocks, floor, shell=True)


class _Rings:
    """Where points of the developed view lie on the two faces of a dome."""

    def __init__(self, part: DomePart, layout: DomeLayout) -> None:
        crown = layout.crown
        self._sections = {section.course: section for section in layout.sections}
        self._crown = (
            (crown.inside_radius_mm, crown.floor_mm),
            (crown.outside_radius_mm, crown.floor_mm + part.thickness_mm),
        )

    def faces(self, block: Laid) -> tuple[list[Place], list[Place]]:
        """Corners of a block outside and inside."""
        pairs = [self._at(block.course, point) for point in block.corners]
        return [outside for outside, _ in pairs], [inside for _, inside in pairs]

    def _at(self, course: int, point: Point) -> tuple[Place, Place]:
        """A point of the developed view, outside and inside; both are at its azimuth."""
        azimuth, away = math.atan2(point[1], point[0]), math.hypot(*point)
        if course in self._sections:
            section = self._sections[course]
            bottom, top = section.from_crown_mm
            share = (away - bottom) / (top - bottom)
            inside_bottom, outside_bottom, outside_top, inside_top = section.outline
            inside, outside = _between(inside_bottom, inside_top, share), _between(outside_bottom, outside_top, share)
        else:
            inside, outside = self._crown
        return _round(outside, azimuth), _round(inside, azimuth)


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])


def _round(section: Point, azimuth_rad: float) -> Place:
    radius, level = section
    return radius * math.cos(azimuth_rad), radius * math.sin(azimuth_rad), level


def wall_solid(part: WallPart, layout: WallLayout, placed: Sequence[Placed], lives: Lives) -> Solid | None:
    """A building of several runs, its first run to the eye before it is turned; None for a straight wall."""
    if not part.outline:
        return None
    bodies = bodies_of(part)
    inner = {one.name: inner_body(part, one, bodies[one.from_run]) for one in part.inner_walls}
    runs = {face.number: {**bodies, **inner}[face.name] for face in layout.faces if face.name in {**bodies, **inner}}
    middle = _middle(corner for body in runs.values() for corner in body.corners)
    blocks = tuple(
        _block(one, bare, lives, *_faces(one[0], runs[face.number], middle))
        for face in layout.faces
        if face.number in runs
        for one, bare in _with_bare_edges(face, placed)
    )
    floor = tuple(_place(corner - middle, 0.0) for corner in _floor(part))
    left_out = "" if len(blocks) == len(placed) else " Its piers are left out."
    return Solid(f"Wall {part.name} as a solid", f"Seen from outside and above.{left_out}", blocks, floor, shell=False)


def _floor(part: WallPart) -> list[complex]:
    """What an outline encloses; of one with free ends, what its runs stand on."""
    inside = insides_of(part)
    return inside if part.closed else [*corners_of(part), *reversed(inside)]


def _with_bare_edges(face: Face, placed: Sequence[Placed]) -> Iterator[tuple[Placed, list[int]]]:
    """Blocks of a face; where other walls go through it, no edge is bare."""
    of_face = [one for one in placed if one[0].face == face.number]
    bare = bare_edges([block.corners for block, _ in of_face], [corners for _, corners in face.returns])
    return zip(of_face, bare, strict=True)


def _middle(corners: Iterable[complex]) -> complex:
    """Of the smallest box round some corners."""
    xs, ys = zip(*((corner.real, corner.imag) for corner in corners), strict=True)
    return complex((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _place(from_middle: complex, up_mm: float) -> Place:
    """The first run goes to the right of the eye."""
    return -from_middle.imag, from_middle.real, up_mm


def _faces(block: Laid, body: Body, middle: complex) -> tuple[list[Place], list[Place]]:
    """Corners of a block on the outside and on the inside of its run."""

    def at(along_mm: float, inwards_mm: float, up_mm: float) -> Place:
        return _place(body.corners[0] + body.along * complex(along_mm, inwards_mm) - middle, up_mm)

    thick = block.shape.thickness_mm
    return [at(x, 0.0, up) for x, up in block.corners], [at(x, thick, up) for x, up in block.corners]


def _block(one: Placed, bare: list[int], lives: Lives, outside: Sequence[Place], inside: Sequence[Place]) -> SolidBlock:
    laid, cast = one
    state = lives.each[cast.life].state(lives.shown)
    return SolidBlock(cast.life, state, laid.course, words_of(laid, cast, lives), tuple(outside), tuple(inside), bare)
