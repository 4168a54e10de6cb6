"""A wall into straight runs: where each ends in each course, where others pass through it, and its top.

Places along a run are measured on its outside face from where the file measures them. At a corner one run goes through
to the far face of the other in one course, and the other in the next, so each has an end that steps back every second
course; from an inside corner the body of a run goes on behind the outside face of its neighbour. At other angles than
90 deg those ends are skew. Where going through would make tips that break, the corner is mitred in every course.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.order.walls.heights import Course, Levels, levels
from blockrun.order.walls.tops import Line, has_level, height_at, line_of

if TYPE_CHECKING:
    from blockrun.order.walls.part import InnerWall, Opening, Pier, Run, Straight, WallPart

SHARPEST_DEG: Final = 45.0
"""Sharpest tip of a block that is sawn and handled whole (our choice: foamed concrete breaks at thin edges)."""
FLATTEST_DEG: Final = 180.0 - SHARPEST_DEG
"""Flattest corner whose runs go through by turns; the tip of the run that does is what is left to 180 deg."""
_EPS_MM: Final = 1e-6


@dataclass(frozen=True)
class End:
    """One end of a run.

    Parameters
    ----------
    at_mm : where its body ends when it goes through.
    back_mm : how much sooner it ends in the courses in which the other run goes through, joint included.
    joint_mm : the joint in that, along the face.
    through_odd : whether it goes through in courses 1, 3, 5; nought back makes that no matter.
    behind_mm : how much longer the inside face is than the outside at a skew end (less than nought: shorter).
    alone_above_mm : height at which the other run ends, so that it goes through in every course above.
    stops_at_mm : height at which it ends itself beside a higher run, which goes through in every course above.
    """

    at_mm: float
    back_mm: float = 0.0
    joint_mm: float = 0.0
    through_odd: bool = True
    behind_mm: float = 0.0
    alone_above_mm: float = math.inf
    stops_at_mm: float = math.inf

    def goes_through(self, course: Course) -> bool:
        """Whether it goes through in a course, and does not step back."""
        if course.top_mm > self.alone_above_mm + _EPS_MM:
            return True
        if course.top_mm > self.stops_at_mm + _EPS_MM:
            return False
        return (course.number % 2 == 1) == self.through_odd

    def back_in(self, course: Course) -> float:
        """How much sooner it ends in a course."""
        return 0.0 if self.goes_through(course) else self.back_mm

    @property
    def returns(self) -> bool:
        """Whether another run goes through here in some courses."""
        return self.back_mm > 0

    @property
    def meets(self) -> bool:
        """Whether another run meets it here at all."""
        return self.returns or self.behind_mm != 0

    @property
    def is_mitred(self) -> bool:
        """Whether it ends on the plane that halves the corner, in every course."""
        return self.meets and not self.returns

    @property
    def takes_mm(self) -> float:
        """How much of the face that is shorter there it loses to the other run, at the most."""
        return self.back_mm + max(0.0, -self.behind_mm)

    @property
    def other_mm(self) -> float:
        """How wide the end of the run that goes through stands in its face."""
        return self.back_mm - self.joint_mm


@dataclass(frozen=True)
class Passage:
    """Where an inner wall goes through a run: its near and far side, joints not included, and the inner wall's end."""

    near_mm: float
    far_mm: float
    end: End

    def goes_through(self, course: Course) -> bool:
        """Whether the inner wall goes through in a course."""
        return self.end.goes_through(course)


@dataclass(frozen=True)
class Header:
    """A block of a pier that is laid across a run: its near and far side, joints not included, and in which courses."""

    near_mm: float
    far_mm: float
    courses: frozenset[int]

    def goes_through(self, course: Course) -> bool:
        """Whether one is laid in a course."""
        return course.number in self.courses


@dataclass(frozen=True)
class Stretch:
    """A straight run, resolved: its number among the pictures, its ends, what passes through it, its top."""

    face: int
    name: str
    length_mm: float
    start: End
    end: End
    line: Line
    openings: tuple[Opening, ...]
    piers: tuple[Pier, ...]
    passages: tuple[Passage | Header, ...] = ()

    def span(self, course: Course) -> tuple[float, float]:
        """From where to where its own blocks lie in a course."""
        return self.start.at_mm + self.start.back_in(course), self.end.at_mm - self.end.back_in(course)

    def skews(self, course: Course, left_mm: float, right_mm: float) -> tuple[float, float]:
        """How much longer behind than in front what goes from left to right is at each end; nought within the run."""
        left, right = self.span(course)
        return (
            self.start.behind_mm if abs(left - left_mm) < _EPS_MM else 0.0,
            self.end.behind_mm if abs(right - right_mm) < _EPS_MM else 0.0,
        )

    def passages_in(self, course: Course) -> list[Passage | Header]:
        """The inner walls and the blocks of piers that go through it in a course."""
        return [passage for passage in self.passages if passage.goes_through(course)]

    @property
    def goes_on(self) -> bool:
        """Whether its body goes on behind or within a wall it meets, further than its length is measured."""
        return self.start.at_mm < 0 or self.end.at_mm > self.length_mm

    @property
    def is_square(self) -> bool:
        """Whether nothing steps back or goes through, so that the bond alone decides where courses start."""
        return not (self.start.returns or self.end.returns or self.passages)


