"""The age of a block that warms itself, at a minute, is the age it is then known to have reached."""

from __future__ import annotations

from datetime import date

import pytest

from blockrun.cure.aged import warm_age_h
from blockrun.cure.warm import Contents, WarmClock, cast_in
from blockrun.planner.plan import Plan
from blockrun.site import Site, Weather


@pytest.fixture
def site(small_plan: Plan) -> Site:
    curing = small_plan.site.curing.model_copy(update={"heat": "modelled"})
    weather = Weather(date(2027, 4, 5), ((4.0, 14.0),) * 7)
    return small_plan.site.model_copy(update={"curing": curing, "weather": weather})


@pytest.mark.parametrize("poured", [480, 487, 2000])
@pytest.mark.parametrize("age_h", [3.0, 12.0, 24.0, 70.0])
def test_age_and_clock_say_the_same(site: Site, poured: int, age_h: float) -> None:
    casts = [cast_in(site.moulds[0], 600, mix, site) for mix in (Contents(400, 200, 0), Contents(250, 180, 150))]
    ripe = WarmClock(site, casts).when(poured, age_h)
    assert warm_age_h(site, casts, poured, ripe) >= age_h - 1e-6
    assert warm_age_h(site, casts, poured, ripe - 1) < age_h


def test_a_block_just_poured_has_no_age(site: Site) -> None:
    cast = cast_in(site.moulds[0], 600, Contents(400, 200, 0), site)
    assert warm_age_h(site, [cast], 481, 490) == 0
