"""One course of one run: what is in its way, the stretches between, and the bond that suits them best."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blockrun.order.walls.bond import EPS_MM, Gauge, Row, lay_row
from blockrun.order.walls.heights import THIN_SHARE, Course
from blockrun.order.walls.openings import Hole, Lintel
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.runs import End, Stretch
from blockrun.order.walls.tops import Line, height_at, under

_SHIFTED: Final = 0.5
"""What a course costs that leaves the bond's own shift for one that suits a corner better."""
_STEPS: Final = 16
"""In how many joints, a thickness wide, a skew one is taken at the most."""
_SHARES: Final = {"half": 2, "third": 3, "stack": 1}


@dataclass(frozen=True)
class Piece:
    """A rectangle of a course to be filled with blocks, or with one lintel.

    `slopes_mm` is how much a slope takes off the first and the last block, half-way up; `skews_mm` how much longer it
    is behind than in front at each end.
    """

    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float
    lintel: bool = False
    slopes_mm: tuple[float, float] = (0.0, 0.0)
    skews_mm: tuple[float, float] = (0.0, 0.0)

    def skews_of(self, ends: tuple[float, float]) -> tuple[float, float]:
        """How much longer a block of it is behind than in front, at each end."""
        first, last = abs(ends[0] - self.left_mm) <= EPS_MM, abs(ends[1] - self.right_mm) <= EPS_MM
        return self.skews_mm[0] * first, self.skews_mm[1] * last

    def shorter_mm(self, ends: tuple[float, float]) -> float:
        """Length of a block of it on its shorter face."""
        return ends[1] - ends[0] + min(0.0, sum(self.skews_of(ends)))


@dataclass(frozen=True)
class Laying:
    """A run as it is laid: the wall it is of, the holes in it, and the measures of its bond."""

    part: WallPart
    stretch: Stretch
    holes: Sequence[Hole]
    gauge: Gauge


Rows = tuple[tuple[Piece, Row], ...]
"""The pieces of a course, each with its row of blocks."""


Joint = tuple[float, ...]


@dataclass(frozen=True)
class Placed:
    """A course of a run: its pieces with their rows, and its joints.

    A joint is where it starts; a skew one the places from where it starts on one face to where it does on the other.
    """

    rows: Rows
    joints: tuple[Joint, ...]

    @property
    def joints_mm(self) -> tuple[float, ...]:
        """Where joints start, in ascending order."""
        return tuple(sorted(place for joint in self.joints for place in joint))


def gauges_of(part: WallPart, stretch: Stretch) -> list[Gauge]:
    """The measures of the bond with the joint as written, then with the one near it that whole blocks would take."""
    block, joint, shares = part.block[0], part.joint_mm, _SHARES[part.bond]
    left, right = stretch.span(Course(1, 0.0, 0.0))
    length = right - left + max(0.0, stretch.start.behind_mm) + max(0.0, stretch.end.behind_mm)
    n_modules = round((length + joint) / (block + joint) * shares) / shares
    joints = [joint]
    if n_modules > 1:
        fitted = (length - n_modules * block) / (n_modules - 1)
        joints += [fitted] * (EPS_MM < abs(fitted - joint) <= part.give_mm + 1e-6 and fitted >= 0)
    return [gauge_of(part, one) for one in joints]


def gauge_of(part: WallPart, joint: float) -> Gauge:
    """The measures of the bond with a joint."""
    block, shares = part.block[0], _SHARES[part.bond]
    parts = tuple(share * (block + joint) / shares - joint for share in range(1, shares))
    return Gauge(block, joint, part.overlap_mm, part.least_mm, parts)


def lay_course(
    run: Laying, course: Course, lintels: Sequence[Lintel], below_mm: tuple[float, ...], above: Course | None = None
) -> Placed:
    """Lay a course of a run; of a run with corners the first one so that the second is laid well too.

    Parameters
    ----------
    lintels : of one piece that lie in this course.
    below_mm : where joints start in the course below.
    above : the course above, so that joints keep off those that other runs will need there.
    """
    pieces = _pieces(run, course, lintels)
    choices = _choices(run, course, pieces, below_mm, above)
    if above and course.number == 1 and not run.stretch.is_square:
        pieces = _pieces(run, above, ())
        joints = [Placed(rows, _joints(run, course, rows)).joints_mm for rows, _ in choices]
        after = [_choices(run, above, pieces, below, course) for below in joints]
        choices = [
            (rows, cost + min(cost for _, cost in then)) for (rows, cost), then in zip(choices, after, strict=True)
        ]
    rows = min(choices, key=lambda choice: choice[1])[0]
    return Placed(rows, _joints(run, course, rows))


