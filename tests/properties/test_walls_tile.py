"""Blocks, joints and openings of any wall tile each of its faces."""

from __future__ import annotations

import itertools
import math
import re
from collections import defaultdict
from collections.abc import Iterator

import pytest
from hypothesis import example, given, reject, settings
from hypothesis import strategies as st
from shapely import Polygon, STRtree, union_all

from blockrun.errors import BadInput
from blockrun.order.laid import Laid
from blockrun.order.walls import Face, InnerWall, Opening, Pier, Run, Top, WallLayout, WallPart, lay_wall
from blockrun.order.walls.from_above import bodies_of, corners_of

BLOCKS = [(600, 300, 200), (400, 200, 200), (390, 190, 190), (396.875, 193.675, 193.675), (500, 250, 150)]
BLOCK_AND_JOINT = st.tuples(st.sampled_from(BLOCKS), st.sampled_from([3.0, 9.525, 10.0, 12.0]))
ROUNDED_MM = 0.5
"""What a saw angle told to a tenth of a degree, or to four digits, comes to over the thickness of a block."""
EXACT_MM = 1e-3
"""Tolerance of all places and joints here: a micrometre."""


@st.composite
def openings_of(draw, length: float, height: float) -> tuple[Opening, ...]:
    """Openings that may stand close together, beside and above one another, in slots along the wall."""
    n_slots = draw(st.integers(0, max(0, min(5, int(length // 800)))))
    slot = length / n_slots if n_slots else 0
    found = []
    for index in range(n_slots):
        width = draw(st.integers(200, int(slot * 0.95)))
        start = round(index * slot + draw(st.integers(0, 40)) / 40 * (slot - width), 3)
        sill = draw(st.sampled_from([0.0, 300.0, 620.0, 900.0, 1000.0]))
        high = draw(st.integers(300, max(301, int(height - sill))))
        if sill + high <= height:
            found.append(Opening(name=f"o{index}", from_mm=start, sill_mm=sill, width_mm=width, height_mm=high))
    return tuple(found)


@st.composite
def straight_walls(draw) -> WallPart:
    block, joint = draw(BLOCK_AND_JOINT)
    length, height = float(draw(st.integers(1200, 12_000))), float(draw(st.integers(600, 4000)))
    shape: dict[str, object] = draw(
        st.one_of(
            st.just({}),
            st.integers(300, 3000).map(lambda rise: {"gable_mm": float(rise)}),
            st.tuples(st.integers(2000, 5000), st.integers(500, 5000)).map(
                lambda ends: {
                    "tops": tuple(Top(at_mm=at, height_mm=up) for at, up in zip((0, length), ends, strict=True))
                }
            ),
        )
    )
    low = min([height, *(top.height_mm for top in shape.get("tops", ()))])
    return WallPart(
        name="any",
        length_mm=length,
        height_mm=height,
        block=block,
        joint_mm=joint,
        bond=draw(st.sampled_from(["half", "third", "stack"])),
        lintel=draw(st.sampled_from(["trough", "cast", "bought"])),
        openings=draw(openings_of(length, low)),
        ring_beams=draw(st.sampled_from([(), (0,)])),
        **shape,
    )


@st.composite
def buildings(draw) -> WallPart:
    """An L of six runs with one inside corner, an inner wall, and openings clear of both."""
    block, joint = draw(BLOCK_AND_JOINT)
    wide, deep, nook_x, nook_y = (float(draw(st.integers(low, low + 4000))) for low in (8000, 8000, 2000, 2000))
    height = float(draw(st.integers(2000, 3000)))
    lengths = (wide, deep - nook_y, nook_x, nook_y, wide - nook_x, deep)
    corners = ("outside", "outside", "inside", "outside", "outside", "outside")
    gables = {1: 1000.0} if draw(st.booleans()) else {}
    at = draw(st.integers(1500, 3500))
    runs = []
    for index, (length, corner) in enumerate(zip(lengths, corners, strict=True)):
        clear = 2 * (block[2] + joint) + block[0] / 4
        room = draw(openings_of(length - 2 * clear, height)) if index not in (0, 1) else ()
        openings = tuple(one.model_copy(update={"from_mm": one.from_mm + clear}) for one in room)
        runs.append(
            Run(name=f"r{index}", length_mm=length, corner=corner, openings=openings, gable_mm=gables.get(index))
        )
    inner = InnerWall(name="inner", from_run="r0", at_mm=at, length_mm=draw(st.integers(1000, 2500)))
    return WallPart(
        name="any",
        outline=tuple(runs),
        inner_walls=(inner,),
        height_mm=height,
        block=block,
        joint_mm=joint,
        bond="half",
    )


@st.composite
def angled_walls(draw) -> WallPart:
    """Three runs that meet at any angle, turning either way, of different heights; the ends do not come near."""
    block, joint = draw(BLOCK_AND_JOINT)
    angles = draw(st.tuples(*[st.one_of(st.sampled_from([60.0, 90.0, 120.0, 135.0]), st.integers(60, 175))] * 2))
    corners = draw(st.tuples(*[st.sampled_from(["outside", "inside"])] * 2))
    lengths = draw(st.tuples(st.integers(1500, 3000), st.integers(6500, 8000), st.integers(1500, 3000)))
    height = float(draw(st.integers(600, 1800)))
    lower = draw(st.sampled_from([None, height - 250]))
    runs = []
    for index, (length, angle) in enumerate(zip(lengths, (*angles, 90.0), strict=True)):
        clear = 3 * (block[2] + joint) + block[0] / 4
        room = draw(openings_of(length - 2 * clear, height)) if index == 1 else ()
        openings = tuple(one.model_copy(update={"from_mm": one.from_mm + clear}) for one in room)
        tops = tuple(Top(at_mm=at, height_mm=lower) for at in (0, length)) if lower and index == 2 else ()
        corner = (*corners, "outside")[index]
        runs.append(
            Run(name=f"r{index}", length_mm=length, angle_deg=angle, corner=corner, openings=openings, tops=tops)
        )
    return WallPart(
        name="any",
        outline=tuple(runs),
        closed=False,
        height_mm=height,
        block=block,
        joint_mm=joint,
        bond=draw(st.sampled_from(["half", "third"])),
        lintel=draw(st.sampled_from(["trough", "cast"])),
    )


def from_above(wall: WallPart, layout: WallLayout) -> Iterator[tuple[int, list[Polygon]]]:
    """Each course as a builder would set it out: boxes at their places, sawn as their cut says."""
    places = list(zip(corners_of(wall), directions_of(wall), strict=False))
    for course in range(1, layout.courses + 1):
        yield course, [_set_out(one, *places[one.face - 1]) for one in layout.blocks if one.course == course]


def directions_of(wall: WallPart) -> list[complex]:
    return [body.along for body in bodies_of(wall).values()]


def _set_out(block: Laid, start: complex, along: complex) -> Polygon:
    ends = [place for place, _ in block.corners]
    left, right, thick = min(ends), max(ends), block.shape.thickness_mm
    behind = {"left": 0.0, "right": 0.0}
    for side, angle, face in re.findall(
        r"(left|right) end sawn at ([\d.]+) deg, [\d.]+ (?:mm|in) shorter (\w+)", block.cut
    ):
        behind[side] = thick * math.tan(math.radians(float(angle))) * (1 if face == "outside" else -1)
    longer = right - left + sum(max(0.0, skew) for skew in behind.values())
    assert block.shape.length_mm == pytest.approx(longer, abs=ROUNDED_MM)
    outline = (left, right, right + behind["right"] + thick * 1j, left - behind["left"] + thick * 1j)
    return Polygon([((start + along * place).real, (start + along * place).imag) for place in outline])


def region_from_above(wall: WallPart) -> Polygon:
    """The body of all runs: their outside faces, and back along their inside faces."""
    corners, along = corners_of(wall), directions_of(wall)
    thick = wall.block[2]
    behind = [corners[0] + along[0] * thick * 1j]
    for corner, one, two in zip(corners[1:-1], along, along[1:], strict=False):
        middle = (one + two) * 1j
        behind.append(corner + middle / abs(middle) * thick / (abs(one + two) / 2))
    behind.append(corners[-1] + along[-1] * thick * 1j)
    return Polygon([(place.real, place.imag) for place in (*corners, *reversed(behind))])


def check_from_above(wall: WallPart, layout: WallLayout) -> None:
    """Where nothing is cut by an opening or a slope, blocks fill a course, joints apart; nowhere do they overlap."""
    body = region_from_above(wall)
    assert body.is_valid
    whole = not any(run.openings or run.tops for run in wall.outline)
    for _, solids in from_above(wall, layout):
        tree = STRtree(solids)
        for index, solid in enumerate(solids):
            near = [solids[other] for other in tree.query(solid.buffer(wall.joint_mm)) if other != index]
            assert all(solid.distance(other) > wall.joint_mm - wall.give_mm - ROUNDED_MM for other in near)
        filled = union_all(solids)
        assert filled.difference(body.buffer(ROUNDED_MM, join_style="mitre")).area < 1.0
        widest = wall.joint_mm + wall.give_mm + ROUNDED_MM
        assert not whole or body.difference(filled).buffer(-widest / 2, join_style="mitre").area < 1.0


def region(face: Face) -> Polygon:
    left, right = face.left_mm, face.right_mm
    line = [(left, face.line[0][1]), *face.line, (right, face.line[-1][1])]
    return Polygon([(left, 0), (right, 0), *reversed(line)]).buffer(0)


def on(layout: WallLayout, face: Face) -> list[Laid]:
    return [block for block in layout.blocks if block.face == face.number]


def solids_of(layout: WallLayout, face: Face) -> list[Polygon]:
    """Blocks, bought lintels and wedges of mortar."""
    return [Polygon(corners) for corners in (*(b.corners for b in on(layout, face)), *face.lintels, *face.mortar)]


def check_no_overlap(layout: WallLayout, face: Face) -> None:
    solids = solids_of(layout, face) + [Polygon(corners) for _, corners in (*face.returns, *face.openings)]
    tree = STRtree(solids)
    for index, solid in enumerate(solids):
        assert solid.is_valid
        for other in tree.query(solid):
            assert other <= index or solid.intersection(solids[other]).area < 1.0


def check_tiles(layout: WallLayout, face: Face, joint: float, give: float) -> None:
    """What no block, opening, neighbour or wedge covers is no wider than a joint."""
    solids = solids_of(layout, face)
    holes = union_all([Polygon(corners) for _, corners in face.openings])
    solids += [Polygon(corners) for _, corners in face.returns]
    wall = region(face)
    left_over = wall.difference(union_all(solids)).difference(holes)
    widest = joint + give + EXACT_MM
    opened = left_over.buffer(-widest / 2, join_style="mitre")
    assert opened.area < 1.0, opened.bounds
    assert union_all(solids).difference(wall.buffer(EXACT_MM)).area < 1.0


def check_joints(layout: WallLayout, face: Face, wall: WallPart) -> None:
    """Neighbours in a course stand a joint apart, as it may open or close, or have something between them."""
    rows: dict[tuple[int, float], list[tuple[float, float]]] = defaultdict(list)
    for block in on(layout, face):
        ends = [along for along, _ in block.corners]
        rows[block.course, block.corners[0][1]].append((min(ends), max(ends)))
    for row in rows.values():
        gaps = [two[0] - one[1] for one, two in itertools.pairwise(sorted(row))]
        off = [abs(gap - wall.joint_mm) for gap in gaps if gap < wall.joint_mm + wall.give_mm + 1]
        assert all(one <= wall.give_mm + 0.01 for one in off)


def laid(wall: WallPart) -> WallLayout:
    """A wall in blocks; none at all of one whose openings leave a sliver between them, which is refused in words."""
    try:
        return lay_wall(wall)
    except BadInput as fault:
        if "would be only" not in fault.what:
            raise
        reject()


def check(wall: WallPart) -> WallLayout:
    layout = laid(wall)
    skewest = max((abs(math.cos(math.radians(run.angle_deg))) for run in wall.outline), default=0.0)
    widest = wall.joint_mm / math.sqrt(1 - min(skewest, 0.5**0.5) ** 2)
    for face in layout.faces:
        check_no_overlap(layout, face)
        check_tiles(layout, face, widest, wall.give_mm)
        check_joints(layout, face, wall)
    for block in layout.blocks:
        if block.role.value != "lintel" or wall.lintel == "trough":
            assert 0 < block.shape.length_mm <= wall.block[0] + EXACT_MM
            assert block.shape.height_mm == wall.block[1]
    return layout


@given(straight_walls())
@settings(max_examples=60)
def test_a_straight_wall_is_tiled(wall: WallPart) -> None:
    check(wall)


@given(
    st.lists(st.tuples(*(st.integers(*ends) for ends in ((0, 5000), (0, 2400), (150, 1000), (200, 1500)))), max_size=4),
    st.sampled_from(["trough", "cast", "bought"]),
    st.sampled_from([2480, 2700, 3100]),
)
@example([(0, 0, 150, 200), (150, 0, 150, 231)], "cast", 2700)  # one narrower than the bearing of a lintel beside it
@example([(0, 85, 150, 200), (150, 85, 150, 200)], "trough", 2480)  # strips under two openings that touch
@settings(max_examples=60)
def test_openings_anywhere_are_refused_or_tiled(sizes, lintel, height) -> None:
    openings = tuple(
        Opening(name=f"o{index}", from_mm=start, sill_mm=sill, width_mm=wide, height_mm=high)
        for index, (start, sill, wide, high) in enumerate(sizes)
    )
    given_ = {"block": (600, 300, 200), "joint_mm": 10, "bond": "half", "lintel": lintel, "openings": openings}
    try:
        wall = WallPart(name="any", length_mm=6090, height_mm=height, **given_)
    except ValueError:
        return
    check(wall)


@given(buildings())
@settings(max_examples=15)
def test_a_building_is_tiled(wall: WallPart) -> None:
    check(wall)


PIERS = st.tuples(st.integers(0, 40), st.sampled_from([1.0, 1.4, 2.06, 2.6, 3.1, 5.0]), st.sampled_from([None, 100.0]))
"""Places along a wall in fortieths, widths in thicknesses of it, and projections."""


@given(straight_walls(), st.lists(PIERS, min_size=1, max_size=2))
@settings(max_examples=100)
def test_walls_with_piers_are_refused_or_tiled_and_blocks_laid_across_are_in_both(wall: WallPart, piers) -> None:
    given_ = {name: getattr(wall, name) for name in type(wall).model_fields}
    thick, long = wall.block[2], wall.length_mm or 0.0
    found = tuple(
        Pier(at_mm=at / 40 * max(0.0, long - wide * thick), width_mm=wide * thick, projection_mm=deep)
        for at, wide, deep in piers
    )
    try:
        layout = check(WallPart(**{**given_, "piers": found}))
    except ValueError:
        return
    ends = sorted((n, round(shape[1][0] - shape[0][0], 3)) for n, shape in layout.faces[0].returns)
    laid = [block for block in layout.blocks if block.face > 1 and block.shape.thickness_mm == wall.block[2]]
    deep = {round(wall.block[2] + wall.joint_mm + (one.projection_mm or wall.block[2]), 4) for one in found}
    wide = {block: round(block.corners[1][0] - block.corners[0][0], 3) for block in laid}
    across = [block for block in laid if block.shape.length_mm in deep and wide[block] < block.shape.length_mm]
    assert ends == sorted((block.course, wide[block]) for block in across)


@given(angled_walls())
@settings(max_examples=40)
def test_walls_at_any_angle_are_tiled_seen_from_above_too(wall: WallPart) -> None:
    check_from_above(wall, check(wall))


@given(st.sampled_from(BLOCKS), st.integers(4, 20), st.integers(2, 12), st.sampled_from(["half", "third", "stack"]))
def test_walls_of_whole_modules_need_no_sawing_and_keep_the_overlap(block, n_blocks, n_courses, bond) -> None:
    length, height = n_blocks * (block[0] + 10) - 10, n_courses * (block[1] + 10)
    wall = WallPart(name="any", length_mm=length, height_mm=height, block=block, joint_mm=10, bond=bond)
    layout = lay_wall(wall)
    assert not any(block.cut for block in layout.blocks)
    assert all(note.startswith("Caution: a wall that stands free") for note in layout.notes)
    assert layout.courses == n_courses


def test_a_gap_would_be_found() -> None:
    layout = lay_wall(
        WallPart(name="any", length_mm=6090, height_mm=3100, block=(600, 300, 200), joint_mm=10, bond="half")
    )
    holed = WallLayout(layout.blocks[1:], layout.courses, (), layout.faces, layout.volume_l)
    with pytest.raises(AssertionError):
        check_tiles(holed, holed.faces[0], 10, 2)


def test_no_header_stands_so_near_a_lintel_that_no_block_goes_between() -> None:
    """The lintel ends 12.9 mm before the pier: too wide for a joint, and no room for a block."""
    hatch = Opening(name="hatch", from_mm=2189.9, sill_mm=300.0, width_mm=323.0, height_mm=300.0)
    pier = Pier(at_mm=2725.8, width_mm=390.0)
    sides = {"block": (500.0, 250.0, 150.0), "joint_mm": 9.525, "length_mm": 3694.0, "height_mm": 785.0}
    wall = WallPart(name="any", lintel="cast", openings=(hatch,), piers=(pier,), **sides)
    assert not any(course == 4 for course, _ in check(wall).faces[0].returns)