def resolve(part: WallPart) -> list[Stretch]:
    """The runs of a wall in the order of the file, inner walls last; their faces count from 1."""
    if not part.outline:
        assert part.length_mm is not None
        return [_stretch(part, part, 1, End(0.0), End(part.length_mm))]
    runs = part.outline
    ends = [End(run.length_mm) for run in runs]
    starts = [End(0.0) for _ in runs]
    for index, run in enumerate(runs if part.closed else runs[:-1]):
        after = (index + 1) % len(runs)
        ends[index], starts[after] = _corner(part, run, runs[after])
    outline = [_stretch(part, run, index + 1, starts[index], ends[index]) for index, run in enumerate(runs)]
    first = len(outline) + 1
    inner = [_stretch(part, wall, first + index, *_inner(part, wall)) for index, wall in enumerate(part.inner_walls)]
    return outline + inner


def ways(part: WallPart, stretches: Sequence[Stretch]) -> list[Levels]:
    """Ways to make up the height of a wall in courses that all its runs share."""
    peak = max(up for stretch in stretches for _, up in stretch.line)
    level = any(has_level(stretch.line, part.height_mm) for stretch in stretches)
    return levels(part.height_mm, peak, part.block[1], part.joint_mm, part.give_mm, level=level)


def _corner(part: WallPart, run: Run, after: Run) -> tuple[End, End]:
    """End of a run and start of the one after it, where they meet.

    A run that goes through ends on the far face of the other, seen from outside the outside face at an outside corner
    and the inside face at an inside one; one that steps back ends a joint short of the near face.
    """
    thickness, joint, length = part.block[2], part.joint_mm, run.length_mm
    turn, side = math.radians(180 - run.angle_deg), -1 if run.corner == "inside" else 1
    if run.angle_deg > FLATTEST_DEG:
        gap = joint / 2 / math.cos(turn / 2)
        behind = -side * thickness * math.tan(turn / 2)
        return End(length - gap, behind_mm=behind), End(gap, behind_mm=behind)
    behind = round(side * thickness / math.tan(turn), 6)
    face, gap = thickness / math.sin(turn), joint / math.sin(turn)
    reach, back = face if side < 0 else 0.0, face + gap
    mine, theirs = _height(part, run, length, -back), _height(part, after, 0.0, back)
    return (
        _end(length + reach, back, gap, mine, theirs, through_odd=True, behind=behind),
        _end(-reach, back, gap, theirs, mine, through_odd=False, behind=behind),
    )


def _end(
    at: float, back: float, joint: float, mine: float, theirs: float, *, through_odd: bool, behind: float = 0.0
) -> End:
    """An end that steps back every second course as high as both runs go; above, the higher one goes through."""
    return End(
        at,
        back,
        joint,
        through_odd,
        behind,
        alone_above_mm=theirs if mine > theirs + _EPS_MM else math.inf,
        stops_at_mm=mine if theirs > mine + _EPS_MM else math.inf,
    )


def _height(part: WallPart, straight: Straight, at: float, reach: float) -> float:
    """How high a run goes between a place and another so far away."""
    length = straight.length_mm or 0.0
    line = line_of(part.height_mm, straight, length)
    return max(height_at(line, at), height_at(line, at + reach))


def _inner(part: WallPart, wall: InnerWall) -> tuple[End, End]:
    """Ends of an inner wall; its places count from the inside of the run it starts at."""
    return _tee(part, wall, wall.from_run, wall.at_mm, -1), _tee(part, wall, wall.to, wall.to_at_mm, 1)


def _tee(part: WallPart, wall: InnerWall, host: str | None, at: float | None, side: int) -> End:
    """The start (side -1) or end (side 1) of an inner wall."""
    run = next((run for run in part.outline if run.name == host), None)
    place = 0.0 if side < 0 else wall.length_mm
    if run is None or at is None:
        return End(place)
    thickness, back = part.block[2], part.block[2] + part.joint_mm
    mine, theirs = _height(part, wall, place, 0.0), _height(part, run, at, thickness)
    return _end(place + side * thickness, back, part.joint_mm, mine, theirs, through_odd=False)


def _stretch(part: WallPart, straight: Straight, face: int, start: End, end: End) -> Stretch:
    length = straight.length_mm or 0.0
    passages = sorted(
        (
            Passage(at, at + part.block[2], _tee(part, wall, host, at, side))
            for wall in part.inner_walls
            for host, at, side in ((wall.from_run, wall.at_mm, -1), (wall.to, wall.to_at_mm, 1))
            if host == straight.name and at is not None and straight in part.outline
        ),
        key=lambda passage: passage.near_mm,
    )
    line = line_of(part.height_mm, straight, length)
    return Stretch(face, straight.name, length, start, end, line, straight.openings, straight.piers, tuple(passages))
