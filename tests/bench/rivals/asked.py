"""A yard in whole numbers, and the foreman's plan of it: where rivals that solve a model begin."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from pathlib import Path

from blockrun.order import Order, load_order
from blockrun.planner.brief import Brief, brief
from blockrun.site import Site, load_site
from tests.bench.ledger import MINUTES_A_DAY
from tests.bench.rule import Worked, ways_with, well_played


@dataclass(frozen=True)
class Asked:
    """What is asked, within the days of a plan that is known, and some more."""

    site: Site
    order: Order
    worked: Worked
    brief: Brief
    until: float

    @property
    def left_s(self) -> float:
        """Seconds left."""
        return max(0.0, self.until - time.monotonic())


def ask(
    site_file: Path, order_file: Path, seconds: float, *, age_step_min: int = 1, cubes_in_all: bool = False
) -> Asked:
    """Read a yard, let the foreman play for a fifth of the time, and count in whole numbers.

    Raises
    ------
    NoWayError : the foreman finds no plan.
    """
    began = time.monotonic()
    site, order = load_site(site_file), load_order(order_file)
    worked = well_played(
        site,
        order,
        ways=[
            replace(way, age_step_min=age_step_min, cubes_in_all=cubes_in_all) for way in ways_with(len(site.mixers))
        ],
        stop=lambda: time.monotonic() > began + seconds,
        enough=lambda: time.monotonic() > began + 0.2 * seconds,
    )
    last = max(turn.cleaned or 0 for turn in worked.turns) // MINUTES_A_DAY
    return Asked(site, order, worked, brief(site, order, last + 8), began + seconds)
