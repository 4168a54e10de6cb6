"""Bench yards are yards that a builder could have written down, and always the same."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from blockrun.order import Order, load_order, takeoff
from blockrun.site import Site, load_site
from tests.bench.yards import KINDS, SIZES, bench_yard, bench_yards

NAMES = [(size, seed) for size in SIZES for seed in KINDS]


def read(size: str, seed: int, folder: Path) -> tuple[Site, Order]:
    site, order = bench_yard(size, seed).write(folder)
    return load_site(site), load_order(order)


def test_there_are_thirty_of_three_sizes_and_four_kinds() -> None:
    yards = list(bench_yards())
    assert len({yard.name for yard in yards}) == 30
    assert {(yard.size, yard.kind) for yard in yards} == {(s, k) for s in SIZES for k in KINDS.values()}


@pytest.mark.parametrize(("size", "seed"), NAMES)
def test_a_yard_orders_as_many_blocks_in_as_many_formats_as_its_size_says(size: str, seed: int, tmp_path: Path) -> None:
    site, order = read(size, seed, tmp_path)
    lines = takeoff(order, site.calendar)
    assert sum(line.count for line in lines) == SIZES[size].blocks
    formats = {(line.mix, line.length_mm, line.height_mm, line.thickness_mm) for line in lines}
    assert len(formats) == SIZES[size].formats


@pytest.mark.parametrize(("size", "seed"), NAMES)
def test_a_yard_is_the_same_whenever_it_is_drawn(size: str, seed: int) -> None:
    assert bench_yard(size, seed).files == bench_yard(size, seed).files


@pytest.mark.parametrize("size", SIZES)
def test_cold_yards_have_frost_and_the_others_none(size: str, tmp_path: Path) -> None:
    for seed, kind in KINDS.items():
        site, _ = read(size, seed, tmp_path / str(seed))
        days = (site.weather.last - site.calendar.start).days + 1
        lows = [site.weather.day(site.calendar.start + timedelta(days=day)).min_c for day in range(days)]
        assert (min(lows) < site.curing.least_air_c) == (kind == "cold")


@pytest.mark.parametrize("size", SIZES)
def test_full_yards_have_all_that_a_yard_can_have(size: str, tmp_path: Path) -> None:
    site, order = read(size, 8, tmp_path)
    assert len(site.mixers) == 2
    assert len(order.mixes) == 2
    assert any(kind.bases for kind in site.moulds)
    assert any(kind.saw for kind in site.moulds)
    assert site.calendar.closed
    assert site.crew.absences
    assert site.chores
    assert site.test_cubes
    assert site.stock.cement.deliveries
