"""All blocks there are, by where they are and since when they may be laid."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.morning import NEVER
from blockrun.yard.now import Kind, Lot, Pour, State

if TYPE_CHECKING:
    from blockrun.yard.ready.ripe import Ripe

STACKED = "stacked"


@dataclass
class Supply:
    """Blocks of one kind, of one batch and in one place, yet to be given to courses.

    Attributes
    ----------
    where : in words.
    lay_from : since when they may be laid; None where that is not known.
    n_blocks : how many are left.
    is_apart : they are of a batch outside its card, and not to be laid whatever their age.
    """

    kind: Kind
    where: str
    lay_from: datetime | None
    lot: Lot
    n_blocks: int
    is_apart: bool = False

    @property
    def said(self) -> str:
        """Where they are, and whether they are outside their card."""
        return f"{self.where}, outside the card" if self.is_apart else self.where

    @property
    def order(self) -> tuple[datetime, datetime]:
        """The soonest ready first, then the oldest."""
        return self.lay_from or NEVER, self.lot.poured


def supplies(
    state: State,
    ripe: Ripe,
    strips: dict[str, datetime | None],
    at: datetime,
    apart: Container[Pour] = (),
) -> dict[Kind, list[Supply]]:
    """All blocks that may yet be laid, by kind, the soonest ready first.

    Parameters
    ----------
    strips : since when each mould with something in it may be stripped.
    at : now: what is to be done yet is done now at the soonest.
    apart : pours outside their cards, of which nothing is to be laid.
    """
    found: dict[Kind, list[Supply]] = {}
    for one in _all(state, ripe, strips, at):
        if one.lot.pour in apart:
            one.is_apart, one.lay_from = True, None
        found.setdefault(one.kind, []).append(one)
    for of_kind in found.values():
        of_kind.sort(key=lambda one: one.order)
    return found


def _all(state: State, ripe: Ripe, strips: dict[str, datetime | None], at: datetime) -> Iterator[Supply]:
    for where, pile in state.stacks.items():
        for kind, lot in pile.lots():
            yield _supply(kind, f"stacked at {where}" if where else STACKED, ripe.lay(lot), lot)
    for rack, pile in state.racks.items():
        for kind, lot in pile.lots():
            yield _supply(kind, f"on the {rack} rack", _later(ripe.off_rack(lot.since), ripe.lay(lot)), lot)
    for pile in state.out.values():
        for kind, lot in pile.lots():
            yield _supply(kind, "out of the mould", _later(ripe.off_rack(at), ripe.lay(lot)), lot)
    for place, here in state.moulds.items():
        strip = strips[place]
        off = None if strip is None else ripe.off_rack(max(strip, at))
        for kind, lot in here.blocks.lots():
            yield _supply(kind, "in moulds", _later(off, ripe.lay(lot)), lot)


def _supply(kind: Kind, where: str, lay_from: datetime | None, lot: Lot) -> Supply:
    return Supply(kind, where, lay_from, lot, lot.n_blocks)


def _later(one: datetime | None, other: datetime | None) -> datetime | None:
    return None if one is None or other is None else max(one, other)
