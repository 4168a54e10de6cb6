"""Walls and domes drawn block by block, in mm; blocks of one life stand together: a day changes them at once."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.order.domes import DomeLayout
from blockrun.order.laid import Laid, Point
from blockrun.order.walls import Face, WallLayout
from blockrun.show.pictures.drawn import middle_of
from blockrun.show.pictures.strips import peak_of
from blockrun.show.report.dealt import Cast
from blockrun.units import counted

if TYPE_CHECKING:
    from collections.abc import Callable

    from blockrun.order.domes import DomePart
    from blockrun.order.walls import WallPart
    from blockrun.show.report.lives import Lives

MARGIN_MM: Final = 40.0
_LETTER_PX: Final = 13.0
"""Room for a line of letters."""

_PAGE_PX: Final = 1080
_SCREEN_PX: Final = 530
_PHONE_PX: Final = 350
_CLOSEST: Final = 5.0
_CLOSER: Final = 8.5
_FURTHEST: Final = 34.0
"""Millimetres a pixel: at the least for one alone, for one among others, and so many that a block is still seen."""
SCALES: Final = (5, 6, 7, 9, 11, 14, 18, 23, 28, 34)
"""Millimetres a pixel for which there are patterns."""

Placed = tuple[Laid, Cast]


def pattern_for(per_px: float) -> int:
    """The patterns that look most as they do in charts, at so many millimetres a pixel."""
    return min(SCALES, key=lambda scale: abs(math.log(scale / per_px)))


class Shape(NamedTuple):
    """A block: the path of its outline, and what it is."""

    path: str
    words: str


class Together(NamedTuple):
    """All blocks of one life in a drawing."""

    life: int
    state: int
    blocks: tuple[Shape, ...]


class Words(NamedTuple):
    """A word at a place."""

    text: str
    x: int
    y: int


class Scaled:
    """A drawing in mm: how many of them are a pixel. One that stands alone is larger than one among others."""

    width: int
    height: int
    alone: bool

    @property
    def desk(self) -> float:
        """Millimetres a pixel where there is room: walls across the page, domes less high than a screen.

        What would be too small so goes on beyond the page, and moves sideways by itself.
        """
        return _desk(self.width, self.height, alone=self.alone)

    @property
    def phone(self) -> float:
        """Millimetres a pixel on a phone."""
        return min(_FURTHEST, max(self.width / _PHONE_PX, self.desk))


@dataclass(frozen=True)
class Drawing(Scaled):
    """A wall from one side, or a dome laid flat.

    Parameters
    ----------
    title, said : what it shows, and how it is to be read.
    width, height : in mm of the wall; y goes down.
    groups : blocks by their lives.
    beside : paths of what is there but not cast: ends of other walls, lintels that are bought, mortar.
    openings : paths of doors and windows.
    names : of openings, in their middles.
    courses : numbers of courses, where they stand.
    alone : whether it is the only one of its part.
    """

    title: str
    said: str
    width: int
    height: int
    groups: tuple[Together, ...]
    beside: tuple[str, ...]
    openings: tuple[str, ...]
    names: tuple[Words, ...]
    courses: tuple[Words, ...]
    alone: bool


def _desk(width_mm: float, height_mm: float, *, alone: bool) -> float:
    closest = _CLOSEST if alone else _CLOSER
    return min(_FURTHEST, max(width_mm / _PAGE_PX, height_mm / _SCREEN_PX, closest))


def path(corners: Iterable[Point]) -> str:
    """A closed outline through corners, to the millimetre, each after the first told from the one before."""
    (x, y), *others = [(round(across), round(down)) for across, down in corners]
    steps = [f"M{x} {y}"]
    for across, down in others:
        right, under = across - x, down - y
        if right or under:
            steps.append(f"v{under}" if not right else f"h{right}" if not under else f"l{right} {under}")
        x, y = across, down
    return "".join(steps) + "z"


def wall_drawings(part: WallPart, layout: WallLayout, placed: Sequence[Placed], lives: Lives) -> Iterator[Drawing]:
    """Each face of a wall, its floor at the bottom."""
    for face in layout.faces:
        of_face = [one for one in placed if one[0].face == face.number]
        title = f"Wall {part.name}" if face.name == part.name else f"Wall {part.name}, {face.name}"
        yield _face_drawing(face, title, of_face, lives, alone=len(layout.faces) == 1)


def _face_drawing(face: Face, title: str, placed: Sequence[Placed], lives: Lives, *, alone: bool) -> Drawing:
    peak, (left, right) = peak_of(face, [block for block, _ in placed]), face.ends_mm
    letter = _LETTER_PX * _desk(right - left, peak, alone=alone)
    gutter = 2 * letter + MARGIN_MM

    def place(point: Point) -> Point:
        return point[0] - left + gutter, peak - point[1] + MARGIN_MM

    beside = [*(corners for _, corners in face.returns), *face.mortar, *face.lintels]
    n_courses = len({block.course for block, _ in placed})
    return Drawing(
        title,
        f"{counted(len(placed), 'block')} in {counted(n_courses, 'course')}, seen {face.side}.",
        round(right - left + gutter + MARGIN_MM),
        round(peak + 2 * MARGIN_MM),
        tuple(_groups(placed, place, lives)),
        tuple(path(map(place, corners)) for corners in beside),
        tuple(path(map(place, corners)) for _, corners in face.openings),
        tuple(_named(name, corners, place) for name, corners in face.openings),
        tuple(_levels(placed, place, letter)),
        alone,
    )


def _levels(placed: Sequence[Placed], place: Callable[[Point], Point], letter: float) -> Iterator[Words]:
    """Numbers of courses at the left, left out where they would touch."""
    levels: dict[int, list[float]] = defaultdict(list)
    for block, _ in placed:
        levels[block.course] += [up for _, up in block.corners]
    last = math.inf
    for course, ups in sorted(levels.items()):
        _, y = place((0.0, (min(ups) + max(ups)) / 2))
        if last - y >= letter:
            yield Words(str(course), round(letter), round(y))
            last = y


def dome_drawing(part: DomePart, layout: DomeLayout, placed: Sequence[Placed], lives: Lives) -> Drawing:
    """A dome laid flat, its crown in the middle: azimuth 0 points down, angles go round anti-clockwise."""
    reach = max(math.hypot(*point) for block, _ in placed for point in block.corners) + MARGIN_MM

    def place(point: Point) -> Point:
        return reach + point[1], reach + point[0]

    rings = sorted({block.course for block, _ in placed})
    blocks = f"{counted(len(placed), 'block')} in {counted(len(rings), 'course')}"
    return Drawing(
        f"Dome {part.name}",
        f"{blocks}: the inside face laid flat, seen from above. From the crown outward it is to scale; round the dome "
        "it is stretched.",
        round(2 * reach),
        round(2 * reach),
        tuple(_groups(placed, place, lives)),
        (),
        tuple(path(map(place, outline)) for _, outline in layout.openings),
        tuple(_named(name, outline, place) for name, outline in layout.openings),
        tuple(_ring_numbers(placed, place)),
        alone=True,
    )


def _ring_numbers(placed: Sequence[Placed], place: Callable[[Point], Point]) -> Iterator[Words]:
    """Numbers of courses up from the crown, away from the door, which mostly is at azimuth 0."""
    away: dict[int, list[float]] = defaultdict(list)
    for block, _ in placed:
        away[block.course] += [math.hypot(*point) for point in block.corners]
    for course, reach in sorted(away.items()):
        x, y = place((-(min(reach) + max(reach)) / 2, 0.0))
        yield Words(str(course), round(x), round(y))


def _named(name: str, corners: Sequence[Point], place: Callable[[Point], Point]) -> Words:
    x, y = place(middle_of(corners))
    return Words(name, round(x), round(y))


def _groups(placed: Sequence[Placed], place: Callable[[Point], Point], lives: Lives) -> Iterator[Together]:
    groups: dict[int, list[Shape]] = defaultdict(list)
    for block, cast in placed:
        groups[cast.life].append(Shape(path(map(place, block.corners)), words_of(block, cast, lives)))
    for life, shapes in sorted(groups.items()):
        yield Together(life, lives.each[life].state(lives.shown), tuple(shapes))


def words_of(block: Laid, cast: Cast, lives: Lives) -> str:
    """What a block is, where it is cast, and when it comes to each state."""
    named = [f"{cast.mark}, course {block.course}", block.role.value, block.cut]
    return f"{'; '.join(filter(None, named))}; {lives.said(cast.life)}; mould {cast.mould}, batch {cast.batch}"
