"""The examples are what they promise: hard enough to be of interest, and all of them readable."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Final

import pytest

from blockrun.order import DomePart, ListPart, Order, OrderLine, WallPart, load_order, takeoff
from blockrun.order.castable import castable
from blockrun.order.no_mould import check_castable
from blockrun.site import Site, load_site

EXAMPLES: Final = Path(__file__).parent.parent / "examples"
DEMO, LIST, SLABS = "demo", "list", "slabs"


@pytest.fixture(scope="module", params=[DEMO, LIST])
def example(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def site(example: str) -> Site:
    return load_site(EXAMPLES / example / "site.yaml")


@pytest.fixture(scope="module")
def order(example: str) -> Order:
    return load_order(EXAMPLES / example / "order.yaml")


@pytest.fixture(scope="module")
def lines(site: Site, order: Order) -> list[OrderLine]:
    return takeoff(order, site.calendar, site.moulds)


def test_every_example_is_looked_at() -> None:
    assert {path.name for path in EXAMPLES.iterdir()} == {DEMO, LIST, SLABS}


@pytest.mark.parametrize("example", [DEMO, LIST, SLABS])
def test_it_says_that_it_is_invented(example: str) -> None:
    for name in ("site.yaml", "order.yaml"):
        assert "invented" in (EXAMPLES / example / name).read_text(encoding="utf-8").splitlines()[0]


def test_the_demo_builds_a_list_a_wall_with_openings_and_a_dome_on_a_stem() -> None:
    parts = load_order(EXAMPLES / DEMO / "order.yaml").parts
    dome, listed, wall = sorted(parts, key=lambda part: type(part).__name__)
    assert isinstance(listed, ListPart)
    assert isinstance(wall, WallPart)
    assert isinstance(dome, DomePart)
    assert len(wall.openings) == 2
    assert dome.stem_mm > 0
    assert dome.openings


def test_the_list_has_six_sizes() -> None:
    lines = takeoff(load_order(EXAMPLES / LIST / "order.yaml"))
    assert len({(line.length_mm, line.height_mm, line.thickness_mm) for line in lines}) == 6


def test_the_slabs_are_needed_and_one_mould_takes_what_is_left() -> None:
    site, order = (
        load(EXAMPLES / SLABS / name) for load, name in ((load_site, "site.yaml"), (load_order, "order.yaml"))
    )
    lines = takeoff(order, site.calendar, site.moulds)
    check_castable(site, lines)
    assert any(not castable(kind, line) for line in lines for kind in site.moulds if not kind.saw)
    assert [kind.filler for kind in site.moulds].count(True) == 1


def test_it_asks_for_some_hundred_blocks_in_two_mixes_each_with_its_date(lines: list[OrderLine]) -> None:
    assert 300 <= sum(line.count for line in lines) <= 500
    assert len({line.mix for line in lines}) == 2
    assert all(line.needed for line in lines)


def test_it_has_three_kinds_of_mould_one_with_bases_and_each_is_of_use(site: Site, lines: list[OrderLine]) -> None:
    assert len(site.moulds) == 3
    assert [kind.bases is not None for kind in site.moulds].count(True) == 1
    assert all(any(castable(kind, line) for line in lines) for kind in site.moulds)
    check_castable(site, lines)


def test_a_cold_week_stops_the_pouring(site: Site) -> None:
    first = site.calendar.start
    cold = [day for n in range(28) if site.weather.day(day := first + timedelta(n)).min_c < site.curing.least_air_c]
    assert 4 <= len(cold) <= 7
    assert (cold[-1] - cold[0]).days == len(cold) - 1
    assert cold[0] > first


def test_cement_runs_out_without_the_delivery(site: Site, lines: list[OrderLine]) -> None:
    cement = site.stock.cement
    least_kg = sum(line.volume_l * line.count for line in lines) / 1000 * 500
    assert cement.on_hand_bags * cement.bag_kg < least_kg
    (delivery,) = cement.deliveries
    assert delivery.day > site.calendar.start
