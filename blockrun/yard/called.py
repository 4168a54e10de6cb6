"""What a batch that was recorded is called: by the number that the plan in hand has for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from blockrun.yard.now import UNKNOWN, BatchNo

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import Clash


class Name(NamedTuple):
    """What a batch is called.

    Attributes
    ----------
    number : behind its kind or alone: ``7``, ``extra 1``.
    whole : ``batch 7``, ``extra batch 1``.
    """

    number: str
    whole: str


Called = Callable[[BatchNo, datetime | None], Name]
"""What a batch is called, or one pour of it where that is told."""


def batch_name(batch: BatchNo, plan: AsPlanned, poured: datetime | None = None) -> Name:
    """What a plan calls a batch: by its number there, as an extra one of no plan, or as ``2 of another plan``.

    Parameters
    ----------
    poured : the pour that is meant, of a batch that may have been poured several times.
    """
    digits, number = batch
    ours = plan.number_of(batch) if poured is None else plan.number_of_pour(batch, poured)
    if ours:
        return _planned(f"{ours}")
    return _planned(f"{number} of another plan") if digits else _extra(number)


def batch_said(batch: BatchNo, plan: AsPlanned, poured: datetime | None = None) -> str:
    """The number that a plan has for a batch, ``extra 1`` for one of no plan, or ``2 of another plan``."""
    return batch_name(batch, plan, poured).number


def called_in(plan: AsPlanned) -> Called:
    """What a plan calls them."""
    return lambda batch, poured: batch_name(batch, plan, poured)


def as_recorded(batch: BatchNo, _: datetime | None) -> Name:
    """The number under which a batch was recorded, where no plan tells of it."""
    digits, number = batch
    return _planned(f"{number}") if digits else _extra(number)


def _planned(number: str) -> Name:
    return Name(number, f"batch {number}")


def _extra(number: int) -> Name:
    return Name(f"extra {number}", f"extra batch {number}")


def clash_said(clash: Clash, plan: AsPlanned) -> str:
    """What speaks against an entry, with the batches that it tells of."""
    batches = " or ".join(batch_said(batch, plan) for batch in clash.of if batch != UNKNOWN)
    return f"{clash.what}{f', of batch {batches}' * bool(batches)}"
