"""Batches of a plan that are set apart by all that is recorded, under its own numbers, for what is made of the plan."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockrun.yard.journal import standing
from blockrun.yard.now import state_of
from blockrun.yard.ready.apart import blocks_apart
from blockrun.yard.record.known import Known

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry


def batches_apart(plan: AsPlanned, entries: Iterable[Entry]) -> frozenset[int]:
    """Those outside their cards for which nothing speaks, and of which blocks are yet to be laid.

    Parameters
    ----------
    plan : the one in hand.
    entries : of its journal.
    """
    told = standing(entries)
    if not told:
        return frozenset()
    state = state_of(told)
    apart = Known(plan, state, told[-1].happened, told, counted=told).apart
    numbers = (plan.number_of_pour(*pour) for pour in blocks_apart(state, apart))
    return frozenset(number for number in numbers if number is not None)
