"""Days of the site that lie before the first one planned: left over from a job before, or mistyped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.planner.placed import at
from blockrun.site.stock import Delivery, Stock

if TYPE_CHECKING:
    from datetime import date

    from blockrun.site import Site


def check_deliveries(site: Site) -> None:
    """Refuse deliveries before the start: what came by then is on hand, and would be counted twice.

    Only for a plan from the start: one made anew takes its stock from what was recorded.

    Raises
    ------
    BadInput : with a fault for each such delivery.
    """
    start = site.calendar.start
    faults = [
        at(site, _came_before(delivery, start), "stock", material, "deliveries", ("day", str(delivery.day)), "day")
        for material, delivery in _deliveries(site.stock)
        if delivery.day < start
    ]
    if faults:
        raise BadInput.of(faults)


def _deliveries(stock: Stock) -> Iterator[tuple[str, Delivery]]:
    """Each with the key of what it brings."""
    for material in type(stock).model_fields:
        kept = getattr(stock, material)
        yield from ((material, delivery) for delivery in (kept.deliveries if kept else ()))


def _came_before(delivery: Delivery, start: date) -> BadInput:
    return BadInput(
        f"this delivery comes on {delivery.day}, before the calendar starts on {start}: what is there at the start "
        "is on_hand, and it would be counted twice",
        "Take it out (and see that on_hand has it, if it came), or write the day on which it comes.",
        name="day",
        value=str(delivery.day),
        limit=str(start),
    )


def left_out(site: Site) -> Iterator[str]:
    """Say which days away and closed count for nothing."""
    start = site.calendar.start
    days = {"away": set(site.crew.away), "closed": set(site.calendar.closed)}
    before = {key: sorted(day for day in all_of if day < start) for key, all_of in days.items()}
    told = [f"{key} on {', '.join(map(str, of_key))}" for key, of_key in before.items() if of_key]
    if told:
        yield f"Before the start, {start}, and so left out: {'; '.join(told)}. Is the year right?"
