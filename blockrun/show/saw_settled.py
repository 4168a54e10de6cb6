"""Saw plans for an order before there is a plan of its days."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.planner.sawing import settle_sawing
from blockrun.planner.wanted import wanted

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.sawing import Sawing
    from blockrun.site import Site


def settled(site: Site, order: Order) -> Sawing:
    """The saw plans that a plan of this order on this site would have."""
    return settle_sawing(site, order, wanted(site, order))