def _choices(
    run: Laying, course: Course, pieces: Sequence[Piece], below_mm: tuple[float, ...], above: Course | None
) -> list[tuple[Rows, float]]:
    """The course on each grid that may be tried, and what it costs."""
    near = list(below_mm)
    if above:
        near += [place for joint in _beside(run, above, _pieces(run, above, ())) for place in joint]
        near += _at_strips(run.holes, above, run.part.joint_mm)
    return [_rows(pieces, grid, tuple(sorted(near)), run.gauge, extra) for grid, extra in _grids(run, course)]


def _rows(
    pieces: Sequence[Piece], grid: float, below: tuple[float, ...], gauge: Gauge, extra: float
) -> tuple[Rows, float]:
    rows = tuple(
        (piece, Row(((piece.left_mm, piece.right_mm),), 0.0))
        if piece.lintel
        else (piece, lay_row(piece.left_mm, piece.right_mm, grid, below, gauge, piece.slopes_mm, piece.skews_mm))
        for piece in pieces
    )
    return rows, extra + sum(row.cost for _, row in rows)


def _grids(run: Laying, course: Course) -> Iterator[tuple[float, float]]:
    """Grids to try, each with what it costs to take it: the bond's own, and at corners whole blocks from either end."""
    stretch, gauge = run.stretch, run.gauge
    shift = 0.0 if course.number % 2 else gauge.module_mm / _SHARES[run.part.bond] % gauge.module_mm
    before, after = max(0.0, stretch.start.behind_mm), max(0.0, stretch.end.behind_mm)
    left, right = stretch.span(course)
    left, right = left - before, right + after
    yield stretch.start.at_mm - before + shift - gauge.joint_mm, 0.0
    if not stretch.is_square:
        yield left - gauge.joint_mm, _SHIFTED
        yield right, _SHIFTED
        for piece in gauge.parts_mm:
            yield left + piece, _SHIFTED
            yield right - piece - gauge.joint_mm, _SHIFTED


def _pieces(run: Laying, course: Course, lintels: Sequence[Lintel]) -> list[Piece]:
    """The pieces of a course from left to right: between what is in the way, under the line the run ends at."""
    under_line = _under(run.part, run.stretch, _raw(run, course, lintels))
    skewed = (replace(one, skews_mm=run.stretch.skews(course, one.left_mm, one.right_mm)) for one in under_line)
    return sorted(skewed, key=lambda piece: piece.left_mm)


def _raw(run: Laying, course: Course, lintels: Sequence[Lintel]) -> list[Piece]:
    """The pieces of a course as if the run had no top."""
    stretch, holes, joint = run.stretch, run.holes, run.part.joint_mm
    gaps: list[tuple[float, float]] = []
    pieces: list[Piece] = []
    gaps += [(passage.near_mm - joint, passage.far_mm + joint) for passage in stretch.passages_in(course)]
    gaps += [(hole.left_mm, hole.right_mm) for hole in _open_in(course, holes)]
    pieces += _strips(holes, course, joint)
    left, right = stretch.span(course)
    for lintel in lintels:
        near, far = max(left, lintel.left_mm), min(right, lintel.right_mm)
        gaps.append((near - joint, far + joint))
        pieces.append(Piece(near, far, course.bottom_mm, course.top_mm, lintel=True))
    pieces += [Piece(*ends, course.bottom_mm, course.top_mm) for ends in _between(left, right, gaps)]
    return pieces


def _under(part: WallPart, stretch: Stretch, pieces: Sequence[Piece]) -> Iterator[Piece]:
    """What of the pieces is under the line the run ends at, wedges too thin or too short for a block left out."""
    for piece in pieces:
        for left, right in _for_blocks(part, stretch.line, piece):
            slopes = (_taken(stretch.line, piece, left, 1), _taken(stretch.line, piece, right, -1))
            yield replace(piece, left_mm=left, right_mm=right, slopes_mm=slopes)


def _for_blocks(part: WallPart, line: Line, piece: Piece) -> Iterator[tuple[float, float]]:
    """Stretches of a piece that are high enough under the line for a block, and if that shortens them long enough."""
    for left, right in under(line, piece.left_mm, piece.right_mm, piece.bottom_mm + THIN_SHARE * part.block[1]):
        if right - left >= min(part.least_mm, piece.right_mm - piece.left_mm) - EPS_MM:
            yield left, right


