"""A plan of any building passes the audit: walls with openings and a dome, by a yard with moulds that fit them."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random

import pytest

from blockrun.order import DomePart, MixSpec, Need, Order, WallPart, takeoff
from blockrun.order.domes import DomeOpening
from blockrun.order.walls import Opening
from blockrun.planner.audit import audit
from blockrun.planner.make import make_plan
from blockrun.site import Cement, FoamingAgent, MouldKind, Rack, Site, Stock
from tests.yards import a_yard

WALL = MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5)


def a_building(seed: int) -> tuple[Site, Order]:
    """A wall and a small dome, and a yard that can cast them."""
    rng = Random(seed)
    site = a_yard(seed).site
    length, courses = rng.choice((2400.0, 3000.0, 3590.0)), rng.randint(1, 3)
    start = site.calendar.start + timedelta(days=rng.randint(20, 60))
    need = Need(from_day=start, courses_a_day=Fraction(1))
    wall = WallPart(
        name="north",
        length_mm=length,
        height_mm=310.0 * courses - 10,
        block=(600.0, 300.0, 200.0),
        joint_mm=10.0,
        bond=rng.choice(("half", "third")),
        mix="wall",
        openings=(Opening(name="hatch", from_mm=700.0, sill_mm=310.0, width_mm=600.0, height_mm=300.0),)
        if courses > 2
        else (),
        needed=need,
    )
    door = rng.random() < 0.5
    dome = DomePart(
        name="store",
        inside_diameter_mm=rng.choice((1400.0, 1600.0)),
        stem_mm=630.0 if door else 0.0,
        thickness_mm=150.0,
        course_mm=200.0,
        block_length_mm=400.0,
        joint_mm=10.0,
        joint_most_mm=60.0,
        blocks=rng.choice(("best", "plain", "tapered")),
        mix="wall",
        openings=(DomeOpening(name="door", width_mm=600.0, height_mm=900.0),) if door else (),
        needed=rng.choice((need, None)),
    )
    order = Order(name="building", mixes=(WALL,), spares=Decimal("0.05"), parts=(wall, dome))
    stock = Stock(cement=Cement(bag_kg=25.0, on_hand_bags=500), foaming_agent=FoamingAgent(on_hand_l=100.0))
    yard = {"moulds": _moulds(order), "racks": (Rack(name="east", places=200),), "stock": stock}
    return site.model_copy(update=yard), order


def _moulds(order: Order) -> tuple[MouldKind, ...]:
    """A mould with stop-ends for each height, thickness and lean of the order's blocks."""
    needed: dict[tuple[float, ...], float] = {}
    for line in takeoff(order):
        key = (line.height_mm, line.thickness_mm, line.bevel_deg, line.taper_deg, line.bed_deg)
        needed[key] = max(needed.get(key, 0.0), line.length_mm)
    return tuple(
        MouldKind(
            kind=f"kind-{number}",
            count=2,
            cavities=4,
            cavity=(length, height, thickness),
            stop_ends=True,
            wedges_deg=tuple({0.0, bevel}),
            tapers_deg=tuple({0.0, taper}),
            bed_wedges_deg=tuple({0.0, bed}),
            strip_time_min=10,
            clean_time_min=8,
        )
        for number, ((height, thickness, bevel, taper, bed), length) in enumerate(sorted(needed.items()))
    )


@pytest.mark.parametrize("seed", [5, 8, 10, 13])
def test_a_plan_of_a_building_passes_the_audit(seed: int) -> None:
    site, order = a_building(seed)
    plan = make_plan(site, order, rounds=0)
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []
    assert plan.totals["blocks"] == sum(line.count for line in takeoff(order, moulds=site.moulds))
