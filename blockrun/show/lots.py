"""Words for cement or foaming agent of another lot, or of what may be one: a trial comes before its first batch."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.show.manned import is_manned
from blockrun.show.page import glued

if TYPE_CHECKING:
    from blockrun.mix.stretches import Change
    from blockrun.planner.lots import NewLot
    from blockrun.site import Site

_LOOK: Final = "looked at after an hour"
"""For so long air escapes from a mix that does not hold it: ``blockrun trial`` asks for that look."""


def trial_asked(new: NewLot) -> str:
    """Ask for a trial at the head of the day on which a lot is first drawn.

    Returns
    -------
    Such as ``TRIAL before the first batch, looked at after an hour: cement of another lot (B7) from batch 12.``
    """
    return f"TRIAL before the first batch, {_tried_how(new)}."


def trial_in_time(new: NewLot) -> str:
    """Say at the head of an earlier day that the trial can be made on it.

    Returns
    -------
    Such as ``TRIAL can be made today, looked at after an hour: cement of another lot (B7) from batch 12 on Fri 9 Apr.``
    """
    return f"TRIAL can be made today, {_tried_how(new)} on {glued(day_name(new.day))}."


def _tried_how(new: NewLot) -> str:
    supply, batch = new.supply, glued(f"batch {new.batch}")
    if new.is_sure:
        return f"{_LOOK}: {new.material} of another lot ({supply.lot}) from {batch}"
    lot = f" ({supply.lot})" if supply.lot else ""
    came = f" delivered {day_name(supply.day)}" if supply.day else ""
    return f"{_LOOK}, if it is of another lot: {new.material}{came}{lot}, from {batch}"


def trial_day(new: NewLot, site: Site) -> date | None:
    """The first day of work from the delivery on that ends before the first batch of it; None where there is none."""
    came = new.supply.day
    days = (came + timedelta(days=n) for n in range((new.day - came).days)) if came else ()
    return next((day for day in days if is_manned(day, site)), None)


def trial_due(new: NewLot) -> str:
    """Say the same beside its supply: ``trial before batch 12``."""
    if_other = "" if new.is_sure else ", if of another lot"
    return f"trial before {glued(f'batch {new.batch}')}{if_other}"


def change_said(change: Change) -> str:
    """Say with which lot a stretch of batches begins, and whether a trial of it is recorded.

    Returns
    -------
    Such as ``cement lot B7 from batch 21 on, A1 before it: no trial recorded.``
    """
    before = f", {change.before} before it" if change.before else ""
    tried = "a trial is recorded" if change.is_tried else "no trial recorded"
    known = tried if change.is_new else "in use before"
    return f"{change.what} lot {change.lot} from {glued(f'batch {change.batch}')} on{before}: {known}."
