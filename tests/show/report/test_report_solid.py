"""Solids: every block's faces in their places, and only those that are turned to the eye."""

from __future__ import annotations

import json
import math
from typing import Final

import pytest

from blockrun.order.domes import DomePart
from blockrun.order.parts import layout_of
from blockrun.order.walls import Run, WallPart
from blockrun.planner.plan import Plan
from blockrun.show.report.bare import bare_edges
from blockrun.show.report.dealt import Cast, by_part, casts_of, dealt, named_parts
from blockrun.show.report.lives import Lives
from blockrun.show.report.solid import Solid, SolidBlock, dome_solid, wall_solid
from tests.show.report.read import Page

SQUARE: Final = ((0.0, 0.0), (590.0, 0.0), (590.0, 290.0), (0.0, 290.0))


def cube() -> SolidBlock:
    """Its outside face looks to the eye before it is turned; 100 mm a side."""
    outside = ((100.0, 0.0, 0.0), (100.0, 100.0, 0.0), (100.0, 100.0, 100.0), (100.0, 0.0, 100.0))
    inside = tuple((x - 100, y, z) for x, y, z in outside)
    return SolidBlock(0, 0, 1, "cube", outside, inside, [0, 1, 2, 3])


@pytest.fixture
def one() -> Solid:
    return Solid("", "", (cube(),), (), shell=False)


def test_of_a_cube_from_the_front_one_face_is_seen(one: Solid) -> None:
    assert [face.outside for face in one.seen(turn_deg=0, tilt_deg=0)] == [True]


def test_of_a_cube_from_above_its_top_is_seen_too(one: Solid) -> None:
    assert [face.outside for face in one.seen(turn_deg=0, tilt_deg=30)] == [True, False]


@pytest.mark.parametrize("turn", [-150, -60, 30, 120])
def test_of_a_cube_from_a_corner_three_faces_are_seen(one: Solid, turn: float) -> None:
    assert len(one.seen(turn_deg=turn, tilt_deg=30)) == 3


def test_half_a_turn_shows_the_inside(one: Solid) -> None:
    assert [face.outside for face in one.seen(turn_deg=180, tilt_deg=0)] == [False]


# bare edges


def test_edges_in_a_joint_are_not_bare() -> None:
    beside = tuple((x + 600, y) for x, y in SQUARE)
    assert bare_edges([SQUARE, beside]) == [[0, 2, 3], [0, 1, 2]]


def test_an_edge_over_two_blocks_is_not_bare_though_it_lies_over_their_joint() -> None:
    above = [tuple((x + move, y + 300) for x, y in SQUARE) for move in (-300, 300)]
    assert 2 not in bare_edges([SQUARE, *above])[0]


def test_an_edge_is_not_bare_where_another_wall_goes_through() -> None:
    end = tuple((x + 600, y) for x, y in SQUARE)
    assert bare_edges([SQUARE], [end]) == [[0, 2, 3]]


# the parts of the plan


@pytest.fixture
def dome(drawn_plan: Plan) -> Solid:
    return _solids(drawn_plan)["oven"]


def _solids(plan: Plan) -> dict[str, Solid]:
    lives = Lives(plan.tables.casts)
    casts, found = by_part(casts_of(plan, lives)), dict[str, Solid]()
    for name, part in named_parts(plan):
        if isinstance(part, DomePart | WallPart):
            layout, placed = layout_of(part, tuple(plan.site.moulds)), dealt(plan, part, casts[name])
            make = dome_solid if isinstance(part, DomePart) else wall_solid
            solid = make(part, layout, placed, lives)  # type: ignore[operator]
            if solid:
                found[name] = solid
    return found


def test_blocks_of_a_dome_lie_on_its_two_faces(dome: Solid) -> None:
    """A hemisphere of 3 m inside, 200 mm thick, on the floor; edges of straight blocks a few mm off the curve."""
    for block in dome.blocks:
        assert all(math.hypot(*place) == pytest.approx(1500, abs=12) for place in block.inside)
        assert all(math.hypot(*place) == pytest.approx(1700, abs=30) for place in block.outside)


def test_every_block_of_a_dome_is_seen_from_some_side(dome: Solid) -> None:
    seen = {id(face.block) for turn in range(-180, 180, 45) for face in dome.seen(turn, 30) if face.outside}
    assert len(seen) == len(dome.blocks)


def test_nothing_is_drawn_outside_of_the_picture(drawn_plan: Plan) -> None:
    for solid in _solids(drawn_plan).values():
        for turn in range(-180, 180, 60):
            for tilt in (0, 30, 60):
                for face in solid.seen(turn, tilt):
                    first = face.path[1:].partition("l")[0].partition("h")[0].partition("v")[0].split()
                    x, y = map(int, first)
                    assert 0 <= x <= solid.width
                    assert 0 <= y <= solid.height


def test_a_building_is_a_solid_without_its_piers_and_a_straight_wall_is_none(drawn_plan: Plan) -> None:
    solids = _solids(drawn_plan)
    assert solids.keys() == {"oven", "shed"}
    assert solids["shed"].said.endswith("Its piers are left out.")
    xs = [x for block in solids["shed"].blocks for x, _, _ in block.outside]
    ys = [y for block in solids["shed"].blocks for _, y, _ in block.outside]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((1200, 1800), abs=1)


def test_a_wall_with_free_ends_stands_on_its_runs(small_plan: Plan) -> None:
    runs = (Run(name="front", length_mm=3000), Run(name="side", length_mm=2000))
    given = {"name": "bay", "height_mm": 620, "block": (600, 300, 200), "joint_mm": 10, "closed": False}
    bay = WallPart.model_validate({**given, "outline": runs})
    layout, lives = layout_of(bay), Lives(small_plan.tables.casts)
    placed = [(block, Cast(1, "bay", block.course, "W", "light", "gang-2/01", 1, 0)) for block in layout.blocks]
    solid = wall_solid(bay, layout, placed, lives)
    assert solid is not None
    assert len(solid.blocks) == len(layout.blocks)
    assert len(solid.floor) == 6
    assert solid.floor_seen().startswith("M")


def test_the_page_has_solids_only_where_they_are_asked_for(drawn_page: Page, solid_page: Page) -> None:
    assert list(drawn_page.root.all("figure", class_="solid")) == []
    figures = list(solid_page.root.all("figure", class_="solid"))
    assert len(figures) == 2
    told = json.loads(figures[0].one("script").words)
    assert len(told["lives"]) == len(told["outside"]) == len(told["bare"]) == 206
