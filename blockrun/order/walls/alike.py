"""Lengths of blocks that differ by less than their joints can take up become one; the joints take the rest."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blockrun.order.laid import Role
from blockrun.order.walls.course import Piece
from blockrun.order.walls.heights import Course

DUST_MM: Final = 1e-3
"""What two lengths may differ by in arithmetic alone; no block is moved for it."""


@dataclass(frozen=True)
class Spot:
    """Where a block is to lie in a run.

    Parameters
    ----------
    course, piece : in which it lies.
    ends : from where to where.
    role : what it is for.
    moves : whether there is a joint of the row beside its left and its right end, which can take up some of it.
    room_mm : by how much its length may change.
    """

    course: Course
    piece: Piece
    ends: tuple[float, float]
    role: Role
    moves: tuple[bool, bool]
    room_mm: float

    @property
    def cast_mm(self) -> float:
        """Length of what is cast for it: its longer face."""
        return self.ends[1] - self.ends[0] + sum(max(0.0, skew) for skew in self.piece.skews_of(self.ends))

    @property
    def reach_mm(self) -> float:
        """How far from its own length it may be cast."""
        return max(self.room_mm, DUST_MM) if any(self.moves) else DUST_MM

    def as_long_as(self, cast_mm: float) -> Spot:
        """The spot of a block of another length: about the same middle, or from the end that stays."""
        if not any(self.moves):
            return self
        each = (cast_mm - self.cast_mm) / sum(self.moves)
        left, right = self.ends
        return replace(self, ends=(left - each * self.moves[0], right + each * self.moves[1]))


def alike(spots: Collection[Spot], known_mm: Collection[float], step_mm: float) -> dict[float, float]:
    """What to cast for each length of a wall: as few lengths as may be.

    Parameters
    ----------
    spots : all of the wall's.
    known_mm : lengths that are cast anyway: whole blocks and the parts that the bond needs.
    step_mm : lengths are whole steps of it where they can be.
    """
    reaches: dict[float, float] = {}
    for spot in spots:
        length = spot.cast_mm
        reaches[length] = min(spot.reach_mm, reaches.get(length, spot.reach_mm))
    chosen: dict[float, float] = {}
    for length, reach in reaches.items():
        known = min(known_mm, key=lambda one: abs(one - length))
        if abs(known - length) <= reach:
            chosen[length] = known
    for group in _groups((length, reach) for length, reach in reaches.items() if length not in chosen):
        chosen.update(dict.fromkeys((length for length, _ in group), _within(group, step_mm)))
    return chosen


def _groups(lengths: Iterable[tuple[float, float]]) -> Iterator[list[tuple[float, float]]]:
    """Lengths with their reach, in as few groups as there can be that have a length in reach of all."""
    group: list[tuple[float, float]] = []
    for length, reach in sorted(lengths, key=lambda one: one[0] - one[1]):
        if group and length - reach > min(sum(one) for one in group):
            yield group
            group = []
        group.append((length, reach))
    if group:
        yield group


def _within(group: Sequence[tuple[float, float]], step_mm: float) -> float:
    """A length in reach of all of a group: a whole step nearest to the middle of what they allow, if there is one."""
    low, high = max(one - reach for one, reach in group), min(one + reach for one, reach in group)
    middle = (low + high) / 2
    whole = round(middle / step_mm) * step_mm
    return whole if low <= whole <= high else middle