def wedges(run: Laying, course: Course, lintels: Sequence[Lintel]) -> Iterator[Piece]:
    """What is too thin or too short under the line for a block, and made up in mortar."""
    line = run.stretch.line
    for piece in _raw(run, course, lintels):
        taken = [*_for_blocks(run.part, line, piece)]
        for left, right in under(line, piece.left_mm, piece.right_mm, piece.bottom_mm):
            start = left
            within = [(near, far) for near, far in taken if left - EPS_MM <= near and far <= right + EPS_MM]
            for near, far in (*within, (right, right)):
                if near > start + EPS_MM:
                    yield replace(piece, left_mm=start, right_mm=near)
                start = far


def _taken(line: Line, piece: Piece, end: float, side: int) -> float:
    """How much the line takes off a block that ends under a slope, half-way up it."""
    tall, reach = piece.top_mm - piece.bottom_mm, 10.0
    rise = height_at(line, end + side * reach) - piece.bottom_mm
    rise -= height_at(line, end) - piece.bottom_mm
    if height_at(line, end) >= piece.top_mm - EPS_MM or rise <= EPS_MM:
        return 0.0
    return round(min(tall / 2 * reach / rise, tall), 3)


def _open_in(course: Course, holes: Sequence[Hole]) -> list[Hole]:
    """The holes that take something out of a course."""
    return [one for one in holes if one.bottom_mm < course.top_mm - EPS_MM and one.top_mm > course.bottom_mm + EPS_MM]


def _strips(holes: Sequence[Hole], course: Course, joint: float) -> Iterator[Piece]:
    """Strips under and over holes that end within a course; those of holes side by side share the joint there."""
    here = _open_in(course, holes)
    for hole in here:
        before = any(abs(hole.left_mm - other.right_mm) < EPS_MM for other in here)
        after = any(abs(hole.right_mm - other.left_mm) < EPS_MM for other in here)
        left, right = hole.left_mm + joint / (1 + before), hole.right_mm - joint / (1 + after)
        if hole.bottom_mm > course.bottom_mm + EPS_MM:
            yield Piece(left, right, course.bottom_mm, hole.bottom_mm)
        if hole.top_mm < course.top_mm - EPS_MM:
            yield Piece(left, right, hole.top_mm, course.top_mm)


def _between(left: float, right: float, gaps: list[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """What of a course the gaps leave."""
    for near, far in sorted(gaps):
        if near > left + EPS_MM:
            yield left, min(near, right)
        left = max(left, far)
    if right > left + EPS_MM:
        yield left, right


def _joints(run: Laying, course: Course, rows: Rows) -> tuple[Joint, ...]:
    """The head joints of a course, those beside other runs that go through it included."""
    joints = [end for _, row in rows for _, end in row.blocks[:-1]]
    pairs = itertools.pairwise(rows)
    wide = run.part.joint_mm
    joints += [one.right_mm for (one, _), (two, _) in pairs if abs(two.left_mm - one.right_mm - wide) < EPS_MM]
    return (*((joint,) for joint in joints), *_beside(run, course, [piece for piece, _ in rows]))


def _beside(run: Laying, course: Course, pieces: Sequence[Piece]) -> Iterator[Joint]:
    """The joints of a course beside the other runs that go through it, where its own blocks reach them."""
    part, stretch = run.part, run.stretch
    left, right = stretch.span(course)
    start, end = stretch.start, stretch.end
    if start.back_in(course) and _begins(pieces, left):
        yield _across(part, left - start.joint_mm, -start.behind_mm, start)
    if end.back_in(course) and _ends(pieces, right):
        yield _across(part, right, end.behind_mm, end)
    for passage in stretch.passages_in(course):
        if _ends(pieces, passage.near_mm - part.joint_mm):
            yield (passage.near_mm - part.joint_mm,)
        if _begins(pieces, passage.far_mm + part.joint_mm):
            yield (passage.far_mm,)


def _begins(pieces: Sequence[Piece], place: float) -> bool:
    return any(abs(piece.left_mm - place) < EPS_MM for piece in pieces)


def _ends(pieces: Sequence[Piece], place: float) -> bool:
    return any(abs(piece.right_mm - place) < EPS_MM for piece in pieces)


def _across(part: WallPart, near: float, lean: float, end: End) -> Joint:
    """A joint as if it were several, for it starts elsewhere on each face: none may be laid over any of it."""
    low, high = min(near, near + lean), max(near, near + lean) + end.joint_mm - part.joint_mm
    steps = math.ceil((high - low) / max(2 * part.joint_mm, part.block[2] / _STEPS) - EPS_MM)
    return tuple(low + (high - low) * step / steps for step in range(steps + 1)) if steps else (low,)


def _at_strips(holes: Sequence[Hole], course: Course, joint: float) -> Iterator[float]:
    """Where joints start at the ends of strips under and over holes."""
    for strip in _strips(holes, course, joint):
        yield from (strip.left_mm - joint, strip.right_mm)
