"""A whole wall into blocks: every course of every run, and what is to be said of it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from blockrun.order.laid import Laid, Point, Role
from blockrun.order.walls.alike import Spot, alike
from blockrun.order.walls.bond import EPS_MM, Gauge
from blockrun.order.walls.course import Laying, Piece, Placed, gauge_of, gauges_of, lay_course, wedges
from blockrun.order.walls.cut import is_lower, laid_block, role_of, solid_l
from blockrun.order.walls.face import Face, face_of, pier_face
from blockrun.order.walls.found import Found, Nearer
from blockrun.order.walls.headers import bond_piers
from blockrun.order.walls.heights import Levels
from blockrun.order.walls.jambs import FEWER, places_near
from blockrun.order.walls.notes import notes_of
from blockrun.order.walls.opening_notes import bearings_mm
from blockrun.order.walls.openings import Hole, Lintel, hole, lintels
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.piers import lay_piers
from blockrun.order.walls.refuse import check_blocks
from blockrun.order.walls.runs import Stretch, resolve, ways
from blockrun.order.walls.tops import cut_to


@dataclass(frozen=True)
class WallLayout:
    """A wall in blocks.

    Parameters
    ----------
    blocks : every block in its place, run by run, from the bottom up and from left to right.
    courses : how many.
    notes : sentences on what was decided and what to look after.
    faces : one a run, then one a pier.
    volume_l : of the blocks as laid, troughs and slopes of sills not taken off.
    """

    blocks: tuple[Laid, ...]
    courses: int
    notes: tuple[str, ...]
    faces: tuple[Face, ...]
    volume_l: float


@dataclass(frozen=True)
class _Rows:
    """A run whose blocks have their spots: what was found in that, and its wedges of mortar."""

    spots: list[Spot]
    mortar: list[tuple[Point, ...]]
    found: Found

    def n_parts(self, whole_mm: float) -> int:
        """Blocks shorter than a whole one."""
        return sum(spot.cast_mm < whole_mm - EPS_MM for spot in self.spots)


@dataclass(frozen=True)
class _Run:
    """A run laid: its blocks, their volume in litres, its picture, and what was found in laying it."""

    blocks: list[Laid]
    volume_l: float
    face: Face
    found: Found


def lay_wall(part: WallPart) -> WallLayout:
    """Every block of a wall.

    Where whole courses do not make up the height, both a levelling course and a cut top course are laid, and the one
    with fewer sawn blocks in its runs is taken; if they are as many, the one with fewer short blocks, then the one
    whose beds suit the openings better.

    Raises
    ------
    BadInput : nothing of it takes a block, or one would be a sliver.
    """
    stretches = resolve(part)
    choices = ways(part, stretches)
    laid = [_lay_runs(part, stretches, way) for way in choices]
    in_runs = [sum(is_lower(block.cut) for block in _blocks(runs)) for runs in laid]
    best = min(range(len(choices)), key=lambda way: (in_runs[way], *_extras(part, laid[way]), -way))
    stand = [lay_piers(part, [run.found for run in runs], way) for way, runs in zip(choices, laid, strict=True)]
    all_blocks = [
        (*_blocks(runs), *(block for pier in piers for block in pier.blocks))
        for runs, piers in zip(laid, stand, strict=True)
    ]
    n_sawn = [sum(is_lower(block.cut) for block in blocks) for blocks in all_blocks]
    way, runs, piers, blocks = choices[best], laid[best], stand[best], all_blocks[best]
    check_blocks(part, blocks)
    _look_beside(part, stretches, way, runs)
    faces = (*(run.face for run in runs), *(pier_face(pier) for pier in piers))
    volume_l = sum(run.volume_l for run in runs) + sum(pier.volume_l for pier in piers)
    notes = notes_of(part, way, n_sawn, [run.found for run in runs], blocks)
    return WallLayout(blocks, max(block.course for block in blocks), notes, faces, volume_l)


def _blocks(runs: Sequence[_Run]) -> list[Laid]:
    return [block for run in runs for block in run.blocks]


def _extras(part: WallPart, runs: Sequence[_Run]) -> tuple[int, int]:
    """Short blocks, and by how many mm holes are larger than asked for."""
    n_short = sum(block.shape.length_mm < part.block[0] - EPS_MM for block in _blocks(runs))
    return n_short, round(sum(map(_misfit_mm, runs)))


def _look_beside(part: WallPart, stretches: Sequence[Stretch], way: Levels, runs: Sequence[_Run]) -> None:
    """Find openings of a straight wall that a little to the side leave fewer blocks shorter than whole.

    One after the other is moved, first the one that gains most, as long as it gains enough beside those before it.
    """
    if part.outline:  # of runs with corners each try lays all anew, and their bond has no one start
        return
    (stretch,), (run,) = stretches, runs
    there, tried, moved = stretch, run, dict[str, float]()
    while gains := list(_gains(part, way, there, tried, moved)):
        _, name, place, there, tried = max(gains, key=lambda gain: gain[0])
        moved[name] = place
    if moved:
        places = [(opening, moved[opening.name]) for opening in stretch.openings if opening.name in moved]
        run.found.nearer = Nearer(places, _extras(part, [run])[0] - _extras(part, [tried])[0])


def _gains(
    part: WallPart, way: Levels, stretch: Stretch, run: _Run, moved: Mapping[str, float]
) -> Iterator[tuple[int, str, float, Stretch, _Run]]:
    """Of each opening not moved yet the nearest place that gains enough blocks: how many, and all of it laid so."""
    for opening in stretch.openings:
        for place in places_near(part, stretch, opening) if opening.name not in moved else ():
            elsewhere = opening.model_copy(update={"from_mm": place})
            openings = tuple(elsewhere if one is opening else one for one in stretch.openings)
            there = replace(stretch, openings=openings)
            (tried,) = _lay_runs(part, [there], way)
            fewer = _extras(part, [run])[0] - _extras(part, [tried])[0]
            if fewer >= FEWER and _is_as_sound(part, way, tried.found, run.found):
                yield fewer, opening.name, place, there, tried
                break


def _is_as_sound(part: WallPart, way: Levels, tried: Found, found: Found) -> bool:
    """No more overlaps or blocks are short than in a run as it is, and no lintel bears on less that is too little."""
    if len(tried.short_overlaps) > len(found.short_overlaps) or tried.n_short > found.n_short:
        return False
    least = part.least_bearing_mm
    bearings = zip(bearings_mm(tried, way), bearings_mm(found, way), strict=True)
    return all(there >= min(here, least) - EPS_MM for there, here in bearings)


def _misfit_mm(run: _Run) -> float:
    """How much higher and deeper the holes are than the openings asked for."""
    pairs = zip(run.found.stretch.openings, run.found.holes, strict=True)
    return sum(hole.top_mm - opening.head_mm + opening.sill_mm - hole.bottom_mm for opening, hole in pairs)


def _lay_runs(part: WallPart, stretches: Sequence[Stretch], way: Levels) -> list[_Run]:
    """Every run, its blocks of as few lengths as joints allow."""
    runs = [_lay_run(part, stretch, way) for stretch in stretches]
    known = (part.block[0], part.least_mm, *gauge_of(part, part.joint_mm).parts_mm)
    cast_mm = alike([spot for run in runs for spot in run.spots], known, part.step_mm)
    return [_cast(part, way, run, cast_mm) for run in runs]


def _lay_run(part: WallPart, stretch: Stretch, way: Levels) -> _Rows:
    """A run with its joint as written, unless another leaves fewer blocks to cut and no more of them too short."""
    whole = part.block[0]
    tried = [_lay_with(part, stretch, way, gauge) for gauge in gauges_of(part, stretch)]
    sound = [one for one in tried if one.found.n_short <= tried[0].found.n_short]
    best = min(sound, key=lambda one: one.n_parts(whole))
    best.found.n_parts = best.n_parts(whole), tried[0].n_parts(whole)
    return best


def _lay_with(part: WallPart, stretch: Stretch, way: Levels, gauge: Gauge) -> _Rows:
    holes = [hole(part, opening, way.courses, stretch.line) for opening in stretch.openings]
    spans = lintels(
        holes, part.least_bearing_mm, part.least_mm + 2 * part.joint_mm, (stretch.start.at_mm, stretch.end.at_mm)
    )
    solid = [_clear(part, lintel, holes, way, stretch) for lintel in spans] if part.lintel != "trough" else []
    low = min(up for _, up in stretch.line)
    beams = {number or top_course(part, way) for number in part.ring_beams}
    run, piers = bond_piers(Laying(part, stretch, holes, gauge), way, solid or spans, beams)
    found = Found(run.stretch, gauge, holes, solid or spans, of_several=bool(part.outline), piers=piers)
    rows = _Rows([], [], found)
    placed = Placed((), ())
    for course, above in itertools.zip_longest(way.courses, way.courses[1:]):
        here = [lintel for lintel in solid if lintel.course == course.number]
        below = placed.joints_mm
        placed = lay_course(run, course, here, below, above)
        for piece, ends, moves in _in_rows(placed):
            role = Role.LINTEL if piece.lintel else role_of(part, course, ends, holes, [] if solid else spans, beams)
            rows.spots.append(Spot(course, piece, ends, role, moves, _room_mm(part, gauge)))
        if course.top_mm > low + EPS_MM:
            rows.mortar.extend(_outline(run.stretch, wedge) for wedge in wedges(run, course, here))
        found.count(course.number, placed, below)
    found.n_wedges = len(rows.mortar)
    return rows


def _in_rows(placed: Placed) -> Iterator[tuple[Piece, tuple[float, float], tuple[bool, bool]]]:
    """Every block of a course with its piece, its ends, and whether another block of its row is beside each."""
    for piece, row in placed.rows:
        for index, ends in enumerate(row.blocks):
            yield piece, ends, (index > 0, index < len(row.blocks) - 1)


def _room_mm(part: WallPart, gauge: Gauge) -> float:
    """By how much each block may grow or shrink: half of what is left of a joint's give, as two share the joint."""
    return (part.give_mm - abs(gauge.joint_mm - part.joint_mm)) / 2


