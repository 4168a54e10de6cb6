"""What a batch that was recorded is called: by the number that the plan in hand has for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.yard.now import UNKNOWN, BatchNo

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import Clash

Called = Callable[[BatchNo, datetime | None], str]
"""What a batch is called, or one pour of it where that is told."""


def batch_said(batch: BatchNo, plan: AsPlanned, poured: datetime | None = None) -> str:
    """The number that a plan has for a batch, ``extra 1`` for one of no plan, or ``2 of another plan``.

    Parameters
    ----------
    poured : the pour that is meant, of a batch that may have been poured several times.
    """
    digits, number = batch
    ours = plan.number_of(batch) if poured is None else plan.number_of_pour(batch, poured)
    if ours:
        return str(ours)
    return f"{number} of another plan" if digits else f"extra {number}"


def called_in(plan: AsPlanned) -> Called:
    """What a plan calls them."""
    return lambda batch, poured: batch_said(batch, plan, poured)


def as_recorded(batch: BatchNo, _: datetime | None) -> str:
    """The number under which a batch was recorded, where no plan tells of it."""
    digits, number = batch
    return f"{number}" if digits else f"extra {number}"


def named(said: str) -> str:
    """``batch 7``, or ``extra batch 1``."""
    return f"extra batch {said.removeprefix('extra ')}" if said.startswith("extra ") else f"batch {said}"


def clash_said(clash: Clash, plan: AsPlanned) -> str:
    """What speaks against an entry, with the batches that it tells of."""
    batches = " or ".join(batch_said(batch, plan) for batch in clash.of if batch != UNKNOWN)
    return f"{clash.what}{f', of batch {batches}' * bool(batches)}"
