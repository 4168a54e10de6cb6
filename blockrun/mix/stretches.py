"""Batches of the same lots in a row, set apart from those before: another lot is another mix."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.mix.records import Record

CEMENT: Final = "cement"
AGENT: Final = "agent"


@dataclass(frozen=True)
class Change:
    """A lot with which a stretch begins.

    Parameters
    ----------
    what : `CEMENT` or `AGENT`.
    lot, before : its name, and that of the lot before; the latter may be empty.
    batch : the first of it.
    is_new : whether no batch before was of it.
    is_tried : whether a trial of it stands before its first batch.
    """

    what: str
    lot: str
    before: str
    batch: str
    is_new: bool
    is_tried: bool


@dataclass(frozen=True)
class Stretch:
    """Batches in a row, their lots by what they are of, and with which of them it begins; none at the very start."""

    records: tuple[Record, ...]
    lots: tuple[tuple[str, str], ...]
    changes: tuple[Change, ...]


def stretches(records: Iterable[Record], kinds: Sequence[str]) -> list[Stretch]:
    """Take batches apart wherever a lot changes.

    Parameters
    ----------
    records : in the order they were mixed, trials among them; a trial is in no stretch.
    kinds : `CEMENT`, `AGENT` or both: whose lots matter.

    Returns
    -------
    At least one batch each, in their order.
    """
    found: list[Stretch] = []
    tried: set[tuple[str, str]] = set()
    drawn: set[tuple[str, str]] = set()
    for record in records:
        lots = tuple((kind, record.lot_of(kind)) for kind in kinds)
        if record.is_trial:
            tried.update(lots)
        elif found and found[-1].lots == lots:
            found[-1] = Stretch((*found[-1].records, record), lots, found[-1].changes)
        else:
            before = dict(found[-1].lots) if found else dict(lots)
            changes = tuple(
                Change(kind, lot, before[kind], record.batch, (kind, lot) not in drawn, (kind, lot) in tried)
                for kind, lot in lots
                if lot != before[kind]
            )
            found.append(Stretch((record,), lots, changes))
            drawn.update(lots)
    return found
