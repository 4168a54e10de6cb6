"""What a picture of a run shows beside its blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blockrun.order.laid import Point
from blockrun.order.walls.found import Found
from blockrun.order.walls.heights import Levels
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.piers import PierLaid
from blockrun.order.walls.runs import Stretch
from blockrun.order.walls.tops import Line, cut_to, under


@dataclass(frozen=True)
class Face:
    """What a picture of one run shows beside its blocks, in mm along the run and up from the floor.

    Parameters
    ----------
    number : as `Laid.face`, from 1.
    name : of the run.
    left_mm, right_mm : where its body ends; past an inside corner that is behind the neighbour.
    seen_mm : from where to where it is seen, and its length is measured.
    line : the line it ends at.
    openings : name and corners of each hole, as laid.
    returns : ends of other runs and of headers that go through it, course and corners.
    lintels : corners of bought lintels.
    mortar : corners of wedges under slopes that are too thin for a block.
    written : sill and head of each opening as the file has them.
    short_overlaps : joints that lap the course below by less than the least, where they meet it.
    side : from where it is seen, in words.
    behind : name, near and far side of each inner wall and pier at its back.
    """

    number: int
    name: str
    left_mm: float
    right_mm: float
    seen_mm: tuple[float, float]
    line: Line
    openings: tuple[tuple[str, tuple[Point, ...]], ...] = ()
    returns: tuple[tuple[int, tuple[Point, ...]], ...] = ()
    lintels: tuple[tuple[Point, ...], ...] = ()
    mortar: tuple[tuple[Point, ...], ...] = ()
    written: tuple[tuple[float, float], ...] = ()
    short_overlaps: tuple[Point, ...] = ()
    side: str = "with its start at the left"
    behind: tuple[tuple[str, float, float], ...] = ()

    @property
    def ends_mm(self) -> tuple[float, float]:
        """From where to where a picture goes: all of its body, and all that its length is measured over."""
        return min(self.left_mm, self.seen_mm[0]), max(self.right_mm, self.seen_mm[1])


def pier_face(pier: PierLaid) -> Face:
    """The picture of a pier."""
    wide, short = pier.wide_mm, tuple(pier.short_overlaps)
    line = ((0.0, pier.top_mm),)
    return Face(pier.number, pier.name, 0.0, wide, (0.0, wide), line, short_overlaps=short, side="from inside")


def face_of(
    part: WallPart,
    way: Levels,
    found: Found,
    bought: Sequence[tuple[Point, ...]],
    mortar: Sequence[tuple[Point, ...]],
) -> Face:
    """The picture of a run that was laid, with the corners of bought lintels and of wedges of mortar."""
    stretch, left, right = found.stretch, found.stretch.start.at_mm, found.stretch.end.at_mm
    return Face(
        number=stretch.face,
        name=stretch.name,
        left_mm=left,
        right_mm=right,
        seen_mm=(0.0, stretch.length_mm),
        line=stretch.line,
        openings=tuple(
            (one.name, cut_to(stretch.line, one.left_mm, one.right_mm, one.bottom_mm, one.top_mm))
            for one in found.holes
        ),
        returns=tuple(_returns(stretch, way)),
        lintels=tuple(bought),
        mortar=tuple(mortar),
        written=tuple((opening.sill_mm, opening.head_mm) for opening in stretch.openings),
        short_overlaps=tuple(
            (along + found.gauge.joint_mm / 2, way.courses[course - 1].bottom_mm)
            for course, along, _ in found.short_overlaps
        ),
        side=_side(part, stretch),
        behind=tuple(sorted(_behind(part, stretch), key=lambda one: one[1])),
    )


def _side(part: WallPart, stretch: Stretch) -> str:
    """From where a run is seen with its start at the left."""
    if not part.outline:
        return "with its start at the left"
    inner = stretch.face - len(part.outline)
    return f"from the right as you walk from {part.inner_walls[inner - 1].from_run}" if inner > 0 else "from outside"


def _behind(part: WallPart, stretch: Stretch) -> Iterator[tuple[str, float, float]]:
    """The inner walls and the piers that stand at the back of a run."""
    for inner in part.inner_walls:
        for host, at in ((inner.from_run, inner.at_mm), (inner.to, inner.to_at_mm)):
            if host == stretch.name and at is not None:
                yield inner.name, at, at + part.block[2]
    for index, pier in enumerate(stretch.piers, 1):
        yield f"pier {index}", pier.at_mm, pier.at_mm + pier.width_mm


def _returns(stretch: Stretch, way: Levels) -> Iterator[tuple[int, tuple[Point, ...]]]:
    """Ends of the runs and headers that go through this one, course by course."""
    for course in way.courses:
        sides: list[tuple[float, float]] = []
        if stretch.start.back_in(course):
            sides.append((stretch.start.at_mm, stretch.start.at_mm + stretch.start.other_mm))
        if stretch.end.back_in(course):
            sides.append((stretch.end.at_mm - stretch.end.other_mm, stretch.end.at_mm))
        sides += [(passage.near_mm, passage.far_mm) for passage in stretch.passages_in(course)]
        for near, far in sides:
            for left, right in under(stretch.line, near, far, course.bottom_mm):
                yield course.number, cut_to(stretch.line, left, right, course.bottom_mm, course.top_mm)
