"""What is to be cast: the blocks of an order and its spares, and what moulds and mixers see of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import astuple
from typing import TYPE_CHECKING

from blockrun.order import Order, OrderLine, spares, takeoff
from blockrun.planner.begun.lines import lines_left, soonest_first, spares_begun

if TYPE_CHECKING:
    from blockrun.planner.begun import Begun
    from blockrun.site import Site

FormatKey = tuple[str, float, float, float, float, float, float]
"""Mix, length, height, thickness, and how far the faces lean."""


def format_of(line: OrderLine) -> FormatKey:
    """What moulds and mixers see of a block."""
    return (line.mix, *astuple(line.shape))


def wanted(site: Site, order: Order, begun: Begun | None = None) -> tuple[OrderLine, ...]:
    """Ordered blocks, soonest needed first, then the spares; where a job has begun, with what came of it so far."""
    ordered = takeoff(order, site.calendar, site.moulds)
    soonest = soonest_first(ordered)
    if begun is None:
        return (*soonest, *spares(order, ordered))
    left = lines_left(soonest, begun)
    return (*left, *spares_begun(ordered, left, begun))


def by_format(lines: Iterable[OrderLine]) -> dict[FormatKey, list[OrderLine]]:
    """Lines of each format, each mix by itself, biggest blocks first."""
    found: dict[FormatKey, list[OrderLine]] = defaultdict(list)
    for line in lines:
        found[format_of(line)].append(line)
    return {key: found[key] for key in sorted(found, key=lambda key: (key[0], -key[1] * key[2] * key[3], key))}