def _cast(part: WallPart, way: Levels, rows: _Rows, cast_mm: Mapping[float, float]) -> _Run:
    """The blocks of a run in their spots, cast in the lengths that were chosen."""
    stretch, low = rows.found.stretch, min(up for _, up in rows.found.stretch.line)
    blocks: list[Laid] = []
    bought: list[tuple[Point, ...]] = []
    volume_l = 0.0
    for spot in rows.spots:
        length = cast_mm[spot.cast_mm]
        there = spot.as_long_as(length)
        block = laid_block(part, stretch, there, length, low)
        if spot.piece.lintel and part.lintel == "bought":
            bought.append(block.corners)
        else:
            blocks.append(block)
            volume_l += solid_l(block.corners, part.block[2], there.piece.skews_of(there.ends))
    return _Run(blocks, volume_l, face_of(part, way, rows.found, bought, rows.mortar), rows.found)


def _outline(stretch: Stretch, piece: Piece) -> tuple[Point, ...]:
    return cut_to(stretch.line, piece.left_mm, piece.right_mm, piece.bottom_mm, piece.top_mm)


def top_course(part: WallPart, way: Levels) -> int:
    """The last course that ends at or under the height of the wall."""
    return max((course.number for course in way.courses if course.top_mm <= part.height_mm + EPS_MM), default=1)


def _clear(part: WallPart, lintel: Lintel, holes: Sequence[Hole], way: Levels, stretch: Stretch) -> Lintel:
    """A lintel of one piece: short of other holes, and on to them or the end of the run where only a sliver is left."""
    course = way.courses[lintel.course - 1]
    carried = [one for one in holes if one.over == lintel.course and lintel.left_mm < one.right_mm <= lintel.right_mm]
    first, last = min(one.left_mm for one in carried), max(one.right_mm for one in carried)
    open_here = [one for one in holes if one.bottom_mm < course.top_mm and one.top_mm > course.bottom_mm]
    start, end = stretch.span(course)
    start = max([start, *(one.right_mm for one in open_here if one.right_mm <= first + EPS_MM)])
    end = min([end, *(one.left_mm for one in open_here if one.left_mm >= last - EPS_MM)])
    sliver = part.least_mm + part.joint_mm
    left = start if lintel.left_mm - start < sliver else lintel.left_mm
    right = end if end - lintel.right_mm < sliver else lintel.right_mm
    return Lintel(lintel.course, left, right)
