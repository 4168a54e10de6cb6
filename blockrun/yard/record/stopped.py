"""A batch poured on a day on which the weather stops every pour, by the air as it went, and as forecast."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.stopped import frost_before_strip, frost_said, why_stopped
from blockrun.yard.now import Pile, Standing

if TYPE_CHECKING:
    from blockrun.yard.journal.events import Fill, Poured
    from blockrun.yard.ready.ripe import Ripe


def pour_stopped(event: Poured, at: datetime, ripe: Ripe) -> Iterator[str]:
    """What of the weather the site does not allow: too hot or too wet that day, too cold until the strip.

    Parameters
    ----------
    at : when it was poured; before the plan begins nothing is known.
    ripe : in the air as it went.
    """
    site, day = ripe.site, at.date()
    if day < site.calendar.start or not event.filled:
        return
    if why := why_stopped(site, day):
        yield f"the site lets nothing be poured that day: {why}."
    strips = [ripe.strip(_fresh(fill, at)) for fill in event.filled]
    last = max((strip.date() for strip in strips if strip is not None), default=day)
    if (cold := frost_before_strip(site, day, last)) is not None:
        yield f"too cold to pour: {frost_said(site, cold)}. Cover and warm these moulds; strip none without a thumb."


def _fresh(fill: Fill, at: datetime) -> Standing:
    """A mould just filled."""
    return Standing(fill.mould, fill.base, Pile(), "", at, bool(fill.base))
